"""Readings and reasons for not taking them, in and out of the fitting file."""

from contextlib import suppress
from typing import Any, cast

from app.catalogue.catalogue import MEASUREMENTS
from app.catalogue.conditions import CONDITIONS
from app.catalogue.measurement import SIDES, Measurement, Side
from app.catalogue.reasons import REASONS
from app.fitting.entry import UNITS_ENTERED, Entry, NotUsable, read_entry, show_number
from app.fitting.field_text import number_text
from app.fitting.file_value import LONGEST_NAME, LONGEST_TEXT, FileValue, no_such
from app.fitting.reading import EnteredInError, NotTaken, Reading, Source

ROLES = ("practitioner", "assistant", "receptionist", "manager")
SOURCES: tuple[Source, ...] = ("typed", "instrument", "paper", "file")
SOURCE_LEFT_OUT: Source = "file"
"""Where a reading in a file came from when it does not say."""

READING_REQUIRED = ("measurement", "value")
READING_WORDS = {
    **dict.fromkeys(("instrument", "by", "text", "accepted_by", "replaces", "identity"), LONGEST_NAME),
    "note": LONGEST_TEXT,
}
"""Texts of a reading, and how many characters each may have."""
READING_OPTIONAL = (
    *("side", "method", "condition", "unit", "role", "at", "source", "proposed", "entered_in_error"),
    *READING_WORDS,
)
NOT_TAKEN_REQUIRED = ("measurement", "reason")
NOT_TAKEN_OPTIONAL = ("side", "pair", "detail", "by", "at")


def read_reading(value: FileValue, *, pair: int | None) -> Reading:
    """One reading object; `pair` is that of the pair it stands under, None at the top. Raises NotAFitting."""
    members = value.members(required=READING_REQUIRED, optional=READING_OPTIONAL)
    measurement = _measurement(members["measurement"])
    if measurement.off_pair != (pair is not None):
        where = (
            "belongs under a pair" if measurement.off_pair else "is no reading of a pair; put it in readings"
        )
        raise members["measurement"].refused(f"{measurement.key} {where}")
    entry = _entry(measurement, members)
    words = {key: members[key].words(longest=READING_WORDS[key]) for key in READING_WORDS if key in members}
    _refuse_other_text(measurement, entry, members)
    role = members["role"].one_of(ROLES) if "role" in members else None
    assumed = role == "assistant" and "accepted_by" not in words
    return Reading(
        measurement=measurement.key,
        value=entry.value,
        side=_side(measurement, value, members),
        method=_method(measurement, members),
        condition=_condition(members),
        pair=pair,
        role=role,
        at=members["at"].moment() if "at" in members else None,
        source=cast(Source, members["source"].one_of(SOURCES) if "source" in members else SOURCE_LEFT_OUT),
        proposed=members["proposed"].flag() if "proposed" in members else assumed,
        entered_in_error=_entered_in_error(members),
        **({"text": entry.text} | words),
    )


def write_reading(reading: Reading) -> dict[str, Any]:
    """The reading as an object of the fitting file: value in the measurement's own unit."""
    error = reading.entered_in_error
    assumed = reading.role == "assistant" and reading.accepted_by is None
    text = number_text(reading.value)
    document = {
        "measurement": reading.measurement,
        "side": reading.side,
        "method": reading.method,
        "condition": reading.condition,
        "value": file_number(reading.value),
        "unit": MEASUREMENTS[reading.measurement].unit,
        "text": reading.text if reading.text != text else None,
        "instrument": reading.instrument,
        "by": reading.by,
        "role": reading.role,
        "at": reading.at,
        "note": reading.note,
        "source": reading.source if reading.source != SOURCE_LEFT_OUT else None,
        "proposed": reading.proposed if reading.proposed != assumed else None,
        "accepted_by": reading.accepted_by,
        "entered_in_error": error and {"by": error.by, "at": error.at, "reason": error.reason},
        "replaces": reading.replaces,
        "identity": reading.identity,
    }
    return {key: value for key, value in document.items() if value is not None}


def read_not_taken(value: FileValue) -> NotTaken:
    """One reason for not taking a measurement. Raises NotAFitting."""
    members = value.members(required=NOT_TAKEN_REQUIRED, optional=NOT_TAKEN_OPTIONAL)
    pair = members["pair"].number() if "pair" in members else None
    if pair not in (None, 1, 2):
        raise members["pair"].refused("must be 1 or 2")
    return NotTaken(
        measurement=_measurement(members["measurement"]).key,
        reason=members["reason"].one_of(REASONS),
        side=cast(Side, members["side"].one_of(SIDES)) if "side" in members else None,
        pair=None if pair is None else int(pair),
        detail=members["detail"].words() if "detail" in members else None,
        by=members["by"].words(longest=LONGEST_NAME) if "by" in members else None,
        at=members["at"].moment() if "at" in members else None,
    )


def write_not_taken(not_taken: NotTaken) -> dict[str, Any]:
    """The reason as an object of the fitting file."""
    keys = (*NOT_TAKEN_REQUIRED, *NOT_TAKEN_OPTIONAL)
    values = {key: getattr(not_taken, key) for key in keys}
    return {key: value for key, value in values.items() if value is not None}


def file_number(value: float) -> int | float:
    """A number as the file holds it: whole ones without a decimal point."""
    return int(value) if value == int(value) else value


def _measurement(value: FileValue) -> Measurement:
    name = value.words()
    if name not in MEASUREMENTS:
        raise value.refused(no_such(name, MEASUREMENTS, kind="measurement"))
    return MEASUREMENTS[name]


def _entry(measurement: Measurement, members: dict[str, FileValue]) -> Entry:
    unit = members["unit"].one_of(UNITS_ENTERED[measurement.unit]) if "unit" in members else None
    value = members["value"]
    text = value.words() if isinstance(value.value, str) else f"{value.exact_number():f}"
    try:
        return read_entry(measurement, _without_trailing_zeros(text, value), unit)
    except NotUsable as refusal:
        raise value.refused(refusal.message) from None


def _refuse_other_text(measurement: Measurement, entry: Entry, members: dict[str, FileValue]) -> None:
    """Refuse an entered text that reads as another value; one that can no longer be read is only kept."""
    text = members.get("text")
    if text is None:
        return
    unit = members["unit"].one_of(UNITS_ENTERED[measurement.unit]) if "unit" in members else None
    found = []
    for chosen in dict.fromkeys((None, unit)):
        with suppress(NotUsable):
            found.append(read_entry(measurement, text.words(longest=LONGEST_NAME), chosen).value)
    if found and entry.value not in found:
        shown = f"{show_number(found[0])} {measurement.unit}"
        raise text.refused(
            f"reads as {shown}, and the value is {show_number(entry.value)} {measurement.unit}"
        )


def _without_trailing_zeros(text: str, value: FileValue) -> str:
    return text if isinstance(value.value, str) else number_text(float(text))


def _side(measurement: Measurement, value: FileValue, members: dict[str, FileValue]) -> Side | None:
    if "side" not in members:
        if measurement.sides == "each":
            raise FileValue(None, f"{value.place}.side").refused(f"{measurement.key} needs a side, R or L")
        return None
    if measurement.sides == "one":
        raise members["side"].refused(f"{measurement.key} has no side")
    return cast(Side, members["side"].one_of(SIDES))


def _method(measurement: Measurement, members: dict[str, FileValue]) -> str | None:
    if "method" not in members:
        return None
    if not measurement.methods:
        raise members["method"].refused(f"{measurement.key} has no methods to tell apart")
    return members["method"].one_of(method.key for method in measurement.methods)


def _condition(members: dict[str, FileValue]) -> str | None:
    return members["condition"].one_of(CONDITIONS) if "condition" in members else None


def _entered_in_error(members: dict[str, FileValue]) -> EnteredInError | None:
    if "entered_in_error" not in members:
        return None
    error = members["entered_in_error"].members(required=("by", "at", "reason"))
    return EnteredInError(
        by=error["by"].words(longest=LONGEST_NAME), at=error["at"].moment(), reason=error["reason"].words()
    )

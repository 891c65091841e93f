"""The boxes of the whole-record sheet: every reading of a fitting in its place, or blank boxes for a blank form."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

from app.catalogue.catalogue import MEASUREMENTS, STEP_OF
from app.catalogue.conditions import CONDITIONS
from app.catalogue.measurement import UNIT_WORDS
from app.catalogue.reasons import REASONS
from app.fitting.entry import in_words, show_value
from app.fitting.fitting import Fitting
from app.fitting.reading import NotTaken
from app.fitting.working import WorkingValue, working_values
from app.web.box import BoxKey, boxes_of, pair_of

NOTHING_OUTSIDE: Mapping[str, str] = MappingProxyType({})


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetBox:
    """One box on the sheet."""

    key: BoxKey
    address: str
    """The step where it is taken; empty on a blank form."""
    value: str = ""
    small: str = ""
    """Under the value: how many readings, or why there is none."""
    state: str = "blank"
    """value, not_taken, blank, optional: the last may stay blank."""
    outside: str = ""
    """Said of a value outside its expected band; shown on the practitioner's screen only, never in print."""

    @property
    def unit(self) -> str:
        """The unit as printed in the box."""
        return UNIT_WORDS[self.key.measurement.unit]

    @property
    def spoken(self) -> str:
        """Name and content in one sentence, for those who cannot see the drawing."""
        unit = "" if self.key.measurement.sign_words else f" {self.unit}"
        content = f"{self.value}{unit}" if self.state == "value" else self.small or "blank"
        return f"{self.key.name}: {content}" + (f", {self.outside}" if self.outside else "")


def sheet_boxes(
    fitting: Fitting | None, fitting_id: str = "", outside: Mapping[str, str] = NOTHING_OUTSIDE
) -> dict[str, SheetBox]:
    """Every box of the catalogue by its name (`frontal_angle.R`); all blank where there is no fitting.

    `outside` says of boxes by name that they lie outside their expected band.
    """
    working = working_values(fitting) if fitting is not None else ()
    gaps = fitting.not_taken if fitting is not None else ()
    boxes: dict[str, SheetBox] = {}
    for key in sheet_keys():
        step = STEP_OF[key.measurement.key].key
        address = f"/fittings/{fitting_id}/steps/{step}?box={key}" if fitting_id else ""
        made = _sheet_box(key, address, working, gaps)
        boxes[str(key)] = replace(made, outside=outside[str(key)]) if str(key) in outside else made
    return boxes


def sheet_keys() -> Iterator[BoxKey]:
    """The boxes that the sheet has: those of the steps, in the order of the catalogue."""
    for measurement in MEASUREMENTS.values():
        yield from boxes_of(measurement)


def _sheet_box(
    key: BoxKey, address: str, working: Sequence[WorkingValue], gaps: Sequence[NotTaken]
) -> SheetBox:
    values = [value for value in working if belongs(key, value)]
    if values:
        return SheetBox(
            key=key, address=address, value=_value(key, values), small=_how(values), state="value"
        )
    gap = next((gap for gap in reversed(gaps) if _leaves_out(key, gap)), None)
    if gap is not None:
        return SheetBox(key=key, address=address, small=_reason(gap), state="not_taken")
    return SheetBox(key=key, address=address, state="optional" if may_stay_blank(key, working) else "blank")


def belongs(key: BoxKey, value: WorkingValue) -> bool:
    """True where the working value stands in that box."""
    return (
        value.measurement == key.measurement.key
        and value.side == key.side
        and value.pair in (None, pair_of(key.measurement))
        and (key.method is None or value.method in (None, key.method))
    )


def may_stay_blank(key: BoxKey, working: Sequence[WorkingValue]) -> bool:
    """True for optional boxes, and for those that the other way of taking an `either` measurement leaves over."""
    if key.measurement.optional:
        return True
    if key.measurement.sides != "either":
        return False
    return key.side is not None or any(value.measurement == key.measurement.key for value in working)


def _leaves_out(key: BoxKey, gap: NotTaken) -> bool:
    return gap.measurement == key.measurement.key and gap.side in (None, key.side)


def _reason(gap: NotTaken) -> str:
    words = REASONS.get(gap.reason, gap.reason)
    return f"{words}: {gap.detail}" if gap.detail else words


def _value(key: BoxKey, values: Sequence[WorkingValue]) -> str:
    written = in_words if key.measurement.sign_words else show_value
    return " / ".join(written(key.measurement, value.value) for value in values)


def _how(values: Sequence[WorkingValue]) -> str:
    if len(values) > 1:
        return " / ".join(_circumstance(value) for value in values)
    value = values[0]
    if value.count > 1:
        return f"{value.count} readings, {show_value(MEASUREMENTS[value.measurement], value.spread)} apart"
    return "" if value.condition is None else CONDITIONS.get(value.condition, value.condition).lower()


def _circumstance(value: WorkingValue) -> str:
    """What tells this value from the others in its box."""
    declared = MEASUREMENTS[value.measurement].method(value.method)
    parts = [declared.label if declared else value.method or "", CONDITIONS.get(value.condition or "", "")]
    return ", ".join(part for part in parts if part).lower() or "plain"

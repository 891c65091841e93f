"""Fields: every single-valued detail of a fitting as a dotted path and a text, both ways."""

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from app.catalogue.choice import Choice
from app.catalogue.measurement import SIDES
from app.fitting.cover_test import CoverFinding, CoverTest
from app.fitting.details import (
    COVER_DETAILS,
    EYE_DETAILS,
    PAIR_DETAILS,
    PRESCRIPTION_DETAILS,
    PRISM_DETAILS,
    SEGMENT_DETAILS,
    TAKEN_DETAILS,
    Detail,
)
from app.fitting.entry import NotUsable
from app.fitting.field_paths import (
    DISTANCES,
    HISTORY_QUESTIONS,
    KIND_OF_PAIR,
    PAIR_NUMBERS,
    PAIR_QUESTIONS,
    PRESCRIPTION_HOLDERS,
    UnknownField,
    detail_at,
)
from app.fitting.field_text import choice_refusal, kept_as, outside_sense, read_detail, write_detail
from app.fitting.fitting import Fitting, Taken
from app.fitting.pair import Pair, Segment
from app.fitting.prescription import EyePrescription, Prescription, Prism

Fields = dict[str, str]
"""Dotted path to text, for example `prescription.R.sphere` to `-2.25`."""


def check_field(path: str, text: str) -> str | None:
    """A message for the person where the text cannot be right, else None. An empty text clears the field."""
    try:
        detail = detail_at(path)
    except UnknownField as unknown:
        return str(unknown)
    if not text.strip():
        return None
    if isinstance(detail, Choice):
        return choice_refusal(detail, text)
    try:
        return outside_sense(detail, read_detail(detail, text))
    except NotUsable as refusal:
        return refusal.message


def field_kept_as(path: str, text: str) -> str:
    """The text of a field as it is kept: dates as year-month-day. Raises UnknownField.

    >>> field_kept_as("prescription.written", "20/9/2026")
    '2026-09-20'
    """
    return kept_as(detail_at(path), text)


def fields_of(fitting: Fitting) -> Fields:
    """Every field of a fitting; absent details have no path."""
    fields = _texts("taken", TAKEN_DETAILS, fitting.taken)
    fields |= {f"history.{choice}": text for choice, text in fitting.history.items()}
    for distance in DISTANCES:
        fields |= _texts(f"cover_test.{distance}", COVER_DETAILS, getattr(fitting.cover_test, distance))
    fields |= _prescription_texts("prescription", fitting.prescription)
    for pair in fitting.pairs:
        place = f"pair.{pair.pair}"
        fields |= _texts(place, PAIR_DETAILS, pair)
        fields |= _texts(f"{place}.segment", SEGMENT_DETAILS, pair.segment)
        fields |= _prescription_texts(f"{place}.prescription", pair.prescription)
        fields |= {f"{place}.choices.{choice}": text for choice, text in pair.choices.items()}
    return fields


def fitting_with_fields(fitting: Fitting, fields: Fields) -> Fitting:
    """The fitting with exactly these fields; those left out are cleared, except under `taken`, which stays.

    A detail of which the leading field is missing (a cylinder without its sphere) is left out
    and named by `missing_fields`. A pair is there where it has a field or a reading.
    Raises NotUsable for a text that cannot be read, UnknownField for a path that is none.
    """
    for path in fields:
        detail_at(path)
    given = {path: text.strip() for path, text in fields.items()}
    filled = {path: text for path, text in given.items() if text}
    read = {reading.pair for reading in fitting.readings}
    return replace(
        fitting,
        taken=_taken(fitting.taken, given),
        history=_answers("history", HISTORY_QUESTIONS, filled),
        cover_test=CoverTest(
            distance=_cover_finding("cover_test.distance", filled),
            near=_cover_finding("cover_test.near", filled),
        ),
        prescription=_prescription("prescription", filled),
        pairs=tuple(
            _pair(number, filled)
            for number in PAIR_NUMBERS
            if number in read or _under(f"pair.{number}", filled)
        ),
    )


def missing_fields(fields: Fields) -> dict[str, str]:
    """Path of each field without which what was entered beside it cannot stand, and a message that says so."""
    filled = {path: text for path, text in fields.items() if text.strip()}
    missing: dict[str, str] = {}
    for distance in DISTANCES:
        _ask(
            missing, f"cover_test.{distance}", "finding", filled, "say what was found: none, latent, manifest"
        )
    for holder in PRESCRIPTION_HOLDERS:
        for side in SIDES:
            _ask(
                missing,
                f"{holder}.{side}",
                "sphere",
                filled,
                "a sphere is missing; plano where there is none",
            )
            for prism in _numbered(f"{holder}.{side}.prism", filled):
                _ask(missing, prism, "amount", filled, "the amount of the prism is missing")
    for number in PAIR_NUMBERS:
        for key in ("shape", "diameter"):
            _ask(missing, f"pair.{number}.segment", key, filled, f"the {key} of the segment is missing")
    return missing


def _ask(missing: dict[str, str], place: str, key: str, filled: Fields, message: str) -> None:
    if _under(place, filled) and f"{place}.{key}" not in filled:
        missing[f"{place}.{key}"] = message


def _under(place: str, fields: Iterable[str]) -> bool:
    return any(path.startswith(f"{place}.") for path in fields)


def _texts(place: str, details: tuple[Detail, ...], holder: object) -> Fields:
    if holder is None:
        return {}
    values = ((detail, getattr(holder, detail.key)) for detail in details)
    return {
        f"{place}.{detail.key}": write_detail(detail, value) for detail, value in values if value is not None
    }


def _prescription_texts(place: str, prescription: Prescription | None) -> Fields:
    if prescription is None:
        return {}
    fields = _texts(place, PRESCRIPTION_DETAILS, prescription)
    for side in SIDES:
        eye = prescription.eye(side)
        fields |= _texts(f"{place}.{side}", EYE_DETAILS, eye)
        for number, prism in enumerate(eye.prism if eye else (), start=1):
            fields |= _texts(f"{place}.{side}.prism.{number}", PRISM_DETAILS, prism)
    return fields


def _values(place: str, details: tuple[Detail, ...], filled: Fields) -> dict[str, Any]:
    texts = ((detail, filled.get(f"{place}.{detail.key}")) for detail in details)
    return {detail.key: read_detail(detail, text) for detail, text in texts if text is not None}


def _taken(taken: Taken, given: Fields) -> Taken:
    return replace(
        taken,
        room_light=given.get("taken.room_light", taken.room_light) or None,
        supervisor=given.get("taken.supervisor", taken.supervisor) or None,
    )


def _answers(place: str, questions: Iterable[str], filled: Fields) -> dict[str, str]:
    return {key: filled[f"{place}.{key}"] for key in questions if f"{place}.{key}" in filled}


def _cover_finding(place: str, filled: Fields) -> CoverFinding | None:
    values = _values(place, COVER_DETAILS, filled)
    return CoverFinding(**values) if "finding" in values else None


def _numbered(place: str, filled: Fields) -> list[str]:
    start = f"{place}."
    numbers = {int(path[len(start) :].split(".")[0]) for path in filled if path.startswith(start)}
    return [f"{place}.{number}" for number in sorted(numbers)]


def _eye(place: str, filled: Fields) -> EyePrescription | None:
    values = _values(place, EYE_DETAILS, filled)
    if "sphere" not in values:
        return None
    prisms = (_values(prism, PRISM_DETAILS, filled) for prism in _numbered(f"{place}.prism", filled))
    whole = tuple(Prism(**({"base": None} | prism)) for prism in prisms if "amount" in prism)
    return EyePrescription(**values, prism=whole)


def _prescription(place: str, filled: Fields) -> Prescription | None:
    if not _under(place, filled):
        return None
    return Prescription(
        right=_eye(f"{place}.R", filled),
        left=_eye(f"{place}.L", filled),
        **_values(place, PRESCRIPTION_DETAILS, filled),
    )


def _pair(number: int, filled: Fields) -> Pair:
    place = f"pair.{number}"
    segment = _values(f"{place}.segment", SEGMENT_DETAILS, filled)
    return Pair(
        pair=number,
        segment=Segment(**segment) if len(segment) == len(SEGMENT_DETAILS) else None,
        prescription=_prescription(f"{place}.prescription", filled),
        choices=_answers(f"{place}.choices", PAIR_QUESTIONS, filled),
        **({"kind": KIND_OF_PAIR[number]} | _values(place, PAIR_DETAILS, filled)),
    )

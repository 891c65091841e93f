"""Cover test, prescriptions and pairs, in and out of the fitting file."""

from collections.abc import Iterable
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
    Detail,
)
from app.fitting.field_paths import DISTANCES, KIND_OF_PAIR, MOST_PRISMS, PAIR_NUMBERS, PAIR_QUESTIONS
from app.fitting.field_text import DetailValue, choice_refusal, number_text
from app.fitting.file_readings import file_number, read_reading, write_reading
from app.fitting.file_value import FileValue
from app.fitting.pair import Pair, Segment
from app.fitting.prescription import EyePrescription, Prescription, Prism
from app.fitting.reading import Reading

PAIR_MEMBERS = ("segment", "prescription", "choices", "readings")


def read_details(members: dict[str, FileValue], details: Iterable[Detail]) -> dict[str, Any]:
    """The values of the details that are there, by key. Raises NotAFitting for a wrong type."""
    return {detail.key: _read(detail, members[detail.key]) for detail in details if detail.key in members}


def write_details(holder: object, details: Iterable[Detail]) -> dict[str, Any]:
    """The details that a part of a fitting has, by key."""
    values = {detail.key: getattr(holder, detail.key) for detail in details}
    return {key: _written(value) for key, value in values.items() if value is not None}


def read_answers(value: FileValue, questions: dict[str, Choice]) -> dict[str, str]:
    """Answers to these of the catalogue's questions, by key. Raises NotAFitting."""
    members = value.members(optional=questions)
    answers = {key: member.words() for key, member in members.items()}
    for key, answer in answers.items():
        refusal = choice_refusal(questions[key], answer)
        if refusal is not None:
            raise members[key].refused(refusal)
    return answers


def read_cover_test(value: FileValue) -> CoverTest:
    """The cover test at both distances. Raises NotAFitting."""
    members = value.members(optional=DISTANCES)
    return CoverTest(**{distance: _cover_finding(member) for distance, member in members.items()})


def write_cover_test(cover_test: CoverTest) -> dict[str, Any]:
    """The cover test as an object of the fitting file."""
    found = {distance: getattr(cover_test, distance) for distance in DISTANCES}
    return {key: write_details(part, COVER_DETAILS) for key, part in found.items() if part is not None}


def read_prescription(value: FileValue) -> Prescription:
    """A prescription, both eyes. Raises NotAFitting."""
    members = value.members(optional=(*_keys(PRESCRIPTION_DETAILS), *SIDES))
    return Prescription(
        right=_eye(members["R"]) if "R" in members else None,
        left=_eye(members["L"]) if "L" in members else None,
        **read_details(members, PRESCRIPTION_DETAILS),
    )


def write_prescription(prescription: Prescription) -> dict[str, Any]:
    """The prescription as an object of the fitting file."""
    document = write_details(prescription, PRESCRIPTION_DETAILS)
    for side in SIDES:
        eye = prescription.eye(side)
        if eye is not None:
            prisms = [write_details(prism, PRISM_DETAILS) for prism in eye.prism]
            document[side] = write_details(eye, EYE_DETAILS) | ({"prism": prisms} if prisms else {})
    return document


def read_pair(value: FileValue) -> tuple[Pair, tuple[Reading, ...]]:
    """One pair and the readings under it. Raises NotAFitting."""
    members = value.members(required=("pair",), optional=(*_keys(PAIR_DETAILS), *PAIR_MEMBERS))
    number = members["pair"].number()
    if number not in PAIR_NUMBERS:
        raise members["pair"].refused("must be 1 or 2")
    pair = Pair(
        pair=int(number),
        segment=_segment(members["segment"]) if "segment" in members else None,
        prescription=read_prescription(members["prescription"]) if "prescription" in members else None,
        choices=read_answers(members["choices"], PAIR_QUESTIONS) if "choices" in members else {},
        **({"kind": KIND_OF_PAIR[int(number)]} | read_details(members, PAIR_DETAILS)),
    )
    readings = members["readings"].entries() if "readings" in members else []
    return pair, tuple(read_reading(reading, pair=pair.pair) for reading in readings)


def write_pair(pair: Pair, readings: Iterable[Reading]) -> dict[str, Any]:
    """The pair with its readings as an object of the fitting file."""
    document = {"pair": pair.pair, **write_details(pair, PAIR_DETAILS)}
    if pair.segment is not None:
        document["segment"] = write_details(pair.segment, SEGMENT_DETAILS)
    if pair.prescription is not None:
        document["prescription"] = write_prescription(pair.prescription)
    if pair.choices:
        document["choices"] = dict(pair.choices)
    written = [write_reading(reading) for reading in readings]
    return document | ({"readings": written} if written else {})


def _keys(details: Iterable[Detail]) -> tuple[str, ...]:
    return tuple(detail.key for detail in details)


def _read(detail: Detail, value: FileValue) -> DetailValue:
    match detail.kind:
        case "number" | "power":
            return _number(detail, value)
        case "yes_no":
            return value.flag()
        case "date":
            return value.day()
        case "one_of":
            return value.one_of(detail.options)
        case "words":
            return value.words()


def _number(detail: Detail, value: FileValue) -> float:
    number, limits = value.number(), detail.in_file
    if limits is not None and not limits.holds(number):
        span = f"{number_text(limits.low)} to {number_text(limits.high)}"
        raise value.refused(f"must lie from {span}{f' {detail.unit}' if detail.unit else ''}")
    return number


def _written(value: DetailValue) -> str | int | float | bool:
    return value if isinstance(value, str | bool) else file_number(value)


def _cover_finding(value: FileValue) -> CoverFinding:
    keys = _keys(COVER_DETAILS)
    return CoverFinding(**read_details(value.members(required=("finding",), optional=keys), COVER_DETAILS))


def _eye(value: FileValue) -> EyePrescription:
    members = value.members(required=("sphere",), optional=(*_keys(EYE_DETAILS), "prism"))
    prisms = members["prism"].entries() if "prism" in members else []
    if len(prisms) > MOST_PRISMS:
        raise members["prism"].refused(f"has more than {MOST_PRISMS} components")
    return EyePrescription(**read_details(members, EYE_DETAILS), prism=tuple(map(_prism, prisms)))


def _prism(value: FileValue) -> Prism:
    members = value.members(required=("amount",), optional=("base",))
    return Prism(**({"base": None} | read_details(members, PRISM_DETAILS)))


def _segment(value: FileValue) -> Segment:
    keys = _keys(SEGMENT_DETAILS)
    return Segment(**read_details(value.members(required=keys), SEGMENT_DETAILS))

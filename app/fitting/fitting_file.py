"""The fitting file: an open JSON form of one fitting, read and written without loss."""

import json
from dataclasses import replace
from typing import Any, cast

from app.fitting.corrections import refuse_wrong_corrections
from app.fitting.details import TAKEN_DETAILS
from app.fitting.field_paths import HISTORY_QUESTIONS, KIND_OF_PAIR
from app.fitting.file_details import (
    read_answers,
    read_cover_test,
    read_details,
    read_pair,
    read_prescription,
    write_cover_test,
    write_details,
    write_pair,
    write_prescription,
)
from app.fitting.file_place import entry_place
from app.fitting.file_readings import ROLES, read_not_taken, read_reading, write_not_taken, write_reading
from app.fitting.file_text import read_json_text
from app.fitting.file_value import LONGEST_NAME, LONGEST_REFERENCE, FileValue
from app.fitting.file_value import NotAFitting as NotAFitting
from app.fitting.fitting import Fitting, Person, Taken
from app.fitting.pair import Pair
from app.fitting.reading import Reading

FITTING_SCHEMA = "chair-to-bench/fitting/1"
REQUIRED = ("schema", "person", "taken", "readings")
OPTIONAL = ("not_taken", "history", "cover_test", "prescription", "pairs")
SEXES = ("F", "M")


def read_fitting_text(text: str | bytes) -> Fitting:
    """The fitting in a JSON text (UTF-8). Raises NotAFitting, whose text is one line naming the place."""
    return read_fitting(read_json_text(text, whole="file"))


def read_fitting(document: object) -> Fitting:
    """The fitting in a JSON document that was already parsed. Raises NotAFitting."""
    members = FileValue(document).members(required=REQUIRED, optional=OPTIONAL)
    if members["schema"].words() != FITTING_SCHEMA:
        raise members["schema"].refused(f"must be {FITTING_SCHEMA}")
    pairs, placed = _pairs(members.get("pairs"))
    of_face = members["readings"].entries()
    readings = (*(read_reading(reading, pair=None) for reading in of_face), *(one for _, one in placed))
    refuse_wrong_corrections(readings, (*(one.place for one in of_face), *(place for place, _ in placed)))
    not_taken = members["not_taken"].entries() if "not_taken" in members else []
    return Fitting(
        person=_person(members["person"]),
        taken=_taken(members["taken"]),
        readings=readings,
        not_taken=tuple(map(read_not_taken, not_taken)),
        history=read_answers(members["history"], HISTORY_QUESTIONS) if "history" in members else {},
        prescription=read_prescription(members["prescription"]) if "prescription" in members else None,
        pairs=pairs,
        **({"cover_test": read_cover_test(members["cover_test"])} if "cover_test" in members else {}),
    )


def write_fitting(fitting: Fitting) -> dict[str, Any]:
    """The fitting as a JSON document; `read_fitting` gives back the same fitting, in file order."""
    fitting = in_file_order(fitting)
    document: dict[str, Any] = {
        "schema": FITTING_SCHEMA,
        "person": _write_person(fitting.person),
        "taken": _write_taken(fitting.taken),
        "history": dict(fitting.history),
        "cover_test": write_cover_test(fitting.cover_test),
        "readings": [write_reading(reading) for reading in _of_pair(fitting, None)],
        "not_taken": [write_not_taken(not_taken) for not_taken in fitting.not_taken],
        "prescription": None if fitting.prescription is None else write_prescription(fitting.prescription),
        "pairs": [write_pair(pair, _of_pair(fitting, pair.pair)) for pair in fitting.pairs],
    }
    always = (*REQUIRED, "prescription")
    return {key: value for key, value in document.items() if value is not None and (value or key in always)}


def write_fitting_text(fitting: Fitting) -> str:
    """The fitting as JSON text, one member a line, UTF-8."""
    return json.dumps(write_fitting(fitting), ensure_ascii=False, indent=1) + "\n"


def in_file_order(fitting: Fitting) -> Fitting:
    """The same fitting with readings of the face first, then pair by pair; a pair with readings only is named."""
    known = {pair.pair for pair in fitting.pairs}
    only_read = {reading.pair for reading in fitting.readings if reading.pair is not None} - known
    added = tuple(Pair(pair=number, kind=cast(Any, KIND_OF_PAIR[number])) for number in only_read)
    pairs = tuple(sorted(fitting.pairs + added, key=lambda pair: pair.pair))
    order: tuple[int | None, ...] = (None, *(pair.pair for pair in pairs))
    readings = tuple(reading for number in order for reading in _of_pair(fitting, number))
    return replace(fitting, pairs=pairs, readings=readings)


def _of_pair(fitting: Fitting, number: int | None) -> tuple[Reading, ...]:
    return tuple(reading for reading in fitting.readings if reading.pair == number)


def _pairs(value: FileValue | None) -> tuple[tuple[Pair, ...], tuple[tuple[str, Reading], ...]]:
    """The pairs in their order, and the readings under them, each with its place."""
    entries = [] if value is None else value.entries()
    read = [(*read_pair(entry), entry.place) for entry in entries]
    numbers = [pair.pair for pair, _, _ in read]
    for index, number in enumerate(numbers):
        if number in numbers[:index]:
            raise FileValue(None, f"{entries[index].place}.pair").refused(f"pair {number} is there twice")
    read.sort(key=lambda one: one[0].pair)
    placed = tuple(
        (entry_place(f"{place}.readings", index), reading)
        for _, readings, place in read
        for index, reading in enumerate(readings)
    )
    return tuple(pair for pair, _, _ in read), placed


def _person(value: FileValue) -> Person:
    members = value.members(required=("reference",), optional=("born", "sex", "registered_sight_impaired"))
    sight = members.get("registered_sight_impaired")
    return Person(
        reference=members["reference"].words(longest=LONGEST_REFERENCE),
        born=members["born"].day() if "born" in members else None,
        sex=cast(Any, members["sex"].one_of(SEXES)) if "sex" in members else None,
        registered_sight_impaired=sight is not None and sight.flag(),
    )


def _write_person(person: Person) -> dict[str, Any]:
    return {
        "reference": person.reference,
        **({"born": person.born} if person.born is not None else {}),
        "sex": person.sex,
        "registered_sight_impaired": person.registered_sight_impaired,
    }


def _taken(value: FileValue) -> Taken:
    details = tuple(detail.key for detail in TAKEN_DETAILS)
    members = value.members(required=("on",), optional=("by", "role", "from_paper", *details))
    return Taken(
        on=members["on"].day(),
        by=members["by"].words(longest=LONGEST_NAME) if "by" in members else None,
        role=members["role"].one_of(ROLES) if "role" in members else None,
        from_paper="from_paper" in members and members["from_paper"].flag(),
        **read_details(members, TAKEN_DETAILS),
    )


def _write_taken(taken: Taken) -> dict[str, Any]:
    known = {"on": taken.on, "by": taken.by, "role": taken.role}
    return (
        {key: value for key, value in known.items() if value is not None}
        | write_details(taken, TAKEN_DETAILS)
        | ({"from_paper": True} if taken.from_paper else {})
    )

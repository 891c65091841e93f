"""A reading and a reason as the rows that hold them."""

from dataclasses import replace
from typing import Any, TypeVar

from app.fitting.fitting import Taken
from app.fitting.reading import NotTaken, Reading
from app.records.actor import Actor
from app.records.errors import NotStorable
from app.records.identity import new_identity, now
from app.records.rights import may
from app.records.storable import optional_text, parts_of, text_of
from app.records.tables import naming as wide

PAIRS = (1, 2)
SIDES = ("R", "L")
SOURCES = ("typed", "instrument", "paper", "file")
ASSISTANT = "assistant"
Left = TypeVar("Left", Reading, NotTaken)


def as_taken(thing: Left, taken: Taken) -> Left:
    """A reading or reason from elsewhere, with who and when of the whole fitting where it leaves them out."""
    thing = replace(thing, by=thing.by or taken.by, at=thing.at or taken.on)
    return replace(thing, role=thing.role or taken.role) if isinstance(thing, Reading) else thing


def reading_row(reading: Reading, *, fitting_row: int, actor: Actor, identity: str) -> dict[str, Any]:
    """The row of a reading; who and when come from the actor and the clock where the reading leaves them out.

    An assistant enters in no name but their own.
    """
    _check_place(reading)
    if actor.role == ASSISTANT:
        reading = replace(reading, by=actor.name, role=actor.role)
    if reading.source not in SOURCES:
        raise NotStorable(f"The source of a reading is one of {', '.join(SOURCES)}.")
    return {
        "identity": identity,
        "fitting_id": fitting_row,
        "measurement": text_of(reading.measurement, what="measurement", longest=wide.KEY),
        "value_parts": parts_of(reading.value),
        "text": text_of(reading.text, what="entered text", longest=wide.NAME),
        "side": reading.side,
        "method": optional_text(reading.method, what="method", longest=wide.KEY),
        "condition": optional_text(reading.condition, what="condition", longest=wide.KEY),
        "instrument": optional_text(reading.instrument, what="instrument", longest=wide.NAME),
        "pair": reading.pair,
        "note": optional_text(reading.note, what="note", longest=wide.NOTE),
        "source": reading.source,
        # Whatever the sender says: what an assistant enters is proposed until a practitioner accepts it.
        "proposed": reading.proposed or actor.role == ASSISTANT,
        "replaces": reading.replaces,
        "account": actor.account,
        "by": text_of(reading.by or actor.name, what="name", longest=wide.NAME),
        "role": text_of(reading.role or actor.role, what="role", longest=wide.KEY),
        "at": text_of(reading.at or now(), what="time", longest=wide.MOMENT),
    }


def not_taken_row(not_taken: NotTaken, *, fitting_row: int, actor: Actor) -> dict[str, Any]:
    """The row of a reason why a measurement was left out; an assistant gives it in no name but their own."""
    _check_place(not_taken)
    if actor.role == ASSISTANT:
        not_taken = replace(not_taken, by=actor.name)
    return {
        "fitting_id": fitting_row,
        "measurement": text_of(not_taken.measurement, what="measurement", longest=wide.KEY),
        "side": not_taken.side,
        "pair": not_taken.pair,
        "reason": text_of(not_taken.reason, what="reason", longest=wide.KEY),
        "detail": optional_text(not_taken.detail, what="detail", longest=wide.NOTE),
        "account": actor.account,
        "by": text_of(not_taken.by or actor.name, what="name", longest=wide.NAME),
        "at": text_of(not_taken.at or now(), what="time", longest=wide.MOMENT),
    }


def marks_of(readings: tuple[Reading, ...], rows: list[int], actor: Actor) -> dict[str, list[dict[str, Any]]]:
    """The rows of acceptances and errors that came with readings from elsewhere, by table.

    Acceptances only where the actor may accept, and an assistant's errors in no name but their own.
    """
    accepts, own_name = may(actor, "accept readings"), actor.role == ASSISTANT
    pairs = list(zip(readings, rows, strict=True))
    return {
        "acceptance": [
            {
                "reading_id": row,
                "account": actor.account,
                "by": reading.accepted_by,
                "at": reading.at or now(),
            }
            for reading, row in pairs
            if reading.accepted_by is not None and accepts
        ],
        "reading_error": [
            {
                "reading_id": row,
                "account": actor.account,
                "by": actor.name if own_name else reading.entered_in_error.by,
                "at": reading.entered_in_error.at,
                "reason": text_of(reading.entered_in_error.reason, what="reason", longest=wide.NOTE),
            }
            for reading, row in pairs
            if reading.entered_in_error is not None
        ],
    }


def new_identities(readings: tuple[Reading, ...]) -> tuple[list[str], dict[str, str]]:
    """A new identity for each reading from elsewhere, and the new one of each old one."""
    fresh = [new_identity() for _ in readings]
    known = {reading.identity: new for reading, new in zip(readings, fresh, strict=True) if reading.identity}
    return fresh, known


def _check_place(thing: Reading | NotTaken) -> None:
    if thing.side not in (*SIDES, None):
        raise NotStorable("A side is R or L, the patient's.")
    if thing.pair not in (*PAIRS, None):
        raise NotStorable("A pair is 1 or 2.")

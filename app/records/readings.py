"""Readings: only ever added. A correction, an acceptance and an "entered in error" are additions too."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from sqlalchemy import Connection, Row, bindparam, insert, select

from app.catalogue.measurement import Side
from app.fitting.corrections import Box, box_of
from app.fitting.reading import NotTaken, Reading
from app.records.actor import Actor
from app.records.database import Database
from app.records.errors import NotAllowed, NotFound, NotStorable
from app.records.fitting_rows import open_row
from app.records.identity import new_identity, now
from app.records.reading_rows import not_taken_row, reading_row
from app.records.requests import Answer, Request, write_once
from app.records.rights import require
from app.records.storable import text_of
from app.records.tables.naming import NOTE
from app.records.tables.readings import ACCEPTANCE, NOT_TAKEN, READING, READING_ERROR, WITHDRAWAL

_INSERT = insert(READING)
_OWN = select(
    READING.c.id,
    READING.c.account,
    READING.c.proposed,
    READING.c.measurement,
    READING.c.side,
    READING.c.pair,
    READING.c.method,
).where(READING.c.identity == bindparam("reading"), READING.c.fitting_id == bindparam("fitting_row"))
_HAS_ERROR = select(READING_ERROR.c.reading_id).where(READING_ERROR.c.reading_id == bindparam("reading_row"))
_IS_ACCEPTED = select(ACCEPTANCE.c.reading_id).where(ACCEPTANCE.c.reading_id == bindparam("reading_row"))
_STANDING_REASONS = (
    select(NOT_TAKEN.c.id)
    .outerjoin(WITHDRAWAL, WITHDRAWAL.c.not_taken_id == NOT_TAKEN.c.id)
    .where(
        NOT_TAKEN.c.fitting_id == bindparam("fitting_row"),
        NOT_TAKEN.c.measurement == bindparam("measurement"),
        NOT_TAKEN.c.side.is_not_distinct_from(bindparam("side")),
        NOT_TAKEN.c.pair.is_not_distinct_from(bindparam("pair")),
        WITHDRAWAL.c.not_taken_id.is_(None),
    )
)


@dataclass(frozen=True, slots=True)
class Stored:
    """What was stored, and whether it had been stored already by an earlier sending."""

    identity: str
    repeated: bool


def add_reading(database: Database, *, key: str, actor: Actor, fitting_id: str, reading: Reading) -> Stored:
    """Store one reading. Two tablets that enter the same box at one moment are both kept."""
    require(actor, "enter readings")
    # Set by whoever receives the request, so different in a retry of the same entry: no part of what it asks.
    asked = replace(reading, by=None, role=None, at=None, identity=None, replaces=None)
    wish = Request(key=key, actor=actor, action="add_reading", body=[fitting_id, asked])

    def work(connection: Connection) -> Answer:
        row = open_row(connection, fitting_id)
        if reading.replaces is not None:
            _refuse_wrong_correction(connection, row, actor, reading, reading.replaces)
        identity = new_identity()
        connection.execute(_INSERT, reading_row(reading, fitting_row=row, actor=actor, identity=identity))
        return {"identity": identity}

    outcome = write_once(database, wish, work)
    return Stored(outcome.answer["identity"], outcome.repeated)


def mark_entered_in_error(
    database: Database, *, key: str, actor: Actor, fitting_id: str, identity: str, reason: str
) -> Stored:
    """Say that a reading should never have been entered. It stays, struck through; the first mark stands."""
    require(actor, "enter readings")
    if not text_of(reason.strip(), what="reason", longest=NOTE):
        raise NotStorable("Say why the reading was entered in error, such as: other person's reading.")
    wish = Request(key=key, actor=actor, action="mark_entered_in_error", body=[fitting_id, identity, reason])

    def work(connection: Connection) -> Answer:
        row = open_row(connection, fitting_id)
        reading_row_id = _own_row(connection, row, identity, corrector=actor).id
        if connection.execute(_HAS_ERROR, {"reading_row": reading_row_id}).first() is None:
            mark = {"reading_id": reading_row_id, "reason": reason.strip(), **_by(actor)}
            connection.execute(insert(READING_ERROR), mark)
        return {"identity": identity}

    outcome = write_once(database, wish, work)
    return Stored(identity, outcome.repeated)


def accept_readings(
    database: Database, *, key: str, actor: Actor, fitting_id: str, identities: Sequence[str]
) -> tuple[str, ...]:
    """Accept proposed readings by name; gives those that were not accepted before."""
    require(actor, "accept readings")
    wish = Request(key=key, actor=actor, action="accept_readings", body=[fitting_id, sorted(identities)])

    def work(connection: Connection) -> Answer:
        row = open_row(connection, fitting_id)
        accepted = [
            identity for identity in dict.fromkeys(identities) if _accept(connection, row, actor, identity)
        ]
        return {"accepted": accepted}

    return tuple(write_once(database, wish, work).answer["accepted"])


def add_not_taken(
    database: Database, *, key: str, actor: Actor, fitting_id: str, not_taken: NotTaken
) -> None:
    """Say why a measurement was left out; takes the place of an earlier reason for the same one."""
    require(actor, "enter readings")
    asked = replace(not_taken, by=None, at=None)
    wish = Request(key=key, actor=actor, action="add_not_taken", body=[fitting_id, asked])

    def work(connection: Connection) -> Answer:
        row = open_row(connection, fitting_id)
        _withdraw(connection, row, actor, not_taken.measurement, side=not_taken.side, pair=not_taken.pair)
        connection.execute(insert(NOT_TAKEN), not_taken_row(not_taken, fitting_row=row, actor=actor))
        return {}

    write_once(database, wish, work)


def withdraw_not_taken(
    database: Database,
    *,
    key: str,
    actor: Actor,
    fitting_id: str,
    measurement: str,
    side: Side | None = None,
    pair: int | None = None,
) -> None:
    """Take back the reason why a measurement was left out; nothing happens where there is none."""
    require(actor, "enter readings")
    wish = Request(
        key=key, actor=actor, action="withdraw_not_taken", body=[fitting_id, measurement, side, pair]
    )

    def work(connection: Connection) -> Answer:
        row = open_row(connection, fitting_id)
        _withdraw(connection, row, actor, measurement, side=side, pair=pair)
        return {}

    write_once(database, wish, work)


def _refuse_wrong_correction(
    connection: Connection, fitting_row: int, actor: Actor, reading: Reading, replaces: str
) -> None:
    """Refuse a correction of what is not there, stands in another box, or is not the assistant's to correct."""
    try:
        row = _own_row(connection, fitting_row, replaces, corrector=actor)
    except NotFound as error:
        raise NotStorable("There is no such reading in this fitting.", place="replaces") from error
    if _box_of(row) != box_of(reading.measurement, reading.side, reading.pair, reading.method):
        words = "A correction is of the same measurement, side, pair and method as the reading it replaces."
        raise NotStorable(words, place="replaces")


def _box_of(row: Row[Any]) -> Box:
    return box_of(row.measurement, row.side, row.pair, row.method)


def _own_row(
    connection: Connection, fitting_row: int, identity: str, *, corrector: Actor | None = None
) -> Row[Any]:
    """Row of a reading of this fitting; an assistant touches only proposed readings of their own."""
    row: Any = connection.execute(_OWN, {"reading": identity, "fitting_row": fitting_row}).first()
    if row is None:
        raise NotFound("reading")
    if corrector is not None and corrector.role == "assistant":
        accepted = connection.execute(_IS_ACCEPTED, {"reading_row": row.id}).first() is not None
        if accepted or not row.proposed or row.account != corrector.account:
            raise NotAllowed(
                "An assistant corrects or marks only their own readings, before they are accepted."
            )
    found: Row[Any] = row
    return found


def _accept(connection: Connection, fitting_row: int, actor: Actor, identity: str) -> bool:
    reading_row_id = _own_row(connection, fitting_row, identity).id
    if connection.execute(_IS_ACCEPTED, {"reading_row": reading_row_id}).first() is not None:
        return False
    connection.execute(insert(ACCEPTANCE), {"reading_id": reading_row_id, **_by(actor)})
    return True


def _withdraw(
    connection: Connection,
    fitting_row: int,
    actor: Actor,
    measurement: str,
    *,
    side: Side | None,
    pair: int | None,
) -> None:
    place = {"fitting_row": fitting_row, "measurement": measurement, "side": side, "pair": pair}
    rows = connection.execute(_STANDING_REASONS, place).scalars().all()
    if rows:
        by = _by(actor)
        connection.execute(insert(WITHDRAWAL), [{"not_taken_id": row, **by} for row in rows])


def _by(actor: Actor) -> dict[str, str]:
    return {"account": actor.account, "by": actor.name, "at": now()}

"""Fittings: starting one, loading it whole, listing a person's, taking one in from elsewhere."""

from dataclasses import replace
from typing import Any

from sqlalchemy import Connection, bindparam, func, insert, select

from app.fitting.fields import fields_of
from app.fitting.fitting import Fitting, Taken
from app.records.actor import Actor
from app.records.composition import composed
from app.records.database import Database
from app.records.errors import NotFound, NotStorable
from app.records.field_rows import first_fields
from app.records.identity import new_identity, now
from app.records.person_details import checked_day
from app.records.reading_rows import as_taken, marks_of, new_identities, not_taken_row, reading_row
from app.records.requests import Answer, Request, write_once
from app.records.rights import require
from app.records.storable import optional_text
from app.records.stored_fitting import FittingSummary, StoredFitting
from app.records.tables import naming as wide
from app.records.tables.fittings import FITTING, SIGNED_VERSION
from app.records.tables.people import PERSON
from app.records.tables.readings import ACCEPTANCE, NOT_TAKEN, READING, READING_ERROR

MOST_READINGS = 5000
"""In one file: fifty times what the longest fitting holds."""

_PERSON = select(PERSON.c.id).where(PERSON.c.identity == bindparam("person"))
_NEXT = select(func.coalesce(func.max(FITTING.c.sequence), 0) + 1).where(
    FITTING.c.person_id == bindparam("person_row")
)
_REVISION = select(FITTING.c.revision).where(FITTING.c.identity == bindparam("fitting"))
_LIST = (
    select(
        FITTING,
        select(func.max(SIGNED_VERSION.c.number))
        .where(SIGNED_VERSION.c.fitting_id == FITTING.c.id)
        .scalar_subquery()
        .label("signed_version"),
    )
    .join(PERSON, PERSON.c.id == FITTING.c.person_id)
    .where(PERSON.c.identity == bindparam("person"))
    .order_by(FITTING.c.sequence.desc())
)


def start_fitting(database: Database, *, key: str, actor: Actor, person_id: str, taken: Taken) -> str:
    """Start a fitting of a person; gives its identity."""
    require(actor, "enter readings")
    wish = Request(key=key, actor=actor, action="start_fitting", body=[person_id, taken])

    def work(connection: Connection) -> Answer:
        identity, row = _start(connection, actor, person_id, taken)
        details = {"taken.supervisor": taken.supervisor, "taken.room_light": taken.room_light}
        given = {path: text for path, text in details.items() if text}
        first_fields(connection, row, actor, given)
        return {"fitting": identity}

    return str(write_once(database, wish, work).answer["fitting"])


def load_fitting(database: Database, fitting_id: str) -> StoredFitting:
    """The fitting of that identity, whole, as it was at one moment. Shared with others: never change its parts."""
    with database.read() as connection:
        return composed(connection, fitting_id, database.fittings)


def fitting_revision(database: Database, fitting_id: str) -> int:
    """How often the fitting was written to: whether another tablet changed anything, in one small query."""
    with database.read() as connection:
        revision = connection.execute(_REVISION, {"fitting": fitting_id}).scalar()
    if revision is None:
        raise NotFound("fitting")
    return int(revision)


def fittings_of(database: Database, person_id: str) -> tuple[FittingSummary, ...]:
    """A person's fittings, the newest first."""
    with database.read() as connection:
        if connection.execute(_PERSON, {"person": person_id}).first() is None:
            raise NotFound("person")
        rows = connection.execute(_LIST, {"person": person_id}).all()
    return tuple(
        FittingSummary(
            fitting_id=row.identity,
            sequence=row.sequence,
            taken_on=row.taken_on,
            taken_by=row.taken_by,
            from_paper=row.from_paper,
            state=row.state,
            signed_version=row.signed_version,
        )
        for row in rows
    )


def import_fitting(database: Database, *, key: str, actor: Actor, person_id: str, fitting: Fitting) -> str:
    """Take in a whole fitting from a file or a paper form, all of it or nothing; gives its identity.

    Readings get identities of their own here; what points from one to another follows.
    """
    require(actor, "enter readings")
    wish = Request(key=key, actor=actor, action="import_fitting", body=[person_id, fitting])

    def work(connection: Connection) -> Answer:
        return {"fitting": take_in(connection, actor, person_id, fitting)}

    return str(write_once(database, wish, work).answer["fitting"])


def take_in(connection: Connection, actor: Actor, person_id: str, fitting: Fitting) -> str:
    """Take in a whole fitting within a write that has begun; gives its identity.

    A reading keeps who took it and when, as the file says, or else as the file says of the whole fitting.
    """
    if len(fitting.readings) + len(fitting.not_taken) > MOST_READINGS:
        raise NotStorable(
            f"holds more than {MOST_READINGS} readings; that is not one fitting", place="readings"
        )
    identity, row = _start(connection, actor, person_id, fitting.taken)
    first_fields(connection, row, actor, fields_of(fitting))
    _take_in_readings(connection, row, actor, fitting)
    reasons = [
        not_taken_row(as_taken(gap, fitting.taken), fitting_row=row, actor=actor) for gap in fitting.not_taken
    ]
    _insert_all(connection, NOT_TAKEN, reasons)
    return identity


def _start(connection: Connection, actor: Actor, person_id: str, taken: Taken) -> tuple[str, int]:
    person_row = connection.execute(_PERSON, {"person": person_id}).scalar()
    if person_row is None:
        raise NotFound("person")
    identity = new_identity()
    values = {
        "identity": identity,
        "person_id": person_row,
        "sequence": connection.execute(_NEXT, {"person_row": person_row}).scalar_one(),
        "state": "open",
        "revision": 1,
        "taken_on": checked_day(taken.on, what="day of the fitting", example="2026-10-02"),
        "taken_by": optional_text(taken.by or actor.name, what="name", longest=wide.NAME),
        "taken_role": optional_text(taken.role or actor.role, what="role", longest=wide.KEY),
        "from_paper": taken.from_paper,
        "account": actor.account,
        "at": now(),
    }
    row: int = connection.execute(insert(FITTING).returning(FITTING.c.id), values).scalar_one()
    return identity, row


def _take_in_readings(connection: Connection, fitting_row: int, actor: Actor, fitting: Fitting) -> None:
    identities, known = new_identities(fitting.readings)
    rows: list[int] = []
    for reading, identity in zip(fitting.readings, identities, strict=True):
        if reading.replaces is not None and reading.replaces not in known:
            raise NotStorable("A reading of the file corrects one that is not in the file.")
        moved = replace(as_taken(reading, fitting.taken), replaces=known.get(reading.replaces or ""))
        values = reading_row(moved, fitting_row=fitting_row, actor=actor, identity=identity)
        rows.append(connection.execute(insert(READING).returning(READING.c.id), values).scalar_one())
    marks = marks_of(fitting.readings, rows, actor)
    _insert_all(connection, ACCEPTANCE, marks["acceptance"])
    _insert_all(connection, READING_ERROR, marks["reading_error"])


def _insert_all(connection: Connection, table: Any, rows: list[dict[str, Any]]) -> None:
    if rows:
        connection.execute(insert(table), rows)

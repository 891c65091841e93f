"""Collection: what was checked with the pair on, what was adjusted, what advice was given, and to whom."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, Row, bindparam, insert, select

from app.catalogue.measurement import Side
from app.records.actor import Actor
from app.records.database import Database
from app.records.errors import NotStorable
from app.records.fitting_rows import row_of
from app.records.identity import new_identity, now
from app.records.pair_changes import PairChange, change_pair
from app.records.rights import require
from app.records.storable import parts_of, text_of, value_of
from app.records.tables import naming as wide
from app.records.tables.fittings import FITTING
from app.records.tables.people import PERSON
from app.records.tables.receipts import ADJUSTED_VALUE, COLLECTION

CHECKS: dict[str, str] = {
    "bridge": "The bridge bears evenly, nothing blanches",
    "level": "The front is level to brow or pupils, as ordered",
    "lashes": "Lashes are clear on blinking, lids close",
    "tilt": "Tilt and distance are equal on both sides",
    "temples": "Nothing presses at the temples",
    "ears": "The bend lies over the ear root, the drop follows; a hearing aid still sits",
    "heights": "Heights are right: pupil, segment line, fitting cross",
    "sight": "Sight far and near was checked, both eyes and each",
    "cover_test": "Cover test again, where there is prism or a squint",
    "steps": "Looking down, walking, stairs, for bifocals",
    "marks": "Marks were looked for after ten minutes",
}
ADVICE: dict[str, str] = {
    "purpose": "What they are for, and when to wear them",
    "driving": "Driving, where it matters: the legal standard",
    "steps": "Steps and kerbs",
    "adaptation": "Days of getting used to them",
    "cleaning": "Cleaning: no solvent, no paper",
    "both_hands": "On and off with both hands",
    "case": "Into the case; heat warps them",
    "adjustment": "Adjusting is part of the service",
    "contact": "To ring with double vision, headache, or marks that stay more than an hour",
    "return": "The day of the next look",
}
"""Common practice; local rules come first."""

_IN_ORDER = COLLECTION.c.id
_OF_FITTING = (
    select(COLLECTION).where(COLLECTION.c.fitting_id == bindparam("fitting_row")).order_by(_IN_ORDER)
)
_ADJUSTED = (
    select(ADJUSTED_VALUE)
    .where(ADJUSTED_VALUE.c.collection_id == bindparam("collection"))
    .order_by(ADJUSTED_VALUE.c.id)
)
_LAST_OF_PERSON = (
    select(COLLECTION, FITTING.c.identity.label("fitting"))
    .join(FITTING, FITTING.c.id == COLLECTION.c.fitting_id)
    .join(PERSON, PERSON.c.id == FITTING.c.person_id)
    .where(PERSON.c.identity == bindparam("person"), FITTING.c.identity != bindparam("but_not"))
    .order_by(COLLECTION.c.id.desc())
    .limit(10)
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Adjusted:
    """By how much one dimension was adjusted, in its own unit; + more, − less."""

    item: str
    side: Side | None
    amount: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Handover:
    """One collection. `practitioner` fitted the pair; `received_by` is who took it along."""

    fitting_id: str
    pair: int
    practitioner: str
    received_by: str
    checks: tuple[str, ...]
    advice: tuple[str, ...]
    adjusted: tuple[Adjusted, ...] = ()
    words: str = ""
    by: str = ""
    at: str = ""


def hand_over(database: Database, *, key: str, actor: Actor, handover: Handover) -> None:
    """Keep a collection; the pair is collected, by the rules of its life."""
    require(actor, "hand over a pair")
    if not set(handover.checks) <= set(CHECKS) or not set(handover.advice) <= set(ADVICE):
        raise NotStorable("Choose checks and advice from the lists.")
    if not handover.received_by.strip():
        raise NotStorable("Say who took the pair along: the patient, or who came for them.")
    row = {
        "identity": new_identity(),
        "pair": handover.pair,
        "practitioner": text_of(handover.practitioner, what="name", longest=wide.NAME),
        "received_by": text_of(handover.received_by.strip(), what="name", longest=wide.NAME),
        "checks": ",".join(handover.checks),
        "advice": ",".join(handover.advice),
        "words": text_of(handover.words, what="note", longest=wide.NOTE),
    }
    adjusted = [
        {"item": one.item, "side": one.side, "parts": parts_of(one.amount)} for one in handover.adjusted
    ]

    def also(connection: Connection, fitting_row: int) -> dict[str, Any]:
        by = {"account": actor.account, "by": actor.name, "at": now()}
        values = {**row, "fitting_id": fitting_row, **by}
        made = connection.execute(insert(COLLECTION).returning(COLLECTION.c.id), values).scalar_one()
        if adjusted:
            connection.execute(insert(ADJUSTED_VALUE), [{"collection_id": made, **one} for one in adjusted])
        return {}

    change = PairChange(
        fitting_id=handover.fitting_id,
        pair=handover.pair,
        state="collected",
        practitioner=handover.practitioner,
    )
    change_pair(database, key=key, actor=actor, change=change, also=also)


def handovers_of(database: Database, fitting_id: str) -> tuple[Handover, ...]:
    """The collections of a fitting's pairs, the oldest first."""
    with database.read() as connection:
        rows = connection.execute(_OF_FITTING, {"fitting_row": row_of(connection, fitting_id)}).all()
        return tuple(_handovers(connection, rows, fitting_id))


def earlier_handovers(database: Database, *, person_id: str, but_not: str) -> tuple[Handover, ...]:
    """The last collections of a person's other fittings, the newest first: what the next order may learn
    from.
    """
    with database.read() as connection:
        rows = connection.execute(_LAST_OF_PERSON, {"person": person_id, "but_not": but_not}).all()
        return tuple(one for row in rows for one in _handovers(connection, [row], row.fitting))


def _handovers(connection: Connection, rows: Iterable[Row[Any]], fitting_id: str) -> Iterable[Handover]:
    for row in rows:
        adjusted = connection.execute(_ADJUSTED, {"collection": row.id}).all()
        yield Handover(
            fitting_id=fitting_id,
            pair=row.pair,
            practitioner=row.practitioner,
            received_by=row.received_by,
            checks=tuple(part for part in row.checks.split(",") if part),
            advice=tuple(part for part in row.advice.split(",") if part),
            adjusted=tuple(
                Adjusted(item=one.item, side=one.side, amount=value_of(one.parts)) for one in adjusted
            ),
            words=row.words,
            by=row.by,
            at=row.at,
        )

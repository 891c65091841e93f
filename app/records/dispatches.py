"""Orders on their way: what was sent to which maker, how and when, and what the maker confirmed."""

from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import Connection, bindparam, insert, select

from app.records.actor import Actor
from app.records.database import Database
from app.records.errors import NotFound, NotStorable
from app.records.fitting_rows import row_of
from app.records.identity import new_identity, now
from app.records.makers import WANTS, WAYS, load_maker
from app.records.pairs import Wanted, checked_event, insert_event, state_key
from app.records.person_details import checked_day
from app.records.requests import Answer, Request, write_once
from app.records.rights import require
from app.records.storable import text_of
from app.records.tables.bench import ACKNOWLEDGEMENT, DISPATCH
from app.records.tables.fittings import FITTING
from app.records.tables.naming import NOTE

MAY_BE_ORDERED = ("signed", "agreed", "on_hold")
"""From here sending an order makes the pair “ordered”; later on it is one more sending of the same pair."""

_OF_FITTING = (
    select(DISPATCH).where(DISPATCH.c.fitting_id == bindparam("fitting_row")).order_by(DISPATCH.c.id)
)
_CONFIRMED = (
    select(ACKNOWLEDGEMENT, DISPATCH.c.identity)
    .join(DISPATCH, DISPATCH.c.id == ACKNOWLEDGEMENT.c.dispatch_id)
    .where(DISPATCH.c.fitting_id == bindparam("fitting_row"))
    .order_by(ACKNOWLEDGEMENT.c.id)
)
_ONE = (
    select(DISPATCH.c.id, DISPATCH.c.pair, DISPATCH.c.name, FITTING.c.identity)
    .join(FITTING, FITTING.c.id == DISPATCH.c.fitting_id)
    .where(DISPATCH.c.identity == bindparam("dispatch"))
)
AFTER_CONFIRMING = {
    "ordered": "being_made",
    "remake": "being_made",
    "being_made": "being_made",
    "query": "query",
}
"""Where a pair is once its maker confirmed; elsewhere a confirmation comes too late to move it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sending:
    """What is to be noted as sent. `sent` are keys of WANTS, `way` one of WAYS."""

    fitting_id: str
    pair: int
    version: int
    maker_id: str
    way: str
    sent: tuple[str, ...]
    words: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Acknowledgement:
    """What a maker confirmed."""

    promised: str | None
    words: str
    by: str
    at: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Dispatch:
    """One sending with what was confirmed of it, the last confirmation last."""

    dispatch_id: str
    pair: int
    version: int
    maker_id: str
    kind: str
    name: str
    way: str
    sent: tuple[str, ...]
    words: str
    by: str
    at: str
    confirmed: tuple[Acknowledgement, ...]


def send_order(database: Database, *, key: str, actor: Actor, sending: Sending) -> str:
    """Note that a signed version was sent; gives the sending's identity. The first one makes the pair
    “ordered”.
    """
    require(actor, "send orders")
    maker = load_maker(database, sending.maker_id).maker
    if sending.way not in WAYS or not sending.sent or not set(sending.sent) <= set(WANTS):
        raise NotStorable("Choose how it was sent, and at least one thing that was sent.")
    text_of(sending.words, what="note", longest=NOTE)
    wish = Request(key=key, actor=actor, action="send_order", body=[sending])

    def work(connection: Connection) -> Answer:
        state, row, _ = state_key(connection, sending.fitting_id, sending.pair)
        if state in MAY_BE_ORDERED:
            words = f"to {maker.name}"
            wanted = Wanted(fitting_id=sending.fitting_id, pair=sending.pair, state="ordered", words=words)
            insert_event(connection, actor, row, checked_event(actor, wanted))
        values = {
            "identity": new_identity(),
            "fitting_id": row,
            "pair": sending.pair,
            "version": sending.version,
            "maker": sending.maker_id,
            "kind": maker.kind,
            "name": maker.name,
            "way": sending.way,
            "sent": ",".join(sending.sent),
            "words": sending.words,
        }
        by = {"account": actor.account, "by": actor.name, "at": now()}
        connection.execute(insert(DISPATCH), {**values, **by})
        return {"dispatch": values["identity"]}

    return str(write_once(database, wish, work).answer["dispatch"])


def acknowledge(
    database: Database, *, key: str, actor: Actor, dispatch_id: str, promised: str | None, words: str = ""
) -> None:
    """Note that a maker confirmed a sending, with the date that was promised: the maker has the pair."""
    require(actor, "send orders")
    if promised is not None:
        checked_day(promised, what="promised date", example="2026-11-14")
    text_of(words, what="note", longest=NOTE)
    wish = Request(key=key, actor=actor, action="acknowledge", body=[dispatch_id, promised, words])

    def work(connection: Connection) -> Answer:
        dispatch = connection.execute(_ONE, {"dispatch": dispatch_id}).first()
        if dispatch is None:
            raise NotFound("sending")
        said = {"dispatch_id": dispatch.id, "promised": promised, "words": words}
        by = {"account": actor.account, "by": actor.name, "at": now()}
        connection.execute(insert(ACKNOWLEDGEMENT), {**said, **by})
        state, row, _ = state_key(connection, dispatch.identity, dispatch.pair)
        if state in AFTER_CONFIRMING:
            wanted = Wanted(
                fitting_id=dispatch.identity,
                pair=dispatch.pair,
                state=AFTER_CONFIRMING[state],
                words=f"confirmed by {dispatch.name}",
                promised=promised,
            )
            insert_event(connection, actor, row, checked_event(actor, wanted))
        return {}

    write_once(database, wish, work)


def dispatches_of(database: Database, fitting_id: str) -> tuple[Dispatch, ...]:
    """Every sending of a fitting's pairs, the oldest first."""
    with database.read() as connection:
        row = {"fitting_row": row_of(connection, fitting_id)}
        sent = connection.execute(_OF_FITTING, row).all()
        confirmed = connection.execute(_CONFIRMED, row).all()
    found: dict[str, list[Acknowledgement]] = {}
    for one in confirmed:
        said = Acknowledgement(promised=one.promised, words=one.words, by=one.by, at=one.at)
        found.setdefault(one.identity, []).append(said)
    return tuple(
        Dispatch(
            dispatch_id=one.identity,
            pair=one.pair,
            version=one.version,
            maker_id=one.maker,
            kind=one.kind,
            name=one.name,
            way=one.way,
            sent=tuple(part for part in one.sent.split(",") if part),
            words=one.words,
            by=one.by,
            at=one.at,
            confirmed=tuple(found.get(one.identity, ())),
        )
        for one in sent
    )


def maker_of(dispatches: Sequence[Dispatch], *, pair: int, kind: str) -> str | None:
    """Who made it: the maker of that kind to whom the pair was sent last."""
    own = [one.maker_id for one in dispatches if one.pair == pair and one.kind == kind]
    return own[-1] if own else None

"""What came back: the values measured on a received pair, and what was decided. Values are stored, never
ticks.
"""

import json
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, Row, bindparam, insert, or_, select

from app.catalogue.measurement import Side
from app.records.actor import Actor
from app.records.database import Database
from app.records.errors import NotAllowed, NotStorable
from app.records.identity import new_identity, now
from app.records.pair_changes import PairChange, change_pair
from app.records.pairs import state_key
from app.records.requests import Answer, Request, write_once
from app.records.rights import require
from app.records.storable import parts_of, text_of, value_of
from app.records.tables import naming as wide
from app.records.tables.fittings import FITTING
from app.records.tables.receipts import RECEIPT_DECISION, RECEIPT_VALUE

OUTCOMES: dict[str, str] = {
    "pass": "Passed",
    "concession": "Accepted by a practitioner with differences",
    "return": "Sent back to the maker",
}
STATE_AFTER = {"pass": "checked", "concession": "checked", "return": "returned"}
MOST_DECISIONS = 200
"""Orders of one maker that a plot shows: the newest."""

_VALUES = (
    select(RECEIPT_VALUE)
    .where(
        RECEIPT_VALUE.c.fitting_id == bindparam("fitting_row"),
        RECEIPT_VALUE.c.pair == bindparam("pair"),
        RECEIPT_VALUE.c.arrival == bindparam("arrival"),
    )
    .order_by(RECEIPT_VALUE.c.id)
)
_DECISIONS = (
    select(RECEIPT_DECISION)
    .where(
        RECEIPT_DECISION.c.fitting_id == bindparam("fitting_row"),
        RECEIPT_DECISION.c.pair == bindparam("pair"),
    )
    .order_by(RECEIPT_DECISION.c.id)
)
_OF_MAKER = (
    select(RECEIPT_DECISION, FITTING.c.identity.label("fitting"))
    .join(FITTING, FITTING.c.id == RECEIPT_DECISION.c.fitting_id)
    .where(
        or_(
            RECEIPT_DECISION.c.frame_maker == bindparam("maker"),
            RECEIPT_DECISION.c.lens_maker == bindparam("maker"),
        )
    )
    .order_by(RECEIPT_DECISION.c.id.desc())
    .limit(MOST_DECISIONS)
)


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredValue:
    """One value measured on what came in. `value` None: taken back."""

    item: str
    side: Side | None
    value: float | None
    text: str
    by: str = ""
    at: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Receipt:
    """The pair that came in last. `arrival` counts how often the pair came in; 0: it has not."""

    arrival: int
    state: str
    values: tuple[MeasuredValue, ...]
    """What counts: the last of each item and side."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Decision:
    """What was decided on one arrival, with every value as it was judged then."""

    arrival: int
    version: int
    outcome: str
    standard: str
    reason: str
    document: tuple[dict[str, Any], ...]
    frame_maker: str | None
    lens_maker: str | None
    by: str
    at: str
    fitting_id: str = ""
    pair: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class WantedDecision:
    """A decision that is to be kept. `differences` is how many items stand outside or wait for a decision."""

    fitting_id: str
    pair: int
    version: int
    outcome: str
    standard: str
    reason: str
    document: tuple[dict[str, Any], ...]
    differences: int
    frame_maker: str | None = None
    lens_maker: str | None = None
    promised: str | None = None


def save_receipt_values(
    database: Database,
    *,
    key: str,
    actor: Actor,
    fitting_id: str,
    pair: int,
    values: Iterable[MeasuredValue],
) -> int:
    """Keep values measured on the pair that came in last; gives how many. Earlier ones stay in the record."""
    require(actor, "measure what came in")
    rows = [_row(value) for value in values]
    wish = Request(key=key, actor=actor, action="save_receipt_values", body=[fitting_id, pair, rows])

    def work(connection: Connection) -> Answer:
        state, fitting_row, arrival = state_key(connection, fitting_id, pair)
        if state != "received":
            raise NotAllowed("Values are measured on a pair that was received and is not decided yet.")
        by = {"account": actor.account, "by": actor.name, "at": now()}
        place = {"fitting_id": fitting_row, "pair": pair, "arrival": arrival}
        if rows:
            connection.execute(insert(RECEIPT_VALUE), [{**place, **row, **by} for row in rows])
        return {"kept": len(rows)}

    return int(write_once(database, wish, work).answer["kept"])


def load_receipt(database: Database, fitting_id: str, pair: int) -> Receipt:
    """The pair that came in last, with what was measured on it."""
    with database.read() as connection:
        state, row, arrival = state_key(connection, fitting_id, pair)
        place = {"fitting_row": row, "pair": pair, "arrival": arrival}
        rows = connection.execute(_VALUES, place).all()
    last = {(one.item, one.side): one for one in rows}
    values = tuple(_value(one) for one in last.values() if one.parts is not None)
    return Receipt(arrival=arrival, state=state, values=values)


def decide_receipt(database: Database, *, key: str, actor: Actor, wanted: WantedDecision) -> None:
    """Keep the decision on the pair that came in last; its state follows. Differences take a practitioner's
    reason.
    """
    require(actor, "measure what came in")
    if wanted.outcome not in OUTCOMES:
        raise NotStorable("Choose whether it passes, is accepted with a reason, or goes back.")
    if wanted.outcome == "pass" and wanted.differences:
        raise NotAllowed("Something is outside its tolerance or waits for a decision: it cannot simply pass.")
    reason = text_of(wanted.reason.strip(), what="reason", longest=wide.NOTE)
    if wanted.outcome == "concession":
        require(actor, "let a difference pass")
        if not reason:
            raise NotStorable("Say why the differences are accepted for this patient.")

    def also(connection: Connection, fitting_row: int) -> dict[str, Any]:
        arrival = state_key(connection, wanted.fitting_id, wanted.pair)[2]
        row = {
            "identity": new_identity(),
            "fitting_id": fitting_row,
            "pair": wanted.pair,
            "arrival": arrival,
            "version": wanted.version,
            "outcome": wanted.outcome,
            "standard": wanted.standard,
            "reason": reason,
            "document": json.dumps(wanted.document, ensure_ascii=False),
            "frame_maker": wanted.frame_maker,
            "lens_maker": wanted.lens_maker,
        }
        by = {"account": actor.account, "by": actor.name, "at": now()}
        connection.execute(insert(RECEIPT_DECISION), {**row, **by})
        return {}

    change = PairChange(
        fitting_id=wanted.fitting_id,
        pair=wanted.pair,
        state=STATE_AFTER[wanted.outcome],
        promised=wanted.promised,
    )
    change_pair(database, key=key, actor=actor, change=change, also=also)


def decisions_of(database: Database, fitting_id: str, pair: int) -> tuple[Decision, ...]:
    """Every decision on a pair, the oldest first."""
    with database.read() as connection:
        row = state_key(connection, fitting_id, pair)[1]
        rows = connection.execute(_DECISIONS, {"fitting_row": row, "pair": pair}).all()
    return tuple(_decision(one, fitting_id) for one in rows)


def decisions_of_maker(database: Database, maker_id: str) -> tuple[Decision, ...]:
    """The newest decisions on what a maker made, the oldest of them first."""
    with database.read() as connection:
        rows = connection.execute(_OF_MAKER, {"maker": maker_id}).all()
    return tuple(_decision(one, one.fitting) for one in reversed(rows))


def _row(value: MeasuredValue) -> dict[str, Any]:
    return {
        "item": text_of(value.item, what="item", longest=wide.KEY),
        "side": value.side,
        "parts": None if value.value is None else parts_of(value.value),
        "text": text_of(value.text, what="value", longest=wide.SHORT),
    }


def _value(row: Row[Any]) -> MeasuredValue:
    return MeasuredValue(
        item=row.item, side=row.side, value=value_of(row.parts), text=row.text, by=row.by, at=row.at
    )


def _decision(row: Row[Any], fitting_id: str) -> Decision:
    return Decision(
        arrival=row.arrival,
        version=row.version,
        outcome=row.outcome,
        standard=row.standard,
        reason=row.reason,
        document=tuple(json.loads(row.document)),
        frame_maker=row.frame_maker,
        lens_maker=row.lens_maker,
        by=row.by,
        at=row.at,
        fitting_id=fitting_id,
        pair=row.pair,
    )

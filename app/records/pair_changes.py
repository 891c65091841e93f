"""Changing the state of a pair by the rules of its life, in one transaction."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, bindparam, select

from app.records.actor import Actor
from app.records.database import Database
from app.records.errors import NotAllowed
from app.records.fittings import load_fitting
from app.records.pair_machine import PairFacts, refusal
from app.records.pairs import Wanted, checked_event, insert_event, pair_states, state_key
from app.records.requests import Answer, Request, write_once
from app.records.tables.receipts import RECEIPT_DECISION

_LAST_DECISION = (
    select(RECEIPT_DECISION.c.arrival, RECEIPT_DECISION.c.outcome)
    .where(
        RECEIPT_DECISION.c.fitting_id == bindparam("fitting_row"),
        RECEIPT_DECISION.c.pair == bindparam("pair"),
    )
    .order_by(RECEIPT_DECISION.c.id.desc())
    .limit(1)
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PairChange:
    """What is to be said about a pair. `practitioner` is the registered practitioner who was there, by name."""

    fitting_id: str
    pair: int
    state: str
    words: str = ""
    promised: str | None = None
    practitioner: str = ""
    cause: str = ""

    @property
    def written(self) -> str:
        """The words as they are kept."""
        present = f"Practitioner present: {self.practitioner}." if self.practitioner else ""
        return f"{present} {self.words}".strip()


def change_pair(
    database: Database,
    *,
    key: str,
    actor: Actor,
    change: PairChange,
    also: Callable[[Connection, int], dict[str, Any]] | None = None,
) -> Answer:
    """Say what happened to a pair, where the rules of its life let this role say so; NotAllowed in words
    otherwise.

    `also` writes what belongs to the change, in the same transaction and before the rules are looked at; it
    gets the row of the fitting and gives what is to be answered besides.
    """
    wanted = checked_event(
        actor,
        Wanted(
            fitting_id=change.fitting_id,
            pair=change.pair,
            state=change.state,
            words=change.written,
            promised=change.promised,
        ),
    )
    fitting = load_fitting(database, change.fitting_id).fitting
    chosen = fitting.pair(change.pair)
    route = chosen.route if chosen is not None else None
    replaced = pair_states(database, change.fitting_id)[change.pair].replaced
    wish = Request(key=key, actor=actor, action="change_pair", body=[change])

    def work(connection: Connection) -> Answer:
        state, row, arrival = state_key(connection, change.fitting_id, change.pair)
        more = also(connection, row) if also is not None else {}
        facts = PairFacts(
            state=state,
            restricted=fitting.restricted,
            route=route,
            practitioner=change.practitioner,
            decided=_decided(connection, row, change.pair, arrival),
            cause=change.cause,
            replaced=replaced,
        )
        refused = refusal(facts, change.state, role=actor.role)
        if refused is not None:
            raise NotAllowed(refused)
        return {"event": insert_event(connection, actor, row, wanted), **more}

    return write_once(database, wish, work).answer


def _decided(connection: Connection, fitting_row: int, pair: int, arrival: int) -> str:
    """The outcome of the last measuring, where it was of the pair that came in last."""
    row = connection.execute(_LAST_DECISION, {"fitting_row": fitting_row, "pair": pair}).first()
    return str(row.outcome) if row is not None and row.arrival == arrival else ""

"""The practice's pairs under way: where each is, what was promised, and whether a question waits."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Row, Select, bindparam, func, select

from app.records.database import Database
from app.records.pair_states import STATE_OF, PairState
from app.records.tables.fittings import FITTING
from app.records.tables.people import PERSON
from app.records.tables.practice import PAIR_EVENT

UNDER_WAY = (
    *("agreed", "ordered", "being_made", "query", "fit_up_booked", "glazing", "received", "returned"),
    *("checked", "told", "after_care", "on_hold", "remake"),
)
MOST = 500
"""Pairs on the list: three months of a large practice. Ours."""

_NEWEST = (
    select(func.max(PAIR_EVENT.c.id).label("event"))
    .group_by(PAIR_EVENT.c.fitting_id, PAIR_EVENT.c.pair)
    .subquery("newest")
)
_OTHER = PAIR_EVENT.alias("other")
_PROMISED = (
    select(_OTHER.c.promised)
    .where(
        _OTHER.c.fitting_id == PAIR_EVENT.c.fitting_id,
        _OTHER.c.pair == PAIR_EVENT.c.pair,
        _OTHER.c.promised.is_not(None),
    )
    .order_by(_OTHER.c.id.desc())
    .limit(1)
    .correlate(PAIR_EVENT)
    .scalar_subquery()
    .label("last_promised")
)
_PAIRS: Select[Any] = (
    select(
        FITTING.c.identity,
        PERSON.c.identity.label("person"),
        PERSON.c.reference,
        PERSON.c.given_name,
        PERSON.c.family_name,
        PAIR_EVENT.c.pair,
        PAIR_EVENT.c.state,
        PAIR_EVENT.c.at,
        _PROMISED,
    )
    .join(_NEWEST, _NEWEST.c.event == PAIR_EVENT.c.id)
    .join(FITTING, FITTING.c.id == PAIR_EVENT.c.fitting_id)
    .join(PERSON, PERSON.c.id == FITTING.c.person_id)
    .where(PAIR_EVENT.c.state.in_(bindparam("states", expanding=True)))
    .order_by(PAIR_EVENT.c.id)
    .limit(MOST)
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PairUnderWay:
    """One pair on the list. `since`: when it came to where it is."""

    fitting_id: str
    person_id: str
    reference: str
    initials: str
    pair: int
    state: PairState
    since: str
    promised: str | None

    def overdue_on(self, day: str) -> bool:
        """True where the promised day (ISO 8601) is past and the pair is still not here."""
        return self.promised is not None and self.promised < day and self.state.key in NOT_HERE


NOT_HERE = (
    "agreed",
    "ordered",
    "being_made",
    "query",
    "fit_up_booked",
    "glazing",
    "returned",
    "remake",
    "on_hold",
)


def pairs_under_way(database: Database) -> tuple[PairUnderWay, ...]:
    """Every pair that was agreed and is not handed over or closed, longest where it is first."""
    with database.read() as connection:
        rows = connection.execute(_PAIRS, {"states": list(UNDER_WAY)}).all()
    return tuple(_pair(row) for row in rows)


def overdue(pairs: Iterable[PairUnderWay], *, day: str) -> tuple[PairUnderWay, ...]:
    """Those of which the promised day is past, the longest overdue first."""
    late = [pair for pair in pairs if pair.overdue_on(day)]
    return tuple(sorted(late, key=lambda pair: pair.promised or ""))


def _pair(row: Row[Any]) -> PairUnderWay:
    names = (row.given_name, row.family_name)
    return PairUnderWay(
        fitting_id=row.identity,
        person_id=row.person,
        reference=row.reference,
        initials="".join(f"{name[0]}." for name in names if name),
        pair=row.pair,
        state=STATE_OF[row.state],
        since=row.at,
        promised=row.last_promised,
    )

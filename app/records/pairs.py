"""What happens to each of the two pairs, and where each one is now."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, Row, bindparam, func, insert, select

from app.records.actor import Actor
from app.records.database import Database
from app.records.errors import NotAllowed, NotStorable
from app.records.fitting_rows import row_of
from app.records.identity import new_identity, now
from app.records.pair_states import PAIRS, STATE_OF, WAITS, PairState
from app.records.person_details import checked_day
from app.records.requests import Answer, Request, write_once
from app.records.rights import require
from app.records.storable import text_of
from app.records.tables.fittings import FITTING, SIGNED_VERSION
from app.records.tables.naming import NOTE
from app.records.tables.people import PERSON
from app.records.tables.practice import PAIR_EVENT

MOST_PEOPLE = 100

_SIGNED = select(SIGNED_VERSION.c.id).where(SIGNED_VERSION.c.fitting_id == bindparam("fitting_row")).limit(1)
_STANDS = select(FITTING.c.state).where(FITTING.c.id == bindparam("fitting_row"))
_VERSIONS = (
    select(SIGNED_VERSION.c.fitting_id, SIGNED_VERSION.c.number, SIGNED_VERSION.c.at)
    .where(SIGNED_VERSION.c.fitting_id.in_(bindparam("fitting_rows", expanding=True)))
    .order_by(SIGNED_VERSION.c.number)
)
_OTHER = FITTING.alias("other")
_NEWEST_FITTINGS = (
    select(
        PERSON.c.identity, FITTING.c.identity.label("fitting"), FITTING.c.id, FITTING.c.state, FITTING.c.at
    )
    .join(PERSON, PERSON.c.id == FITTING.c.person_id)
    .where(
        PERSON.c.identity.in_(bindparam("people", expanding=True)),
        FITTING.c.sequence
        == select(func.max(_OTHER.c.sequence))
        .where(_OTHER.c.person_id == FITTING.c.person_id)
        .scalar_subquery(),
    )
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PairEvent:
    """Something that happened to a pair."""

    event_id: str
    pair: int
    state: PairState
    words: str
    promised: str | None
    by: str
    at: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PairStatus:
    """Where a pair is now. `promised` is the latest date that was promised, `told` how often it was rung
    about.
    """

    fitting_id: str
    pair: int
    state: PairState
    words: str
    promised: str | None
    told: int
    by: str
    at: str
    newest_version: int | None = None
    """Number of the version signed last, None where none is."""
    ordered_version: int | None = None
    """Number of the version whose order went to the maker, None where none did."""

    @property
    def replaced(self) -> bool:
        """True where the maker still works, or worked, by a version that a newer signed one replaces."""
        if self.newest_version is None or self.ordered_version is None or self.state.done:
            return False
        return self.ordered_version < self.newest_version

    @property
    def label(self) -> str:
        """Where it is, for the practice; where its order was replaced, first what must be done."""
        if not self.replaced:
            return self.state.label
        return (
            f"Version {self.newest_version} must go out, version {self.ordered_version} be recalled "
            f"({self.state.label[0].lower()}{self.state.label[1:]})"
        )

    @property
    def may_say(self) -> str:
        """What reception may say about it."""
        return WAITS if self.replaced else self.state.may_say


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """An event that is to be kept."""

    fitting_id: str
    pair: int
    state: str
    words: str = ""
    promised: str | None = None


def record_pair_event(
    database: Database,
    *,
    key: str,
    actor: Actor,
    fitting_id: str,
    pair: int,
    state: str,
    words: str = "",
    promised: str | None = None,
) -> str:
    """Keep what happened to a pair; gives the event's identity. Signed values are not touched by it.

    It takes any state: for what a person says on a page use `pair_changes.change_pair`, which knows what can
    come next.
    """
    wanted = checked_event(
        actor, Wanted(fitting_id=fitting_id, pair=pair, state=state, words=words, promised=promised)
    )
    body = [fitting_id, pair, state, words, promised]
    wish = Request(key=key, actor=actor, action="record_pair_event", body=body)

    def work(connection: Connection) -> Answer:
        return {"event": insert_event(connection, actor, row_of(connection, fitting_id), wanted)}

    return str(write_once(database, wish, work).answer["event"])


def checked_event(actor: Actor, wanted: Wanted) -> Wanted:
    """The same event, refused in words where it cannot be kept."""
    _checked(actor, wanted.pair, wanted.state)
    if wanted.promised is not None:
        checked_day(wanted.promised, what="promised date", example="2026-11-14")
    text_of(wanted.words, what="note", longest=NOTE)
    return wanted


def insert_event(connection: Connection, actor: Actor, fitting_row: int, wanted: Wanted) -> str:
    """Keep a checked event in a transaction; gives its identity."""
    state = STATE_OF[wanted.state]
    if not state.before_order and connection.execute(_SIGNED, {"fitting_row": fitting_row}).first() is None:
        raise NotAllowed(f"Pair {wanted.pair} cannot be “{state.label}” before the fitting is signed off.")
    if state.goes_on and connection.execute(_STANDS, {"fitting_row": fitting_row}).scalar() != "signed":
        raise NotAllowed("A new version is open: sign it off first, so that nobody works from two.")
    identity = new_identity()
    event = {"identity": identity, "fitting_id": fitting_row, "pair": wanted.pair, "state": wanted.state}
    said = {"words": wanted.words, "promised": wanted.promised}
    by = {"account": actor.account, "by": actor.name, "at": now()}
    connection.execute(insert(PAIR_EVENT), {**event, **said, **by})
    return identity


def state_key(connection: Connection, fitting_id: str, pair: int) -> tuple[str, int, int]:
    """Where a pair is now, the row of its fitting, and how often the pair came in so far."""
    row = row_of(connection, fitting_id)
    fitting = connection.execute(select(FITTING.c.state, FITTING.c.at).where(FITTING.c.id == row)).one()
    events = _events(connection, [row])
    statuses = _statuses(fitting_id, state=fitting.state, began=fitting.at, events=events, signed=())
    arrivals = sum(event.pair == pair and event.state == "received" for event in events)
    return statuses[pair].state.key, row, arrivals


def pair_states(database: Database, fitting_id: str) -> dict[int, PairStatus]:
    """Where pair 1 and pair 2 of a fitting are now."""
    with database.read() as connection:
        row = row_of(connection, fitting_id)
        fitting = connection.execute(select(FITTING.c.state, FITTING.c.at).where(FITTING.c.id == row)).one()
        events = _events(connection, [row])
        versions = connection.execute(_VERSIONS, {"fitting_rows": [row]}).all()
    return _statuses(
        fitting_id, state=fitting.state, began=fitting.at, events=events, signed=[one.at for one in versions]
    )


def pair_events(database: Database, fitting_id: str) -> tuple[PairEvent, ...]:
    """Everything that happened to the pairs of a fitting, the oldest first."""
    with database.read() as connection:
        events = _events(connection, [row_of(connection, fitting_id)])
    return tuple(
        PairEvent(
            event_id=row.identity,
            pair=row.pair,
            state=STATE_OF[row.state],
            words=row.words,
            promised=row.promised,
            by=row.by,
            at=row.at,
        )
        for row in events
    )


def latest_pair_states(database: Database, people: Sequence[str]) -> dict[str, dict[int, PairStatus]]:
    """Where the pairs of each person's newest fitting are, for a list of people at once.

    People without a fitting are left out.
    """
    with database.read() as connection:
        fittings = connection.execute(_NEWEST_FITTINGS, {"people": list(people)[:MOST_PEOPLE]}).all()
        rows = [row.id for row in fittings]
        events = _events(connection, rows)
        versions = connection.execute(_VERSIONS, {"fitting_rows": rows}).all()
    return {
        row.identity: _statuses(
            row.fitting,
            state=row.state,
            began=row.at,
            events=[event for event in events if event.fitting_id == row.id],
            signed=[version.at for version in versions if version.fitting_id == row.id],
        )
        for row in fittings
    }


def _checked(actor: Actor, pair: int, state: str) -> None:
    require(actor, "note what happens to a pair")
    if pair not in PAIRS:
        raise NotStorable("A pair is 1 or 2.")
    wanted = STATE_OF.get(state)
    if wanted is None:
        raise NotStorable("There is no such state of a pair; choose one from the list.")
    if wanted.practitioner_only:
        require(actor, "sign off")


def _events(connection: Connection, fitting_rows: Sequence[int]) -> Sequence[Row[tuple[Any, ...]]]:
    query = select(PAIR_EVENT).where(PAIR_EVENT.c.fitting_id.in_(fitting_rows)).order_by(PAIR_EVENT.c.id)
    return connection.execute(query).all()


def _now(last: str, *, fitting: str) -> str:
    """Where a pair is by its last event; a signed fitting is past being measured and chosen."""
    return "signed" if fitting == "signed" and last in ("measuring", "choosing") else last


def _statuses(
    fitting_id: str,
    *,
    state: str,
    began: str,
    events: Sequence[Row[tuple[Any, ...]]],
    signed: Sequence[str],
) -> dict[int, PairStatus]:
    """The last event of each pair; without one, what the fitting itself says. `signed` is when, oldest first."""
    statuses = {}
    for pair in PAIRS:
        own = [event for event in events if event.pair == pair]
        last = own[-1] if own else None
        promises = [event.promised for event in own if event.promised]
        statuses[pair] = PairStatus(
            fitting_id=fitting_id,
            pair=pair,
            state=STATE_OF[_now(last.state if last else "measuring", fitting=state)],
            words=last.words if last else "",
            promised=promises[-1] if promises else None,
            told=sum(event.state == "told" for event in own),
            by=last.by if last else "",
            at=last.at if last else began,
            newest_version=len(signed) or None,
            ordered_version=_ordered_version(own, signed),
        )
    return statuses


def _ordered_version(events: Sequence[Row[tuple[Any, ...]]], signed: Sequence[str]) -> int | None:
    """The version that was the newest when the order last went out; the maker's first sign of life counts too."""
    sent = [event.at for event in events if STATE_OF[event.state].goes_out]
    taken_up = [event.at for event in events if event.state in ("being_made", "received")]
    at = sent[-1] if sent else next(iter(taken_up), None)
    if at is None:
        return None
    return sum(moment <= at for moment in signed) or None

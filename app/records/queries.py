"""Questions from the bench: a thread on the line of the order that it concerns, with the value as it then
stood.
"""

from dataclasses import dataclass

from sqlalchemy import Connection, bindparam, insert, select

from app.records.actor import Actor
from app.records.database import Database
from app.records.errors import NotFound, NotStorable
from app.records.fitting_rows import row_of
from app.records.identity import new_identity, now
from app.records.pair_machine import NEXT
from app.records.pairs import Wanted, insert_event, state_key
from app.records.requests import Answer, Request, write_once
from app.records.rights import require
from app.records.signoff import reopen
from app.records.storable import text_of
from app.records.tables import naming as wide
from app.records.tables.bench import QUERY, QUERY_ENTRY
from app.records.tables.fittings import FITTING

ENTRY_WORDS = {
    "question": "Asked",
    "question_again": "Asked again",
    "answer": "Answered: stays as it is",
    "change": "Answered with a change",
    "closed": "Closed",
}
ENDS = ("answer", "change", "closed")

_OF_FITTING = select(QUERY).where(QUERY.c.fitting_id == bindparam("fitting_row")).order_by(QUERY.c.id)
_ENTRIES = (
    select(QUERY_ENTRY, QUERY.c.identity)
    .join(QUERY, QUERY.c.id == QUERY_ENTRY.c.query_id)
    .where(QUERY.c.fitting_id == bindparam("fitting_row"))
    .order_by(QUERY_ENTRY.c.id)
)
_ONE = (
    select(QUERY.c.id, QUERY.c.pair, QUERY.c.version, QUERY.c.fitting_id, FITTING.c.identity)
    .join(FITTING, FITTING.c.id == QUERY.c.fitting_id)
    .where(QUERY.c.identity == bindparam("query"))
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """What is asked: about which line (empty: the order as a whole), and what stood there in which version."""

    fitting_id: str
    pair: int
    version: int
    dimension: str
    value: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class QueryEntry:
    """One thing said. `version` is the signed version that an answer with a change makes."""

    kind: str
    words: str
    version: int | None
    by: str
    at: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Query:
    """One thread, the oldest entry first."""

    query_id: str
    pair: int
    version: int
    dimension: str
    value: str
    entries: tuple[QueryEntry, ...]

    @property
    def open(self) -> bool:
        """True while it waits for an answer."""
        return self.entries[-1].kind not in ENDS


def ask(database: Database, *, key: str, actor: Actor, question: Question) -> str:
    """Note a question from the bench; gives the thread's identity. The pair waits until it is answered."""
    require(actor, "send orders")
    if not text_of(question.words.strip(), what="question", longest=wide.NOTE):
        raise NotStorable("Write what the bench asks, in its own words.")
    wish = Request(key=key, actor=actor, action="ask", body=[question])

    def work(connection: Connection) -> Answer:
        state, row, _ = state_key(connection, question.fitting_id, question.pair)
        values = {
            "identity": new_identity(),
            "fitting_id": row,
            "pair": question.pair,
            "version": question.version,
            "dimension": text_of(question.dimension, what="line of the order", longest=wide.KEY),
            "value": text_of(question.value, what="value", longest=wide.NOTE),
        }
        query_row = connection.execute(insert(QUERY).returning(QUERY.c.id), values | _by(actor)).scalar_one()
        _say(connection, actor, query_row, kind="question", words=question.words.strip())
        if "query" in NEXT[state]:
            wanted = Wanted(fitting_id=question.fitting_id, pair=question.pair, state="query")
            insert_event(connection, actor, row, wanted)
        return {"query": values["identity"]}

    return str(write_once(database, wish, work).answer["query"])


def reply(database: Database, *, key: str, actor: Actor, query_id: str, kind: str, words: str) -> str:
    """Add to a thread; gives the fitting's identity. Anything but a further question takes a practitioner.

    With a change the signed fitting is opened for the next version, with the question as its reason. Once
    nothing waits any more, the maker has the pair again.
    """
    require(actor, "send orders" if kind == "question_again" else "answer the bench")
    if kind not in ENTRY_WORDS or kind == "question":
        raise NotStorable("Choose how the question is answered.")
    if not text_of(words.strip(), what="answer", longest=wide.NOTE):
        raise NotStorable("Write the answer as the bench is to read it.")
    wish = Request(key=key, actor=actor, action="reply", body=[query_id, kind, words])

    def work(connection: Connection) -> Answer:
        query = connection.execute(_ONE, {"query": query_id}).first()
        if query is None:
            raise NotFound("question")
        version = None
        if kind == "change":
            version = (
                reopen(connection, actor, query.identity, f"Question from the bench: {words.strip()}") + 1
            )
        _say(connection, actor, query.id, kind=kind, words=words.strip(), version=version)
        state, row, _ = state_key(connection, query.identity, query.pair)
        # With a change the new version goes out first: where the pair is then follows from its being sent.
        if (
            kind != "change"
            and kind in ENDS
            and state == "query"
            and not _waiting(connection, row, query.pair)
        ):
            wanted = Wanted(fitting_id=query.identity, pair=query.pair, state="being_made", words="answered")
            insert_event(connection, actor, row, wanted)
        return {"fitting": query.identity}

    return str(write_once(database, wish, work).answer["fitting"])


def queries_of(database: Database, fitting_id: str) -> tuple[Query, ...]:
    """Every thread of a fitting, the oldest first."""
    with database.read() as connection:
        return _threads(connection, row_of(connection, fitting_id))


def _threads(connection: Connection, fitting_row: int) -> tuple[Query, ...]:
    row = {"fitting_row": fitting_row}
    entries: dict[str, list[QueryEntry]] = {}
    for one in connection.execute(_ENTRIES, row).all():
        said = QueryEntry(kind=one.kind, words=one.words, version=one.version, by=one.by, at=one.at)
        entries.setdefault(one.identity, []).append(said)
    return tuple(
        Query(
            query_id=one.identity,
            pair=one.pair,
            version=one.version,
            dimension=one.dimension,
            value=one.value,
            entries=tuple(entries[one.identity]),
        )
        for one in connection.execute(_OF_FITTING, row).all()
    )


def _waiting(connection: Connection, fitting_row: int, pair: int) -> bool:
    return any(query.open for query in _threads(connection, fitting_row) if query.pair == pair)


def _say(
    connection: Connection, actor: Actor, query_row: int, *, kind: str, words: str, version: int | None = None
) -> None:
    said = {"query_id": query_row, "kind": kind, "words": words, "version": version}
    connection.execute(insert(QUERY_ENTRY), said | _by(actor))


def _by(actor: Actor) -> dict[str, str]:
    return {"account": actor.account, "by": actor.name, "at": now()}

"""Writing once: a retry of the same request gets the first answer again and changes nothing."""

import hashlib
import json
from collections.abc import Callable
from dataclasses import dataclass, is_dataclass
from typing import Any

from sqlalchemy import Connection, bindparam, delete, insert, select

from app.records.actor import Actor
from app.records.database import Database
from app.records.errors import KeyReused, NotStorable
from app.records.identity import now
from app.records.storable import text_of
from app.records.tables.accounts import REQUEST
from app.records.tables.naming import REQUEST_KEY

Answer = dict[str, Any]
"""What a write answers, as JSON knows it: text, whole numbers, lists and dictionaries of these."""

_EARLIER = select(REQUEST.c.body_sha256, REQUEST.c.answer).where(REQUEST.c.key == bindparam("request_key"))
_KEEP = insert(REQUEST)


@dataclass(frozen=True, slots=True, kw_only=True)
class Request:
    """A wish to change something: the sender's key, who, which action, and everything that decides the outcome."""

    key: str
    actor: Actor | None
    action: str
    body: object

    @property
    def digest(self) -> str:
        """SHA-256 of the request: the same wish has the same digest."""
        account = self.actor.account if self.actor is not None else None
        text = json.dumps([self.action, account, self.body], sort_keys=True, default=_plain)
        return hashlib.sha256(text.encode()).hexdigest()


@dataclass(frozen=True, slots=True)
class Outcome:
    """The answer, and whether it is the one of an earlier sending."""

    answer: Answer
    repeated: bool


def write_once(database: Database, request: Request, work: Callable[[Connection], Answer]) -> Outcome:
    """Do the work and keep its answer under the key, in one transaction; with a known key only answer again.

    Raises KeyReused where the key came with another request before.
    """
    with database.write() as connection:
        return once(connection, request, work)


def once(connection: Connection, request: Request, work: Callable[[Connection], Answer]) -> Outcome:
    """As write_once, within a write that has begun: several requests are stored together or none is."""
    if not text_of(request.key, what="key of the request", longest=REQUEST_KEY):
        raise NotStorable("The request came without its key. Please reload the page and enter it again.")
    digest = request.digest
    earlier = connection.execute(_EARLIER, {"request_key": request.key}).first()
    if earlier is not None:
        if earlier.body_sha256 != digest:
            raise KeyReused
        return Outcome(json.loads(earlier.answer), repeated=True)
    answer = work(connection)
    connection.execute(_KEEP, _row(request, digest, answer))
    return Outcome(answer, repeated=False)


def forget_requests(database: Database, *, before: str) -> int:
    """Forget the answers kept before that moment, and say how many.

    Keep them 30 days at least: longer than a tablet stays away with something unsent.
    """
    with database.write() as connection:
        return connection.execute(delete(REQUEST).where(REQUEST.c.at < before)).rowcount


def _row(request: Request, digest: str, answer: Answer) -> dict[str, object]:
    """The row under which an answer is found again."""
    return {
        "key": request.key,
        "account": request.actor.account if request.actor is not None else None,
        "action": request.action,
        "body_sha256": digest,
        "answer": json.dumps(answer),
        "at": now(),
    }


def _plain(thing: object) -> object:
    """A dataclass as JSON knows it."""
    if is_dataclass(thing) and not isinstance(thing, type):
        return {name: getattr(thing, name) for name in thing.__dataclass_fields__}
    raise TypeError(type(thing).__name__)

"""Sign-ins: server-side, ended by idleness, by age, by signing out or by a manager."""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from sqlalchemy import bindparam, insert, select, update

from app.records.actor import Actor
from app.records.database import Database
from app.records.errors import StoreProblem
from app.records.identity import moment
from app.records.storable import text_of
from app.records.tables import naming as wide
from app.records.tables.accounts import ACCOUNT, SESSION
from app.records.tokens import digest_of, new_token

IDLE_LIMIT = timedelta(minutes=30)
"""Ours, until the quick lock exists; OWASP's session cheat sheet gives 15 to 30 minutes for low-risk use."""
LONGEST = timedelta(hours=12)
"""One working day; common practice."""
SEEN_EVERY = timedelta(minutes=1)
"""A page view writes that the person is still there at most this often."""

_FIND = (
    select(
        ACCOUNT.c.identity,
        ACCOUNT.c.name,
        ACCOUNT.c.role,
        ACCOUNT.c.registration,
        SESSION.c.tablet,
        SESSION.c.started_at,
        SESSION.c.seen_at,
    )
    .join(ACCOUNT, ACCOUNT.c.identity == SESSION.c.account)
    .where(
        SESSION.c.token_sha256 == bindparam("digest"),
        SESSION.c.ended_at.is_(None),
        ACCOUNT.c.active.is_(True),
    )
)
_SEE = (
    update(SESSION)
    .where(SESSION.c.token_sha256 == bindparam("digest"), SESSION.c.seen_at < bindparam("at"))
    .values(seen_at=bindparam("at"))
)


@dataclass(frozen=True, slots=True)
class Session:
    """One person signed in on one tablet."""

    account: str
    name: str
    role: str
    registration: str | None
    tablet: str
    started_at: str
    seen_at: str

    @property
    def actor(self) -> Actor:
        """The person as the doer of a write."""
        return Actor(self.account, self.name, self.role)


def start_session(database: Database, *, account: str, tablet: str = "", at: datetime | None = None) -> str:
    """Sign an account in; gives the secret for the cookie, of which only the digest is kept."""
    token, began = new_token(), moment(at or datetime.now(UTC))
    row = {
        "token_sha256": digest_of(token),
        "account": account,
        "tablet": text_of(tablet, what="name of the tablet", longest=wide.NAME),
        "started_at": began,
        "seen_at": began,
    }
    with database.write() as connection:
        connection.execute(insert(SESSION), row)
    return token


def find_session(
    database: Database,
    token: str,
    *,
    at: datetime | None = None,
    idle_limit: timedelta = IDLE_LIMIT,
    longest: timedelta = LONGEST,
    sign_of_life: bool = True,
) -> Session | None:
    """The session of a cookie's secret, None where it ran out or was ended. A sign of life, unless told."""
    seen = at or datetime.now(UTC)
    digest = digest_of(token)
    with database.read() as connection:
        row = connection.execute(_FIND, {"digest": digest}).first()
    if row is None or row.seen_at < moment(seen - idle_limit) or row.started_at < moment(seen - longest):
        return None
    if sign_of_life and row.seen_at < moment(seen - SEEN_EVERY):
        _see(database, digest, at=seen)
    return Session(*row)


def end_session(database: Database, token: str, *, at: datetime | None = None) -> None:
    """Sign out. Nothing happens where nobody is signed in by that secret."""
    _end(database, SESSION.c.token_sha256 == digest_of(token), at=at)


def end_sessions_of(database: Database, account: str, *, at: datetime | None = None) -> None:
    """Sign an account out on every tablet."""
    _end(database, SESSION.c.account == account, at=at)


def _see(database: Database, digest: str, *, at: datetime) -> None:
    """Note the sign of life. A page must not fail because the disk is full."""
    try:
        with database.write() as connection:
            connection.execute(_SEE, {"digest": digest, "at": moment(at)})
    except StoreProblem:
        return


def _end(database: Database, which: object, *, at: datetime | None) -> None:
    with database.write() as connection:
        connection.execute(
            update(SESSION)
            .where(which, SESSION.c.ended_at.is_(None))  # type: ignore[arg-type]
            .values(ended_at=moment(at or datetime.now(UTC)))
        )

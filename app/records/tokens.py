"""Secrets that stand for a person: given out once, stored only as a digest. And the interface's bearer tokens."""

import hashlib
import secrets
from dataclasses import dataclass

from sqlalchemy import bindparam, insert, select, update

from app.records.actor import Actor
from app.records.database import Database
from app.records.errors import NotFound
from app.records.identity import new_identity, now
from app.records.rights import require
from app.records.storable import text_of
from app.records.tables import naming as wide
from app.records.tables.accounts import ACCOUNT, API_TOKEN

TOKEN_BYTES = 32
"""256 random bits; OWASP ASVS 5.0.0, 7.2.3 asks for at least 128."""
LONGEST_TOKEN = 100

_HOLDER = (
    select(ACCOUNT.c.identity, ACCOUNT.c.name, ACCOUNT.c.role)
    .join(API_TOKEN, API_TOKEN.c.account == ACCOUNT.c.identity)
    .where(
        API_TOKEN.c.token_sha256 == bindparam("digest"),
        API_TOKEN.c.ended_at.is_(None),
        ACCOUNT.c.active.is_(True),
    )
)


@dataclass(frozen=True, slots=True)
class ApiToken:
    """One bearer token, without the secret itself."""

    token_id: str
    account: str
    name: str
    at: str
    ended_at: str | None


def new_token() -> str:
    """A new secret, safe in a header and a cookie."""
    return secrets.token_urlsafe(TOKEN_BYTES)


def digest_of(token: str) -> str:
    """What is stored of a secret. A long random secret needs no slow hash: there is nothing to guess."""
    return hashlib.sha256(token[:LONGEST_TOKEN].encode("utf-8", "replace")).hexdigest()


def make_token(database: Database, *, actor: Actor | None, account: str, name: str) -> str:
    """A new bearer token for an account: shown once, never again. `actor` None: asked for at the server itself."""
    if actor is not None:
        require(actor, "keep accounts")
    token = new_token()
    row = {
        "identity": new_identity(),
        "token_sha256": digest_of(token),
        "account": account,
        "name": text_of(name, what="name of the token", longest=wide.NAME),
        "at": now(),
    }
    with database.write() as connection:
        if connection.execute(select(ACCOUNT.c.id).where(ACCOUNT.c.identity == account)).first() is None:
            raise NotFound("account")
        connection.execute(insert(API_TOKEN), row)
    return token


def token_holder(database: Database, token: str) -> Actor | None:
    """Whose token it is; None where it is nobody's, was ended, or the account is closed."""
    with database.read() as connection:
        row = connection.execute(_HOLDER, {"digest": digest_of(token)}).first()
    return Actor(*row) if row is not None else None


def list_tokens(database: Database) -> tuple[ApiToken, ...]:
    """Every token, the newest first."""
    token = API_TOKEN.c
    columns = (token.identity, token.account, token.name, token.at, token.ended_at)
    with database.read() as connection:
        rows = connection.execute(select(*columns).order_by(token.id.desc())).all()
    return tuple(ApiToken(*row) for row in rows)


def end_token(database: Database, *, actor: Actor, token_id: str) -> None:
    """Make a token worthless."""
    require(actor, "keep accounts")
    with database.write() as connection:
        ended = connection.execute(
            update(API_TOKEN)
            .where(API_TOKEN.c.identity == token_id, API_TOKEN.c.ended_at.is_(None))
            .values(ended_at=now())
        )
        if ended.rowcount == 0:
            raise NotFound("token")

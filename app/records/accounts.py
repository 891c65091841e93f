"""Accounts: who may sign in, in which role, and with which registration number."""

from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, Row, insert, select, update
from sqlalchemy.exc import IntegrityError

from app.records.actor import Actor
from app.records.database import Database
from app.records.errors import AlreadyUsed, NotAllowed, NotFound, NotStorable
from app.records.identity import new_identity, now
from app.records.passphrases import fits, hash_of, is_outdated
from app.records.requests import Answer, Request, write_once
from app.records.rights import ROLES, require
from app.records.storable import optional_text, text_of
from app.records.tables import naming as wide
from app.records.tables.accounts import ACCOUNT


@dataclass(frozen=True, slots=True)
class Account:
    """One account as it stands."""

    account: str
    sign_in: str
    name: str
    role: str
    registration: str | None
    active: bool
    has_passphrase: bool

    @property
    def actor(self) -> Actor:
        """The account as the doer of a write."""
        return Actor(account=self.account, name=self.name, role=self.role)


def create_account(
    database: Database,
    *,
    key: str,
    actor: Actor | None,
    sign_in: str,
    name: str,
    role: str,
    passphrase: str | None = None,
    registration: str | None = None,
) -> str:
    """Make an account and give its identity. `actor` None: set up at the server itself, not over the network."""
    if actor is not None:
        require(actor, "keep accounts")
    row = _new_row(sign_in=sign_in, name=name, role=role, registration=registration)
    # Hashed before the transaction: it takes as long as hundreds of savings. Not part of the request's digest.
    row["passphrase_hash"] = hash_of(passphrase) if passphrase is not None else None
    wish = Request(
        key=key, actor=actor, action="create_account", body=[row["sign_in"], name, role, registration]
    )

    def work(connection: Connection) -> Answer:
        try:
            connection.execute(insert(ACCOUNT), row)
        except IntegrityError as error:
            raise AlreadyUsed(f"The sign-in name {sign_in} is taken; choose another.") from error
        return {"account": row["identity"]}

    return str(write_once(database, wish, work).answer["account"])


def load_account(database: Database, account: str) -> Account:
    """The account of that identity."""
    with database.read() as connection:
        row = connection.execute(select(ACCOUNT).where(ACCOUNT.c.identity == account)).first()
    if row is None:
        raise NotFound("account")
    return _account(row)


def list_accounts(database: Database) -> tuple[Account, ...]:
    """Every account, by name."""
    with database.read() as connection:
        rows = connection.execute(select(ACCOUNT).order_by(ACCOUNT.c.name, ACCOUNT.c.id)).all()
    return tuple(_account(row) for row in rows)


def account_named(database: Database, sign_in: str) -> Account | None:
    """The account of that sign-in name, None where there is none."""
    with database.read() as connection:
        row = connection.execute(select(ACCOUNT).where(ACCOUNT.c.sign_in == _sign_in_of(sign_in))).first()
    return _account(row) if row is not None else None


def check_passphrase(database: Database, sign_in: str, passphrase: str) -> Account | None:
    """The account where name and passphrase fit and it is active, else None: never which of the two was wrong."""
    with database.read() as connection:
        row = connection.execute(select(ACCOUNT).where(ACCOUNT.c.sign_in == _sign_in_of(sign_in))).first()
    stored = row.passphrase_hash if row is not None and row.active else None
    if not fits(passphrase, stored) or row is None:
        return None
    if is_outdated(row.passphrase_hash):
        _store_hash(database, account=row.identity, passphrase_hash=hash_of(passphrase))
    return _account(row)


def change_passphrase(database: Database, *, actor: Actor | None, account: str, passphrase: str) -> None:
    """Set a new passphrase: one's own, or anybody's by a manager or at the server itself (`actor` None)."""
    if actor is not None and actor.account != account:
        require(actor, "keep accounts")
    _store_hash(database, account=account, passphrase_hash=hash_of(passphrase))


def set_active(database: Database, *, actor: Actor, account: str, active: bool) -> None:
    """Close an account or open it again. Nobody closes their own: the last manager cannot be locked out."""
    require(actor, "keep accounts")
    if actor.account == account and not active:
        raise NotAllowed("You cannot close your own account; another manager can.")
    with database.write() as connection:
        changed = connection.execute(
            update(ACCOUNT)
            .where(ACCOUNT.c.identity == account)
            .values(active=active, version=ACCOUNT.c.version + 1)
        )
        if changed.rowcount == 0:
            raise NotFound("account")


def _store_hash(database: Database, *, account: str, passphrase_hash: str) -> None:
    with database.write() as connection:
        changed = connection.execute(
            update(ACCOUNT)
            .where(ACCOUNT.c.identity == account)
            .values(passphrase_hash=passphrase_hash, version=ACCOUNT.c.version + 1)
        )
        if changed.rowcount == 0:
            raise NotFound("account")


def _sign_in_of(text: str) -> str:
    """Sign-in names do not tell capitals apart."""
    return text_of(text.strip().casefold(), what="sign-in name", longest=wide.SHORT)


def _new_row(*, sign_in: str, name: str, role: str, registration: str | None) -> dict[str, object]:
    if role not in ROLES:
        raise NotStorable(f"A role is one of {', '.join(ROLES)}.")
    if not sign_in.strip() or not name.strip():
        raise NotStorable("An account needs a sign-in name and the name that the record shows.")
    return {
        "identity": new_identity(),
        "sign_in": _sign_in_of(sign_in),
        "name": text_of(name.strip(), what="name", longest=wide.NAME),
        "role": role,
        "registration": optional_text(registration, what="registration number", longest=wide.SHORT),
        "active": True,
        "version": 1,
        "at": now(),
    }


def _account(row: Row[Any]) -> Account:
    return Account(
        account=row.identity,
        sign_in=row.sign_in,
        name=row.name,
        role=row.role,
        registration=row.registration,
        active=row.active,
        has_passphrase=row.passphrase_hash is not None,
    )

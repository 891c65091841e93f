"""Sign-off: freezing what was measured and chosen, and opening it again with a reason."""

import hashlib
import json
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, bindparam, func, insert, select, update

from app.records.actor import Actor
from app.records.database import Database
from app.records.errors import Conflict, NotAllowed, NotFound, NotStorable
from app.records.fitting_rows import counted_row, open_row, row_of
from app.records.identity import now
from app.records.requests import Answer, Request, write_once
from app.records.rights import require
from app.records.storable import text_of
from app.records.stored_fitting import SignedVersion
from app.records.tables import naming as wide
from app.records.tables.fittings import FITTING, REOPENING, SIGNED_VERSION

_LAST = select(func.coalesce(func.max(SIGNED_VERSION.c.number), 0)).where(
    SIGNED_VERSION.c.fitting_id == bindparam("fitting_row")
)
_REASON = (
    select(REOPENING.c.reason)
    .where(
        REOPENING.c.fitting_id == bindparam("fitting_row"), REOPENING.c.after_number == bindparam("number")
    )
    .order_by(REOPENING.c.id.desc())
    .limit(1)
)
_STANDING = select(FITTING.c.revision, FITTING.c.state).where(FITTING.c.id == bindparam("fitting_row"))


@dataclass(frozen=True, slots=True)
class SignedDocument:
    """A signed version with its document. `intact` is false where text and digest no longer belong together."""

    version: SignedVersion
    document: dict[str, Any]
    intact: bool


def sign_off(
    database: Database,
    *,
    key: str,
    actor: Actor,
    fitting_id: str,
    name: str,
    registration: str,
    document: dict[str, Any],
    reason: str | None = None,
    revision: int | None = None,
) -> int:
    """Sign an open fitting: freeze the document and every reading and field; gives the version's number.

    `revision` is the fitting's when the document was made: where it moved on, nothing is signed (Conflict).
    The reason of a second version is the one with which it was opened, where none is given.
    """
    require(actor, "sign off")
    if not name.strip() or not registration.strip():
        raise NotStorable("To sign off, enter your name and your registration number.")
    text = json.dumps(document, ensure_ascii=False, separators=(",", ":"))
    row = {
        "name": text_of(name.strip(), what="name", longest=wide.NAME),
        "registration": text_of(registration.strip(), what="registration number", longest=wide.SHORT),
        "document": text,
        "document_sha256": _digest(text),
    }
    wish = Request(
        key=key, actor=actor, action="sign_off", body=[fitting_id, row["name"], row["registration"], reason]
    )

    def work(connection: Connection) -> Answer:
        fitting_row = open_row(connection, fitting_id)
        standing = connection.execute(_STANDING, {"fitting_row": fitting_row}).one()
        if revision is not None and standing.revision != revision + 1:  # this write counted itself
            raise Conflict({})
        number = connection.execute(_LAST, {"fitting_row": fitting_row}).scalar_one()
        why = reason or connection.execute(_REASON, {"fitting_row": fitting_row, "number": number}).scalar()
        values = {**row, "fitting_id": fitting_row, "number": number + 1, "reason": why}
        connection.execute(insert(SIGNED_VERSION), {**values, "account": actor.account, "at": now()})
        _set_state(connection, fitting_row, "signed")
        return {"number": number + 1}

    return int(write_once(database, wish, work).answer["number"])


def open_new_version(database: Database, *, key: str, actor: Actor, fitting_id: str, reason: str) -> None:
    """Open a signed fitting for a new version. What was signed stays as it is, for ever."""
    require(actor, "sign off")
    if not text_of(reason.strip(), what="reason", longest=wide.NOTE):
        raise NotStorable("Say why the signed fitting is opened again, such as: lens form changed by phone.")
    wish = Request(key=key, actor=actor, action="open_new_version", body=[fitting_id, reason])

    def work(connection: Connection) -> Answer:
        reopen(connection, actor, fitting_id, reason)
        return {}

    write_once(database, wish, work)


def reopen(connection: Connection, actor: Actor, fitting_id: str, reason: str) -> int:
    """Open a signed fitting within a transaction; gives the number of the version that was signed last."""
    fitting_row = counted_row(connection, fitting_id)
    standing = connection.execute(_STANDING, {"fitting_row": fitting_row}).one()
    if standing.state != "signed":
        raise NotAllowed("This fitting is open already: it can be changed as it is.")
    number: int = connection.execute(_LAST, {"fitting_row": fitting_row}).scalar_one()
    values = {"fitting_id": fitting_row, "after_number": number, "reason": reason.strip()}
    by = {"account": actor.account, "by": actor.name, "at": now()}
    connection.execute(insert(REOPENING), {**values, **by})
    _set_state(connection, fitting_row, "open")
    return number


def load_signed(database: Database, fitting_id: str, number: int | None = None) -> SignedDocument:
    """A signed version with its document; the newest where no number is given."""
    table = SIGNED_VERSION.c
    with database.read() as connection:
        wanted = select(SIGNED_VERSION).where(table.fitting_id == row_of(connection, fitting_id))
        if number is not None:
            wanted = wanted.where(table.number == number)
        row = connection.execute(wanted.order_by(table.number.desc()).limit(1)).first()
    if row is None:
        raise NotFound("signed version")
    version = SignedVersion(row.number, row.name, row.registration, row.reason, row.document_sha256, row.at)
    return SignedDocument(version, json.loads(row.document), _digest(row.document) == row.document_sha256)


def _set_state(connection: Connection, fitting_row: int, state: str) -> None:
    connection.execute(update(FITTING).where(FITTING.c.id == fitting_row).values(state=state))


def _digest(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()

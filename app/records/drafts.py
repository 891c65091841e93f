"""Half-typed entries, kept so that a reload, a lock or an expired sign-in does not lose them."""

from dataclasses import dataclass

from sqlalchemy import bindparam, delete, insert, select

from app.records.database import Database
from app.records.fitting_rows import row_of
from app.records.identity import now
from app.records.storable import text_of
from app.records.tables import naming as wide
from app.records.tables.fittings import DRAFT, FITTING

_OF_BOX = (
    DRAFT.c.account == bindparam("of_account"),
    DRAFT.c.fitting_id == bindparam("of_fitting"),
    DRAFT.c.field == bindparam("of_field"),
)
_FORGET = delete(DRAFT).where(*_OF_BOX)
_THERE = select(DRAFT.c.text).where(*_OF_BOX)
_LATEST = (
    select(DRAFT.c.field, DRAFT.c.text, DRAFT.c.at)
    .join(FITTING, FITTING.c.id == DRAFT.c.fitting_id)
    .where(DRAFT.c.account == bindparam("of_account"), FITTING.c.identity == bindparam("fitting"))
    .order_by(DRAFT.c.at.desc())
)


@dataclass(frozen=True, slots=True)
class Draft:
    """What was being typed, and into which box."""

    field: str
    text: str
    at: str


def save_draft(database: Database, *, account: str, fitting_id: str, field: str, text: str) -> None:
    """Keep what somebody is typing into a box; an empty text forgets it."""
    text_of(field, what="name of the box", longest=wide.PATH)
    text_of(text, what="entry", longest=wide.FIELD_TEXT)
    with database.read() as connection:
        row = row_of(connection, fitting_id)
        place = {"of_account": account, "of_fitting": row, "of_field": field}
        there = connection.execute(_THERE, place).scalar()
    if there == (text or None):
        return
    values = {"account": account, "fitting_id": row, "field": field, "text": text, "at": now()}
    with database.write() as connection:
        connection.execute(_FORGET, place)
        if text:
            connection.execute(insert(DRAFT), values)


def load_drafts(database: Database, *, account: str, fitting_id: str) -> tuple[Draft, ...]:
    """All that this person was typing into this fitting, one for each box, the latest first."""
    with database.read() as connection:
        rows = connection.execute(_LATEST, {"of_account": account, "fitting": fitting_id}).all()
    return tuple(Draft(*row) for row in rows)


def load_draft(database: Database, *, account: str, fitting_id: str) -> Draft | None:
    """The latest thing that this person was typing into this fitting, None where nothing waits."""
    return next(iter(load_drafts(database, account=account, fitting_id=fitting_id)), None)

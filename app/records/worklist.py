"""The practice's work in hand: fittings that are open, and those signed lately."""

from dataclasses import dataclass
from typing import Any

from sqlalchemy import Row, Select, bindparam, func, select

from app.records.database import Database
from app.records.tables.fittings import FITTING, SIGNED_VERSION
from app.records.tables.people import PERSON

_SIGNED = (
    select(
        SIGNED_VERSION.c.fitting_id,
        func.max(SIGNED_VERSION.c.number).label("number"),
        func.max(SIGNED_VERSION.c.at).label("signed_at"),
    )
    .group_by(SIGNED_VERSION.c.fitting_id)
    .subquery("signed")
)
_LINES: Select[Any] = (
    select(
        FITTING.c.identity,
        FITTING.c.taken_on,
        FITTING.c.taken_by,
        FITTING.c.from_paper,
        FITTING.c.at,
        PERSON.c.identity.label("person"),
        PERSON.c.given_name,
        PERSON.c.family_name,
        PERSON.c.reference,
        _SIGNED.c.number,
        _SIGNED.c.signed_at,
    )
    .join(PERSON, PERSON.c.id == FITTING.c.person_id)
    .outerjoin(_SIGNED, _SIGNED.c.fitting_id == FITTING.c.id)
)
_OPEN = _LINES.where(FITTING.c.state == "open").order_by(FITTING.c.id.desc()).limit(bindparam("most"))
_LATELY = (
    _LINES.where(FITTING.c.state == "signed", _SIGNED.c.signed_at >= bindparam("since"))
    .order_by(_SIGNED.c.signed_at.desc())
    .limit(bindparam("most"))
)


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkLine:
    """One fitting on the list."""

    fitting_id: str
    person_id: str
    name: str
    reference: str
    taken_on: str
    taken_by: str | None
    from_paper: bool
    started_at: str
    signed_version: int | None
    signed_at: str | None


def open_fittings(database: Database, *, most: int = 20) -> tuple[WorkLine, ...]:
    """Fittings not signed off, the newest first."""
    with database.read() as connection:
        rows = connection.execute(_OPEN, {"most": most}).all()
    return tuple(_line(row) for row in rows)


def signed_since(database: Database, *, since: str, most: int = 20) -> tuple[WorkLine, ...]:
    """Fittings signed off since a stored moment and not opened again, the newest first."""
    with database.read() as connection:
        rows = connection.execute(_LATELY, {"most": most, "since": since}).all()
    return tuple(_line(row) for row in rows)


def _line(row: Row[Any]) -> WorkLine:
    return WorkLine(
        fitting_id=row.identity,
        person_id=row.person,
        name=f"{row.given_name} {row.family_name}".strip() or row.reference,
        reference=row.reference,
        taken_on=row.taken_on,
        taken_by=row.taken_by,
        from_paper=row.from_paper,
        started_at=row.at,
        signed_version=row.number,
        signed_at=row.signed_at,
    )

"""Saving fields: each has its own version, so that two people never overwrite each other unseen."""

from sqlalchemy import Connection, select

from app.fitting.fields import check_field, field_kept_as
from app.records.actor import Actor
from app.records.database import Database
from app.records.errors import Conflict, NotStorable
from app.records.field_rows import checked_path, current_fields, kept_text, move_field
from app.records.field_value import FieldValue
from app.records.fitting_rows import open_row, row_of
from app.records.requests import Answer, Request, write_once
from app.records.rights import require
from app.records.tables.fittings import FIELD_VERSION

MOST_FIELDS = 500
"""In one save: more than any page has."""
LATEST_VERSION = 2**31 - 1

Changes = dict[str, tuple[str | None, int]]
"""Path to the new text (None: emptied) and the version that was on the screen (0: the field was never filled)."""

__all__ = ["Changes", "FieldValue", "field_history", "save_fields"]


def save_fields(
    database: Database, *, key: str, actor: Actor, fitting_id: str, changes: Changes
) -> dict[str, int]:
    """Save the fields and give each one's version now. All are stored or none.

    Raises Conflict with the fields whose version moved on and whose text differs from the one sent. A text that
    equals the one that stands is never a conflict, whatever its version, and makes no new version.
    """
    require(actor, "enter readings")
    wanted = _checked(changes)
    wish = Request(key=key, actor=actor, action="save_fields", body=[fitting_id, wanted])

    def work(connection: Connection) -> Answer:
        row = open_row(connection, fitting_id)
        return {"versions": _save(connection, row, actor, wanted)}

    return {
        path: int(version) for path, version in write_once(database, wish, work).answer["versions"].items()
    }


def field_history(database: Database, fitting_id: str, path: str) -> tuple[FieldValue, ...]:
    """Every version of a field, the oldest first."""
    table = FIELD_VERSION.c
    with database.read() as connection:
        row = row_of(connection, fitting_id)
        rows = connection.execute(
            select(table.text, table.version, table.by, table.at)
            .where(table.fitting_id == row, table.path == path)
            .order_by(table.version)
        ).all()
    return tuple(FieldValue(*columns) for columns in rows)


def _checked(changes: Changes) -> Changes:
    if len(changes) > MOST_FIELDS:
        raise NotStorable("That is more than one page of a fitting holds.")
    for _, base in changes.values():
        if not 0 <= base <= LATEST_VERSION:
            raise NotStorable("The page is out of date. Reload it; what you typed is shown again.")
    for path, (text, _) in changes.items():
        refusal = check_field(checked_path(path), kept_text(text) or "")
        if refusal is not None:
            raise NotStorable(refusal)
    return {
        path: (kept_text(field_kept_as(path, text) if text else text), base)
        for path, (text, base) in changes.items()
    }


def _save(connection: Connection, fitting_row: int, actor: Actor, changes: Changes) -> dict[str, int]:
    standing = current_fields(connection, fitting_row, changes)
    versions, clashing = {}, {}
    for path, (text, base) in changes.items():
        there = standing.get(path)
        version, stands = (there.version, there.text) if there is not None else (0, None)
        versions[path] = version
        if text == stands:
            continue
        if base == version and move_field(connection, fitting_row, actor, path, text=text, base=base):
            versions[path] = version + 1
        else:
            clashing[path] = there or FieldValue(None, 0, "", "")
    if clashing:
        raise Conflict(clashing)
    return versions

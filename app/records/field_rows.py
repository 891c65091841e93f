"""A field as the rows that hold it: the value that stands, and every version of it."""

from collections.abc import Iterable
from typing import Any

from sqlalchemy import Connection, bindparam, insert, select, update

from app.records.actor import Actor
from app.records.errors import NotStorable
from app.records.field_value import FieldValue
from app.records.identity import now
from app.records.storable import optional_text
from app.records.tables import naming as wide
from app.records.tables.fittings import FIELD, FIELD_VERSION

_CURRENT = select(FIELD.c.path, FIELD.c.text, FIELD.c.version, FIELD.c.by, FIELD.c.at).where(
    FIELD.c.fitting_id == bindparam("fitting_row"), FIELD.c.path.in_(bindparam("paths", expanding=True))
)
_MOVE = update(FIELD).where(
    FIELD.c.fitting_id == bindparam("of_fitting"),
    FIELD.c.path == bindparam("of_path"),
    FIELD.c.version == bindparam("from_version"),
)


def checked_path(path: str) -> str:
    """A field's path, refused where it is not one."""
    if (
        not path
        or len(path) > wide.PATH
        or not path.isascii()
        or not path.replace(".", "").replace("_", "").isalnum()
    ):
        raise NotStorable("There is no such field in a fitting.")
    return path


def kept_text(text: str | None) -> str | None:
    """The text as it is kept: nothing typed and nothing chosen are the same, an empty field."""
    return optional_text(text, what="entry", longest=wide.FIELD_TEXT) or None


def current_fields(connection: Connection, fitting_row: int, paths: Iterable[str]) -> dict[str, FieldValue]:
    """The fields of these paths as they stand."""
    rows = connection.execute(_CURRENT, {"fitting_row": fitting_row, "paths": list(paths)})
    return {path: FieldValue(*value) for path, *value in rows}


def first_fields(connection: Connection, fitting_row: int, actor: Actor, fields: dict[str, str]) -> None:
    """Fill the fields of a new fitting."""
    texts = {checked_path(path): kept_text(text) for path, text in fields.items()}
    rows = [
        _row(fitting_row, path, version=1, text=text, by=actor.name) for path, text in texts.items() if text
    ]
    if rows:
        connection.execute(insert(FIELD), rows)
        _keep_versions(connection, actor, rows)


def move_field(
    connection: Connection, fitting_row: int, actor: Actor, path: str, *, text: str | None, base: int
) -> bool:
    """Put a text in the place of version `base` (0: none yet); False where another version stands there."""
    row = _row(fitting_row, path, version=base + 1, text=text, by=actor.name)
    if base == 0:
        connection.execute(insert(FIELD), row)
    else:
        place = {"of_fitting": fitting_row, "of_path": path, "from_version": base}
        changes = {name: row[name] for name in ("version", "text", "by", "at")}
        if connection.execute(_MOVE.values(changes), place).rowcount == 0:
            return False
    _keep_versions(connection, actor, [row])
    return True


def _row(fitting_row: int, path: str, *, version: int, text: str | None, by: str) -> dict[str, Any]:
    return {
        "fitting_id": fitting_row,
        "path": path,
        "version": version,
        "text": text,
        "by": by,
        "at": now(),
    }


def _keep_versions(connection: Connection, actor: Actor, rows: list[dict[str, Any]]) -> None:
    connection.execute(insert(FIELD_VERSION), [{**row, "account": actor.account} for row in rows])

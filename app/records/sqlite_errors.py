"""What SQLite's error codes mean for the person at the chair."""

import sqlite3
from collections.abc import Callable

from sqlalchemy.exc import DBAPIError

from app.records.errors import (
    StoreBusy,
    StoreDamaged,
    StoreFailed,
    StoreFull,
    StoreNotOpened,
    StoreProblem,
    StoreReadOnly,
)

_PRIMARY = 0xFF
"""The low byte of an extended result code is its primary code (sqlite.org/rescode.html)."""

_MEANINGS: dict[int, Callable[[], StoreProblem]] = {
    sqlite3.SQLITE_BUSY: StoreBusy,
    sqlite3.SQLITE_LOCKED: StoreBusy,
    sqlite3.SQLITE_READONLY: StoreReadOnly,
    sqlite3.SQLITE_PERM: StoreReadOnly,
    sqlite3.SQLITE_IOERR: StoreFailed,
    sqlite3.SQLITE_CANTOPEN: StoreNotOpened,
    sqlite3.SQLITE_FULL: StoreFull,
    sqlite3.SQLITE_CORRUPT: StoreDamaged,
    sqlite3.SQLITE_NOTADB: StoreDamaged,
}


def problem_of(error: DBAPIError | sqlite3.Error) -> StoreProblem | None:
    """The problem behind a database error, None where it is not one of the store's but of the request."""
    cause = error.orig if isinstance(error, DBAPIError) else error
    return problem_with_code(getattr(cause, "sqlite_errorcode", None))


def problem_with_code(code: int | None) -> StoreProblem | None:
    """The problem behind one of SQLite's result codes, extended or not."""
    meaning = _MEANINGS.get(code & _PRIMARY) if code is not None else None
    return meaning() if meaning is not None else None

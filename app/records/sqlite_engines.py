"""SQLite set up so that an acknowledged reading survives a power cut and no two savers overwrite each other.

Write-ahead log with full synchronisation: a commit returns after the disk has it (sqlite.org/wal.html,
sqlite.org/pragma.html#pragma_synchronous). Writers begin with BEGIN IMMEDIATE, so that what they read is still
true when they write (sqlite.org/lang_transaction.html); the driver's own BEGIN is switched off, as SQLAlchemy's
page on SQLite transactions advises.
"""

import sqlite3
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event

WAIT_MS = 5000
"""How long SQLite waits for another process's lock."""
READERS = 20
MORE_READERS = 40
LARGEST_LOG_BYTES = 64 * 1024 * 1024

_ALWAYS = (
    "journal_mode=WAL",
    "synchronous=FULL",
    f"busy_timeout={WAIT_MS}",
    "foreign_keys=ON",
    # Without this an INSERT OR REPLACE would remove a row past the triggers that forbid removing.
    "recursive_triggers=ON",
    "temp_store=MEMORY",
    f"journal_size_limit={LARGEST_LOG_BYTES}",
)


def writing_engine(url: str) -> Engine:
    """One connection, whose transactions take the write lock at their beginning."""
    engine = create_engine(url, pool_size=1, max_overflow=0)
    _set_up(engine, _ALWAYS, begin="BEGIN IMMEDIATE")
    return engine


def reading_engine(url: str) -> Engine:
    """Connections that cannot write; each transaction sees one moment of the database."""
    engine = create_engine(url, pool_size=READERS, max_overflow=MORE_READERS, pool_timeout=WAIT_MS / 1000)
    _set_up(engine, (*_ALWAYS, "query_only=ON"), begin="BEGIN")
    return engine


def migrating_engine(url: str) -> Engine:
    """As the writing engine, with foreign keys off: rebuilding a table drops it for a moment."""
    engine = create_engine(url, pool_size=1, max_overflow=0)
    _set_up(engine, (*_ALWAYS, "foreign_keys=OFF"), begin="BEGIN IMMEDIATE")
    return engine


def _set_up(engine: Engine, pragmas: tuple[str, ...], *, begin: str) -> None:
    """Set every new connection up, and begin every transaction ourselves."""

    @event.listens_for(engine, "connect")
    def on_connect(connection: sqlite3.Connection, _record: Any) -> None:
        connection.isolation_level = None
        for pragma in pragmas:
            connection.execute(f"PRAGMA {pragma}")

    @event.listens_for(engine, "begin")
    def on_begin(connection: Connection) -> None:
        connection.exec_driver_sql(begin)

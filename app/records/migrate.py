"""Bringing a database to the form that this version of the app knows."""

import os
import sqlite3
from pathlib import Path

from sqlalchemy.exc import DBAPIError

from app.records.errors import StoreDamaged, StoreTooNew
from app.records.sqlite_engines import migrating_engine
from app.records.sqlite_errors import problem_of

NEWEST = "0006"
"""The newest revision in migrations/versions, here so that a start need not load Alembic to find out."""
MIGRATIONS = Path(__file__).resolve().parent / "migrations"


def stored_revision(file: Path) -> str | None:
    """The revision of a database file, None where it holds no tables of ours yet."""
    if not file.exists() or file.stat().st_size == 0:
        return None
    connection = sqlite3.connect(f"{file.as_uri()}?mode=ro", uri=True)
    try:
        row = connection.execute("SELECT version_num FROM alembic_version").fetchone()
    except sqlite3.DatabaseError as error:
        if error.sqlite_errorcode == sqlite3.SQLITE_ERROR:  # no such table
            return None
        raise
    finally:
        connection.close()
    return str(row[0]) if row is not None else None


def migrate(url: str, file: Path, *, stored: str | None) -> None:
    """Run the missing migrations in one transaction; an existing file is copied first."""
    if stored is not None and stored > NEWEST:
        raise StoreTooNew(stored)
    if stored is not None:
        _copy_before(file)
    engine = migrating_engine(url)
    try:
        with engine.begin() as connection:
            _upgrade(connection)
            if connection.exec_driver_sql("PRAGMA foreign_key_check").first() is not None:
                raise StoreDamaged
    except DBAPIError as error:
        raise problem_of(error) or error from error
    finally:
        engine.dispose()


def _upgrade(connection: object) -> None:
    """Let Alembic do it. Loaded here, not at the top: a start that migrates nothing should not pay for it."""
    from alembic import command
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(MIGRATIONS).replace("%", "%%"))
    config.attributes["connection"] = connection
    command.upgrade(config, "head")


def _copy_before(file: Path) -> None:
    """A complete copy beside the file, made by SQLite itself, so that the log is in it."""
    copy = file.with_name(f"{file.name}.before-{NEWEST}")
    if copy.exists():
        return
    part = copy.with_name(copy.name + ".part")
    part.unlink(missing_ok=True)
    connection = sqlite3.connect(file)
    try:
        connection.execute("VACUUM INTO ?", (str(part),))
    finally:
        connection.close()
    os.replace(part, copy)

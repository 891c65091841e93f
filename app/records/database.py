"""The database: reading from many threads at once, writing through one lane."""

import errno
import os
import shutil
import sqlite3
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy import Connection
from sqlalchemy.engine import URL, make_url
from sqlalchemy.exc import ArgumentError, DBAPIError
from sqlalchemy.exc import TimeoutError as NoConnectionInTime

from app.records.errors import StoreBusy, StoreDamaged, StoreFull, StoreProblem, StoreReadOnly
from app.records.file_systems import network_file_system
from app.records.kept import Kept
from app.records.migrate import NEWEST, migrate, stored_revision
from app.records.sqlite_engines import reading_engine, writing_engine
from app.records.sqlite_errors import problem_of
from app.records.store_lock import StoreLock
from app.records.stored_fitting import StoredFitting

LANE_WAIT_S = 10.0
LEAST_FREE_BYTES = 200 * 1024 * 1024
FIRST_SOUND_SQLITE = (3, 51, 3)
"""Since this version two connections that write and checkpoint at one instant cannot damage the file
(sqlite.org/wal.html, the WAL-reset bug). Below it one writing connection, as here, keeps out of its way."""


class Database:
    """Two ways in: `read` sees one moment and cannot write, `write` is one transaction at a time."""

    def __init__(self, url: str) -> None:
        self.url = url
        self.file = file_of(url)
        self._reading = reading_engine(url)
        self._writing = writing_engine(url)
        self._lane = threading.Lock()
        self._damaged = False
        self._lock = StoreLock(self.file)
        self.fittings: Kept[StoredFitting] = Kept()

    @contextmanager
    def read(self) -> Iterator[Connection]:
        """A connection for looking things up."""
        with self._in_words(), self._reading.connect() as connection:
            yield connection

    @contextmanager
    def write(self) -> Iterator[Connection]:
        """A connection for changing things: committed to the disk when the block ends, or nothing is."""
        if self._damaged:
            raise StoreDamaged
        # SQLite's own waiting is unfair: some writers wait seconds. A lane in front of it keeps the tail short.
        if not self._lane.acquire(timeout=LANE_WAIT_S):
            raise StoreBusy
        try:
            with self._in_words(), self._writing.begin() as connection:
                yield connection
        finally:
            self._lane.release()

    def hold(self) -> None:
        """Keep every other server away from these data; raises StoreInUse where one is there already."""
        self._lock.take()

    def close(self) -> None:
        """Close every connection; the writer last, so that it can tidy the log."""
        self._reading.dispose()
        self._writing.dispose()
        self._lock.release()

    def check(self) -> tuple[bool, str]:
        """Whether readings can be stored now, and words that say so."""
        if self._damaged:
            return False, str(StoreDamaged())
        try:
            with self.read() as connection:
                connection.exec_driver_sql("SELECT count(*) FROM alembic_version").one()
            with self.write():
                pass
        except StoreProblem as problem:
            return False, str(problem)
        except DBAPIError:
            return False, "The database file does not hold this app's tables."
        free = shutil.disk_usage(self.file.parent).free
        if free < LEAST_FREE_BYTES:
            return False, f"Only {free // 2**20} MB are free on the disk of the data folder."
        return True, "The database answers and can be written." + sqlite_caution()

    @contextmanager
    def _in_words(self) -> Iterator[None]:
        """Turn a database error into words; after damage was seen, refuse to write."""
        try:
            yield
        except NoConnectionInTime as error:
            raise StoreBusy from error
        except (DBAPIError, sqlite3.Error) as error:
            problem = problem_of(error)
            if problem is None:
                raise
            self._damaged = self._damaged or isinstance(problem, StoreDamaged)
            raise problem from error


def open_database(url: str, *, exclusive: bool = False) -> Database:
    """Open the database, made or brought to the newest form first. `exclusive`: as the one server that writes."""
    file = file_of(url)
    _make_room(file)
    lock = StoreLock(file)
    stored = _revision(file)
    database = Database(url)
    if exclusive:
        database.hold()
    try:
        if stored != NEWEST:
            if not exclusive:
                lock.take()
            migrate(url, file, stored=stored)
    except BaseException:
        database.close()
        raise
    finally:
        lock.release()
    return database


def file_of(url: str) -> Path:
    """The file behind the URL."""
    try:
        parts = make_url(url)
    except ArgumentError:
        parts = URL.create("none")
    if parts.get_backend_name() != "sqlite" or not parts.database or parts.database == ":memory:":
        raise StoreProblem(
            "CHAIR_TO_BENCH_DATABASE must name an SQLite file, such as sqlite:////data/practice.sqlite."
        )
    return Path(parts.database).resolve()


def sqlite_caution() -> str:
    """A sentence about an old SQLite, empty where there is nothing to say."""
    if sqlite3.sqlite_version_info >= FIRST_SOUND_SQLITE:
        return ""
    return (
        f" SQLite is {sqlite3.sqlite_version}; from 3.51.3 on it is safe even where a second program writes "
        "to the file. Until then let nothing but this server open it."
    )


def _make_room(file: Path) -> None:
    """The folder and the file, readable by their owner alone: they hold health data."""
    try:
        file.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        if not file.exists():
            os.close(os.open(file, os.O_CREAT | os.O_RDWR, 0o600))
    except OSError as error:
        raise (StoreFull() if error.errno == errno.ENOSPC else StoreReadOnly()) from error
    system = network_file_system(file.parent)
    if system is not None:
        raise StoreProblem(
            f"The data folder lies on a network drive ({system}), where readings could be lost. "
            "Choose a folder on this computer's own disk (CHAIR_TO_BENCH_DATA)."
        )


def _revision(file: Path) -> str | None:
    """The stored revision, or in words why the file cannot be read."""
    try:
        return stored_revision(file)
    except sqlite3.DatabaseError as error:
        raise problem_of(error) or error from error

"""The database keeps what it acknowledged, and says in words what is wrong."""

import sqlite3
import threading

import pytest
from sqlalchemy.exc import DBAPIError

from app.fitting.reading import Reading
from app.records.actor import Actor
from app.records.database import Database
from app.records.errors import (
    StoreBusy,
    StoreDamaged,
    StoreFailed,
    StoreFull,
    StoreNotOpened,
    StoreProblem,
    StoreReadOnly,
)
from app.records.identity import new_key
from app.records.readings import add_reading
from app.records.sqlite_errors import problem_with_code
from tests.records.conftest import url_of

WIDTH = Reading(measurement="head_width", value=148, text="148")


def pragma(connection: object, name: str) -> object:
    """The setting of the live connection itself."""
    return connection.exec_driver_sql(f"PRAGMA {name}").scalar()  # type: ignore[attr-defined]


def test_the_connection_that_writes_waits_for_the_disk(database: Database) -> None:
    # sqlite.org/pragma.html#pragma_synchronous: 2 is FULL.
    with database.write() as connection:
        assert pragma(connection, "journal_mode") == "wal"
        assert pragma(connection, "synchronous") == 2
        assert pragma(connection, "foreign_keys") == 1
        assert pragma(connection, "recursive_triggers") == 1
        assert pragma(connection, "busy_timeout") == 5000


def test_a_connection_for_looking_things_up_cannot_write(database: Database) -> None:
    with pytest.raises(StoreReadOnly), database.read() as connection:
        connection.exec_driver_sql("UPDATE account SET name = 'somebody else'")


def test_a_reading_is_on_disk_before_the_answer(database: Database, ines: Actor, fitting_id: str) -> None:
    stored = add_reading(database, key=new_key(), actor=ines, fitting_id=fitting_id, reading=WIDTH)

    # Another program, which sees only what is committed.
    other = sqlite3.connect(database.file)
    found = other.execute("SELECT value_parts FROM reading WHERE identity = ?", (stored.identity,)).fetchall()
    other.close()
    assert found == [(1_480_000,)]


def test_a_write_that_fails_leaves_nothing(database: Database) -> None:
    def fail_after_half() -> None:
        with database.write() as connection:
            connection.exec_driver_sql("UPDATE account SET name = 'somebody else'")
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        fail_after_half()

    with database.read() as connection:
        found = connection.exec_driver_sql("SELECT count(*) FROM account WHERE name = 'somebody else'")
        assert found.scalar_one() == 0


def test_reading_goes_on_while_somebody_writes(database: Database) -> None:
    with database.write() as writing:
        writing.exec_driver_sql("UPDATE account SET name = 'not committed yet'")

        with database.read() as reading:
            names = reading.exec_driver_sql("SELECT name FROM account").scalars().all()

    assert "not committed yet" not in names


def test_a_full_disk_is_said_in_words_and_heals_by_itself(
    database: Database, ines: Actor, fitting_id: str
) -> None:
    with database.write() as connection:
        pages = int(str(pragma(connection, "page_count")))
        pragma(connection, f"max_page_count={pages}")
    long = Reading(measurement="head_width", value=148, text="148", note="x" * 4000)

    def fill() -> None:
        for _ in range(50):
            add_reading(database, key=new_key(), actor=ines, fitting_id=fitting_id, reading=long)

    with pytest.raises(StoreFull, match="disk of the practice's computer is full"):
        fill()

    with database.write() as connection:
        pragma(connection, "max_page_count=1000000")
    add_reading(database, key=new_key(), actor=ines, fitting_id=fitting_id, reading=long)
    assert database.check()[0]


def test_another_programs_lock_is_said_in_words(database: Database) -> None:
    with database.write() as connection:
        pragma(connection, "busy_timeout=50")
    other = sqlite3.connect(database.file, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")

    with pytest.raises(StoreBusy, match="Nothing was stored"), database.write():
        pass

    other.execute("ROLLBACK")
    other.close()
    with database.write():
        pass


def test_a_lane_that_does_not_move_is_said_in_words(
    database: Database, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("app.records.database.LANE_WAIT_S", 0.05)
    seen: list[BaseException] = []

    def try_to_write() -> None:
        try:
            with database.write():
                pass
        except StoreBusy as busy:
            seen.append(busy)

    with database.write():
        thread = threading.Thread(target=try_to_write)
        thread.start()
        thread.join()

    assert len(seen) == 1


def test_after_damage_nothing_more_is_written(database: Database, ines: Actor, fitting_id: str) -> None:
    for _ in range(200):
        add_reading(database, key=new_key(), actor=ines, fitting_id=fitting_id, reading=WIDTH)
    file = database.file
    database.close()
    content = bytearray(file.read_bytes())
    page = 4096
    for start in range(page, len(content), page):  # every page but the first, which holds the schema's root
        content[start : start + 64] = b"\xff" * 64
    file.write_bytes(bytes(content))

    damaged = Database(url_of(file))
    with pytest.raises(StoreDamaged), damaged.read() as connection:
        connection.exec_driver_sql("SELECT count(*) FROM reading").scalar()

    with pytest.raises(StoreDamaged, match="Nothing more is written"), damaged.write():
        pass
    assert damaged.check() == (False, str(StoreDamaged()))
    damaged.close()


@pytest.mark.parametrize(
    ("code", "problem"),
    [
        # sqlite.org/rescode.html: primary codes 5, 8, 10, 11, 13, 14, and extended codes of them.
        (5, StoreBusy),
        (517, StoreBusy),
        (8, StoreReadOnly),
        (1032, StoreReadOnly),
        (10, StoreFailed),
        (1034, StoreFailed),
        (11, StoreDamaged),
        (26, StoreDamaged),
        (13, StoreFull),
        (14, StoreNotOpened),
    ],
)
def test_sqlites_codes_have_words(code: int, problem: type[StoreProblem]) -> None:
    found = problem_with_code(code)

    assert type(found) is problem
    assert len(str(found).split()) > 8


def test_a_mistake_of_ours_is_not_called_a_problem_of_the_disk(database: Database) -> None:
    assert problem_with_code(1) is None
    assert problem_with_code(None) is None
    with pytest.raises(DBAPIError), database.read() as connection:
        connection.exec_driver_sql("SELECT nothing FROM nowhere")


def test_check_says_that_all_is_well_and_warns_of_an_old_sqlite(
    database: Database, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sqlite3, "sqlite_version_info", (3, 40, 1))
    monkeypatch.setattr(sqlite3, "sqlite_version", "3.40.1")

    well, words = database.check()

    assert well
    assert words.startswith("The database answers and can be written.")
    assert "SQLite is 3.40.1" in words


def test_check_says_when_the_disk_is_nearly_full(database: Database, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("app.records.database.LEAST_FREE_BYTES", 2**62)

    well, words = database.check()

    assert not well
    assert "MB are free" in words


def test_a_file_spoiled_while_the_server_runs_is_said_in_words(database: Database) -> None:
    database.close()
    database.file.write_bytes(b"not a database any more" * 500)

    opened = Database(database.url)
    with pytest.raises(StoreDamaged), opened.read():
        pytest.fail("a spoiled file was read")
    opened.close()

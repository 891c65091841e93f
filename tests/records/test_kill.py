"""A server that is killed in the middle of its work loses nothing that it acknowledged."""

import os
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

from app.records.database import Database, open_database
from app.records.fittings import load_fitting

KILLS = 20
LEAST_ACKNOWLEDGED = 50
"""Fewer, and the kills hit nothing."""


@pytest.mark.skipif(not hasattr(os, "fork"), reason="killing a half-way writer needs a system that can fork")
def test_nothing_acknowledged_is_lost_when_the_server_is_killed(
    database: Database, fitting_id: str, tmp_path: Path
) -> None:
    database.close()
    notes = tmp_path / "acknowledged"
    program = [sys.executable, "-m", "tests.records.writer_to_be_killed"]

    subprocess.run([*program, database.url, fitting_id, str(notes), str(KILLS)], check=True, timeout=60)

    acknowledged = notes.read_text().split()
    after = open_database(database.url, exclusive=True)
    kept = [reading.identity for reading in load_fitting(after, fitting_id).fitting.readings]
    with after.read() as connection:
        answered = connection.exec_driver_sql("SELECT count(*) FROM request WHERE action = 'add_reading'")
        assert answered.scalar_one() == len(kept)
        assert connection.exec_driver_sql("PRAGMA integrity_check").scalar_one() == "ok"
    after.close()
    assert len(acknowledged) >= LEAST_ACKNOWLEDGED
    assert set(acknowledged) <= set(kept)
    assert len(kept) == len(set(kept))
    assert len(kept) - len(acknowledged) <= KILLS, "at most the one reading in hand may go unacknowledged"


def test_a_commit_is_what_makes_a_reading_outlive_a_kill(database: Database, fitting_id: str) -> None:
    """The teeth: without the commit, the same look at the file finds nothing."""
    other = sqlite3.connect(database.file)
    with database.write() as connection:
        connection.exec_driver_sql(
            "INSERT INTO not_taken (fitting_id, measurement, reason, account, by, at) "
            "SELECT id, 'pd_near', 'declined', account, 'x', 'x' FROM fitting"
        )
        before_commit = other.execute("SELECT count(*) FROM not_taken").fetchone()[0]
    after_commit = other.execute("SELECT count(*) FROM not_taken").fetchone()[0]
    other.close()

    assert (before_commit, after_commit) == (0, 1)

"""A server that is killed in the middle of its work loses nothing that it acknowledged."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from app.records.database import Database, open_database
from app.records.fittings import load_fitting

ROOT = Path(__file__).resolve().parents[2]
KILLS = 20
LEAST_ACKNOWLEDGED = 50
"""Fewer, and the kills hit nothing."""

pytestmark = pytest.mark.skipif(
    not hasattr(os, "fork"), reason="killing a half-way writer needs a system that can fork"
)


def acknowledged_under_kills(
    database: Database, fitting_id: str, folder: Path, *, kills: int, when: str
) -> list[str]:
    """Keys that a writer noted as acknowledged while it was killed again and again."""
    database.close()
    notes = folder / "acknowledged"
    program = [sys.executable, "-m", "tests.records.writer_to_be_killed"]
    arguments = [database.url, fitting_id, str(notes), str(kills), when]
    subprocess.run([*program, *arguments], check=True, timeout=60, cwd=ROOT)
    return notes.read_text().split()


def stored_keys(database: Database) -> list[str]:
    """Keys of the readings in the database."""
    with database.read() as connection:
        found = connection.exec_driver_sql("SELECT key FROM request WHERE action = 'add_reading'")
        return [str(key) for key in found.scalars()]


def test_nothing_acknowledged_is_lost_when_the_server_is_killed(
    database: Database, fitting_id: str, tmp_path: Path
) -> None:
    acknowledged = acknowledged_under_kills(database, fitting_id, tmp_path, kills=KILLS, when="after")

    after = open_database(database.url, exclusive=True)
    stored = stored_keys(after)
    readings = load_fitting(after, fitting_id).fitting.readings
    with after.read() as connection:
        assert connection.exec_driver_sql("PRAGMA integrity_check").scalar_one() == "ok"
    after.close()
    assert len(acknowledged) >= LEAST_ACKNOWLEDGED
    assert set(acknowledged) <= set(stored)
    assert len(readings) == len(stored)
    assert len(stored) - len(acknowledged) <= KILLS, "only the one reading in hand may go unacknowledged"


def test_a_server_that_acknowledges_before_it_stores_is_found_out(
    database: Database, fitting_id: str, tmp_path: Path
) -> None:
    acknowledged = acknowledged_under_kills(database, fitting_id, tmp_path, kills=KILLS, when="before")

    after = open_database(database.url, exclusive=True)
    lost = set(acknowledged) - set(stored_keys(after))
    after.close()
    assert lost

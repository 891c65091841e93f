"""A practice on disk for each test: Ines measures, Theo assists, Wren is at the desk, Mara manages."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from app.fitting.fitting import Taken
from app.records.accounts import create_account, load_account
from app.records.actor import Actor
from app.records.database import Database, open_database
from app.records.fittings import start_fitting
from app.records.identity import new_key
from app.records.people import save_person
from app.records.person_details import PersonDetails

NAMES = {
    "practitioner": "Ines Calloway",
    "assistant": "Theo Brandt",
    "receptionist": "Wren Adair",
    "manager": "Mara Quill",
}


def url_of(file: Path) -> str:
    """The URL of a database file."""
    return f"sqlite:///{file}"


@pytest.fixture(scope="session")
def practice_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A migrated database with the four accounts, made once; without passphrases, since hashing is slow."""
    file = tmp_path_factory.mktemp("practice") / "practice.sqlite"
    database = open_database(url_of(file))
    for role, name in NAMES.items():
        create_account(database, key=new_key(), actor=None, sign_in=role, name=name, role=role)
    database.close()
    return file


@pytest.fixture
def database(practice_file: Path, tmp_path: Path) -> Iterator[Database]:
    """A copy of the practice, open."""
    copy = tmp_path / "practice.sqlite"
    shutil.copy(practice_file, copy)
    opened = open_database(url_of(copy))
    yield opened
    opened.close()


def actor_with(database: Database, role: str) -> Actor:
    """The actor of that role."""
    with database.read() as connection:
        found = connection.exec_driver_sql("SELECT identity FROM account WHERE sign_in = ?", (role,))
        return load_account(database, found.scalar_one()).actor


@pytest.fixture
def ines(database: Database) -> Actor:
    """The practitioner."""
    return actor_with(database, "practitioner")


@pytest.fixture
def theo(database: Database) -> Actor:
    """The assistant."""
    return actor_with(database, "assistant")


@pytest.fixture
def wren(database: Database) -> Actor:
    """The receptionist."""
    return actor_with(database, "receptionist")


@pytest.fixture
def mara(database: Database) -> Actor:
    """The manager."""
    return actor_with(database, "manager")


@pytest.fixture
def person_id(database: Database, ines: Actor) -> str:
    """A person."""
    details = PersonDetails(
        reference="D-0003", family_name="Solano", given_name="Beatrix", born="1965-02-11", sex="F"
    )
    return save_person(database, key=new_key(), actor=ines, details=details)


@pytest.fixture
def fitting_id(database: Database, ines: Actor, person_id: str) -> str:
    """An open fitting of that person."""
    taken = Taken(on="2026-10-02")
    return start_fitting(database, key=new_key(), actor=ines, person_id=person_id, taken=taken)

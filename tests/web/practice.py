"""A practice for tests: invented people, one account for each role, and a browser without scripts."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from fastapi import FastAPI
from starlette.testclient import TestClient

from app.fitting.fitting import Fitting, Person, Taken
from app.records.accounts import create_account, list_accounts
from app.records.actor import Actor
from app.records.database import Database, open_database
from app.records.fittings import import_fitting
from app.records.identity import new_key
from app.records.people import save_person
from app.records.person_details import PersonDetails
from app.records.sessions import start_session
from app.records.signoff import sign_off
from app.records.tokens import make_token
from app.web.application import create_application
from app.web.session import COOKIE

STAFF = (
    ("Ines Farrow", "practitioner", "D-00417"),
    ("Tobi Marsh", "assistant", None),
    ("Wren Calder", "receptionist", None),
    ("Hale Osborn", "manager", None),
)
ODILE = PersonDetails(
    reference="D-0001",
    family_name="Fenwick-Rae",
    given_name="Odile",
    preferred_name="Odie",
    born="1961-05-30",
    sex="F",
    telephone="01632 960 111",
    address_line="4 Quay Steps",
    contact_channel="telephone",
    leave_message=True,
    permission_to_speak="Piet Rae, husband",
)
MINA = PersonDetails(reference="D-0005", family_name="Okafor-Lund", given_name="Mina", born="2020-02-11")


@dataclass
class Practice:
    """The database, the app over it, and somebody at a browser for each role."""

    database: Database
    app: FastAPI
    clients: dict[str, TestClient] = field(default_factory=dict)

    def actor(self, role: str) -> Actor:
        """The account of a role as the doer of a write."""
        account = next(one for one in list_accounts(self.database) if one.role == role)
        return account.actor

    def as_(self, role: str) -> TestClient:
        """A browser in which somebody of that role is signed in."""
        if role not in self.clients:
            client = self.anybody()
            client.cookies.set(COOKIE, start_session(self.database, account=self.actor(role).account))
            self.clients[role] = client
        return self.clients[role]

    def anybody(self) -> TestClient:
        """A browser in which nobody is signed in. It follows no redirects, so that a test sees them."""
        return TestClient(self.app, base_url="http://localhost", follow_redirects=False)

    def token(self, role: str = "practitioner") -> dict[str, str]:
        """The header of a caller of the interface."""
        account = self.actor(role).account
        token = make_token(self.database, actor=None, account=account, name=f"test {role}")
        return {"Authorization": f"Bearer {token}"}

    def person(self, details: PersonDetails = ODILE) -> str:
        """A stored person."""
        return save_person(self.database, key=new_key(), actor=self.actor("receptionist"), details=details)

    def fitting(self, person_id: str, **parts: Any) -> str:
        """A stored fitting."""
        taken = Taken(on="2026-10-02", by="Ines Farrow", role="practitioner")
        fitting = Fitting(person=Person(reference="in the record"), taken=taken, **parts)
        actor = self.actor("practitioner")
        return import_fitting(self.database, key=new_key(), actor=actor, person_id=person_id, fitting=fitting)

    def signed_fitting(self, person_id: str, **parts: Any) -> str:
        """A stored fitting that is signed off."""
        fitting_id = self.fitting(person_id, **parts)
        sign_off(
            self.database,
            key=new_key(),
            actor=self.actor("practitioner"),
            fitting_id=fitting_id,
            name="Ines Farrow",
            registration="D-00417",
            document={"made": "for a test"},
        )
        return fitting_id


def open_practice(folder: Path) -> Iterator[Practice]:
    """A new practice with its four accounts; closed at the end."""
    database = open_database(f"sqlite:///{folder / 'practice.sqlite'}")
    for name, role, registration in STAFF:
        create_account(
            database,
            key=new_key(),
            actor=None,
            sign_in=name,
            name=name,
            role=role,
            registration=registration,
        )
    yield Practice(database, create_application(database))
    database.close()

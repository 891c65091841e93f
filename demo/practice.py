"""The demo practice: invented people, their fittings, and a server for this machine only."""

import json
import os
import socket
from contextlib import closing
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from app.commands.listening import answer_until_stopped, listening, stopping_tidily
from app.commands.settings_read import location
from app.fitting.fitting_file import read_fitting
from app.practice.settings import PracticeSettings
from app.records.accounts import create_account, list_accounts
from app.records.actor import Actor
from app.records.database import Database, open_database
from app.records.fittings import import_fitting, load_fitting
from app.records.pairs import record_pair_event
from app.records.people import save_person
from app.records.person_details import PersonDetails
from app.records.practice import load_settings, save_settings
from app.records.signoff import sign_off
from app.web.application import create_application
from app.web.signed_record import signed_document
from app.web.signin import DEMO_PASSPHRASE

FOLDER = Path(__file__).resolve().parent
DATA = FOLDER / "data"
FIRST_PORT = 8000
DAYS_AGO = 5

STAFF = (
    ("Ines Farrow", "practitioner", "D-00417"),
    ("Tobi Marsh", "assistant", None),
    ("Wren Calder", "receptionist", None),
    ("Hale Osborn", "manager", None),
)


def serve_demo() -> None:
    """Fill the demo database where it is new, say where the app is, and serve until stopped.

    Raises Refused or RecordsError with one line of words.
    """
    DATA.mkdir(exist_ok=True)
    database = open_database(f"sqlite:///{DATA / 'demo.sqlite'}", exclusive=True)
    if not list_accounts(database):
        fill(database)
    port = location().port if "CHAIR_TO_BENCH_PORT" in os.environ else free_port(FIRST_PORT)
    with stopping_tidily(), closing(database), listening("127.0.0.1", port) as taken:
        application = create_application(database, demo=True)
        print(f"\nChair to Bench, demo practice: http://localhost:{port}")
        print("Open that address in a browser on this machine and choose who to be on the sign-in page.")
        print(
            "To try the tablet pages, make the window 820 × 1180 or 1180 × 820 "
            "(the browser's device view does it)."
        )
        print(
            "A tablet on the network needs https, which comes with a later version. Stop with Ctrl-C.\n",
            flush=True,
        )
        answer_until_stopped(application, taken)


def free_port(port: int) -> int:
    """The first port from here on that nothing listens on."""
    while True:
        with socket.socket() as probe:
            if probe.connect_ex(("127.0.0.1", port)):
                return port
        port += 1


def fill(database: Database) -> None:
    """Accounts, the eight invented patients with their fittings, and where their pairs are."""
    for name, role, registration in STAFF:
        create_account(
            database,
            key=f"demo-account-{name}",
            actor=None,
            sign_in=name,
            name=name,
            role=role,
            passphrase=DEMO_PASSPHRASE,
            registration=registration,
        )
    accounts = {account.role: account for account in list_accounts(database)}
    manager = accounts["manager"].actor
    named = PracticeSettings(name="Quayside Spectacles, Pellwick Sands", telephone="01632 960100")
    save_settings(database, key="demo-settings", actor=manager, settings=named, base_version=0)
    practitioner = accounts["practitioner"]
    actor = Actor(account=practitioner.account, name=practitioner.name, role=practitioner.role)
    people = json.loads((FOLDER / "people.json").read_text(encoding="utf-8"))
    for place, details in enumerate(people, start=1):
        fill_person(database, actor, place, details, registration=practitioner.registration or "")


def fill_person(
    database: Database, actor: Actor, place: int, details: dict[str, Any], *, registration: str
) -> None:
    """One person with a fitting; signed off where a pair has got further than measuring."""
    document = json.loads((FOLDER / f"patient_{place}.json").read_text(encoding="utf-8"))
    events = details.pop("status")
    person = save_person(database, key=f"demo-person-{place}", actor=actor, details=PersonDetails(**details))
    fitting = read_fitting(as_if_lately(document))
    identity = import_fitting(
        database, key=f"demo-fitting-{place}", actor=actor, person_id=person, fitting=fitting
    )
    if not events:
        return
    sign_off(
        database,
        key=f"demo-signed-{place}",
        actor=actor,
        fitting_id=identity,
        name=actor.name,
        registration=registration,
        document=signed_document(load_fitting(database, identity).fitting, load_settings(database)),
    )
    for number, event in enumerate(events, start=1):
        key = f"demo-pair-{place}-{number}"
        record_pair_event(database, key=key, actor=actor, fitting_id=identity, pair=number, **event)


def as_if_lately(document: dict[str, Any], *, days_ago: int = DAYS_AGO) -> dict[str, Any]:
    """The fitting with its days moved to lately, so that a demo tried next year is not full of old readings."""
    taken = date.fromisoformat(document["taken"]["on"])
    moved = date.today() - timedelta(days=days_ago) - taken
    written = date.fromisoformat(document["prescription"]["written"]) + moved
    return document | {
        "taken": document["taken"] | {"on": (taken + moved).isoformat()},
        "prescription": document["prescription"] | {"written": written.isoformat()},
    }

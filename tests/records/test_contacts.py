"""Contacts with a person are noted once, kept for ever, and given back newest first."""

import sqlite3

import pytest

from app.records.contacts import last_contacts, note_contact
from app.records.errors import NotAllowed, NotFound, NotStorable
from app.records.identity import new_key
from tests.web.conftest import practice as practice
from tests.web.practice import MINA, Practice


def noted(
    practice: Practice, person: str, kind: str, *, key: str | None = None, role: str = "receptionist"
) -> str:
    """A contact noted by somebody of that role."""
    return note_contact(
        practice.database,
        key=key or new_key(),
        actor=practice.actor(role),
        person_id=person,
        kind=kind,  # type: ignore[arg-type]
        words="rings back on Monday",
    )


def test_contacts_come_back_newest_first_and_no_more_than_asked_for(practice: Practice) -> None:
    person = practice.person()
    noted(practice, practice.person(MINA), "passed_on")
    for kind in ("no_answer", "left_message", "spoke"):
        noted(practice, person, kind)
    assert [contact.kind for contact in last_contacts(practice.database, person, most=2)] == [
        "spoke",
        "left_message",
    ]


def test_a_contact_sent_twice_is_noted_once(practice: Practice) -> None:
    person, key = practice.person(), new_key()
    assert noted(practice, person, "spoke", key=key) == noted(practice, person, "spoke", key=key)
    assert len(last_contacts(practice.database, person)) == 1


def test_a_contact_is_never_changed_nor_removed(practice: Practice) -> None:
    noted(practice, practice.person(), "identity_confirmed")
    with sqlite3.connect(practice.database.file) as connection:
        for statement in ("UPDATE contact SET words = ''", "DELETE FROM contact"):
            with pytest.raises(sqlite3.IntegrityError, match="never changed"):
                connection.execute(statement)
    connection.close()


def test_what_cannot_be_a_contact_is_refused(practice: Practice) -> None:
    person = practice.person()
    with pytest.raises(NotStorable):
        noted(practice, person, "sang")
    with pytest.raises(NotFound):
        noted(practice, "0" * 32, "spoke")
    with pytest.raises(NotAllowed):
        noted(practice, person, "spoke", role="manager")
    assert last_contacts(practice.database, person) == ()

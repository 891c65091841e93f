"""Contacts with people: each call, message and check of identity is noted and kept."""

from dataclasses import dataclass
from typing import Literal, get_args

from sqlalchemy import Connection, bindparam, insert, select

from app.records.actor import Actor
from app.records.database import Database
from app.records.errors import NotFound, NotStorable
from app.records.identity import new_identity, now
from app.records.requests import Answer, Request, write_once
from app.records.rights import require
from app.records.storable import text_of
from app.records.tables.contacts import CONTACT
from app.records.tables.naming import NOTE
from app.records.tables.people import PERSON

Kind = Literal[
    "identity_confirmed",
    "identity_not_confirmed",
    "opened_without_caller",
    "spoke",
    "left_message",
    "no_answer",
    "passed_on",
]
KINDS: tuple[Kind, ...] = get_args(Kind)

_PERSON = select(PERSON.c.id).where(PERSON.c.identity == bindparam("person"))
_LAST = (
    select(CONTACT.c.kind, CONTACT.c.words, CONTACT.c.account, CONTACT.c.by, CONTACT.c.at)
    .join(PERSON, PERSON.c.id == CONTACT.c.person_id)
    .where(PERSON.c.identity == bindparam("person"))
    .order_by(CONTACT.c.id.desc())
    .limit(bindparam("most"))
)


@dataclass(frozen=True, slots=True)
class Contact:
    """One contact: what it was, in which words, and who noted it when."""

    kind: Kind
    words: str
    account: str
    by: str
    at: str


def note_contact(
    database: Database, *, key: str, actor: Actor, person_id: str, kind: Kind, words: str = ""
) -> str:
    """Note a contact with a person; gives its identity."""
    require(actor, "keep a person's details")
    if kind not in KINDS:
        raise NotStorable("That is not a kind of contact; choose one from the list.")
    text_of(words, what="note", longest=NOTE)
    wish = Request(key=key, actor=actor, action="note_contact", body=[person_id, kind, words])

    def work(connection: Connection) -> Answer:
        person_row = connection.execute(_PERSON, {"person": person_id}).scalar()
        if person_row is None:
            raise NotFound("person")
        row = {"identity": new_identity(), "person_id": person_row, "kind": kind, "words": words}
        by = {"account": actor.account, "by": actor.name, "at": now()}
        connection.execute(insert(CONTACT), {**row, **by})
        return {"contact": row["identity"]}

    return str(write_once(database, wish, work).answer["contact"])


def last_contacts(database: Database, person_id: str, *, most: int = 10) -> tuple[Contact, ...]:
    """The last contacts with a person, the newest first."""
    with database.read() as connection:
        rows = connection.execute(_LAST, {"person": person_id, "most": most}).all()
    return tuple(Contact(*row) for row in rows)

"""Taking in fitting files: the person is found by the reference, or made, and all is stored or nothing."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from sqlalchemy import Connection

from app.fitting.file_value import NotAFitting
from app.fitting.fitting import Fitting, Person
from app.records.actor import Actor
from app.records.database import Database
from app.records.errors import NotStorable, RecordsError
from app.records.fittings import take_in
from app.records.people import add_person, change_person, person_referred_to
from app.records.person_details import PersonDetails, checked
from app.records.requests import Answer, Request, once
from app.records.rights import require


@dataclass(frozen=True, slots=True)
class Imported:
    """The identity of the fitting, and whether it had been stored already by an earlier sending."""

    fitting_id: str
    repeated: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class FileToImport:
    """A fitting, the key under which it is stored once, and where it stands among others, for a refusal."""

    key: str
    fitting: Fitting
    place: str = ""


class NotImported(Exception):
    """One of the files was refused, so none is stored: its words, after the place of the file."""


def import_file(database: Database, *, key: str, actor: Actor, fitting: Fitting) -> Imported:
    """Take in a fitting with its person, in one transaction.

    What the practice does not know yet of the person is filled in from the file. Raises NotAFitting where the two
    differ, since then it may be another person's file, and where the store cannot keep something.
    """
    _require(actor)
    with database.write() as connection:
        return _import(connection, actor, FileToImport(key=key, fitting=fitting))


def import_files(database: Database, *, actor: Actor, files: Iterable[FileToImport]) -> tuple[Imported, ...]:
    """Take in several, all in one transaction: where one is refused, none is stored. Raises NotImported."""
    _require(actor)
    found = []
    with database.write() as connection:
        for file in files:
            try:
                found.append(_import(connection, actor, file))
            except (NotAFitting, RecordsError) as refusal:
                raise NotImported(f"{file.place}{refusal}") from refusal
    return tuple(found)


def _require(actor: Actor) -> None:
    require(actor, "enter readings")
    require(actor, "keep a person's details")


def _import(connection: Connection, actor: Actor, file: FileToImport) -> Imported:
    wish = Request(key=file.key, actor=actor, action="import_file", body=file.fitting)

    def work(within: Connection) -> Answer:
        person_id = _person_of(within, actor, file.fitting.person)
        return {"fitting": take_in(within, actor, person_id, file.fitting)}

    try:
        outcome = once(connection, wish, work)
    except NotStorable as refusal:
        if not refusal.place:
            raise
        raise NotAFitting(refusal.place, str(refusal)) from refusal
    return Imported(str(outcome.answer["fitting"]), outcome.repeated)


def _person_of(connection: Connection, actor: Actor, person: Person) -> str:
    """The identity of the person with that reference, made where there is none."""
    known = person_referred_to(connection, person.reference)
    if known is None:
        return add_person(connection, actor, checked(details_of(person)))
    filled = filled_in(known.details, person)
    return change_person(connection, actor, filled, known.person_id, known.version)


def details_of(person: Person) -> PersonDetails:
    """A new person as far as the file tells; a name is not in it."""
    return PersonDetails(
        reference=person.reference,
        born=person.born,
        sex=person.sex,
        registered_sight_impaired=person.registered_sight_impaired,
    )


def filled_in(held: PersonDetails, person: Person) -> PersonDetails:
    """What is held, with blanks filled from the file; NotAFitting where the two differ."""
    for place, there, here in (("born", held.born, person.born), ("sex", held.sex, person.sex)):
        if there is not None and here is not None and there != here:
            reason = (
                f"differs from what is held for reference {person.reference}; is it another person's file?"
            )
            raise NotAFitting(f"person.{place}", reason)
    return replace(
        held,
        born=held.born or person.born,
        sex=held.sex or person.sex,
        registered_sight_impaired=held.registered_sight_impaired or person.registered_sight_impaired,
    )

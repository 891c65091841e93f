"""Finding or making the person of a fitting file by its reference, without overwriting what is held."""

from dataclasses import replace

from app.fitting.file_value import NotAFitting
from app.fitting.fitting import Person
from app.records.actor import Actor
from app.records.database import Database
from app.records.people import load_person, person_with_reference, save_person
from app.records.person_details import PersonDetails


def person_of_file(database: Database, *, key: str, actor: Actor, person: Person) -> str:
    """The identity of the person with that reference, made where there is none.

    What the practice does not know yet is filled in from the file. Raises NotAFitting where the two differ: then
    it may be another person's file.
    """
    person_id = person_with_reference(database, person.reference)
    if person_id is None:
        return save_person(database, key=key, actor=actor, details=details_of(person))
    record = load_person(database, person_id)
    filled = filled_in(record.details, person)
    if filled == record.details:
        return person_id
    return save_person(
        database, key=key, actor=actor, details=filled, person_id=person_id, base_version=record.version
    )


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

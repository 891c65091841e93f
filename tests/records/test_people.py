"""People: every version of their details is kept, and two who edit one person do not overwrite each other."""

from dataclasses import replace

import pytest

from app.records.actor import Actor
from app.records.database import Database
from app.records.errors import AlreadyUsed, Conflict, NotAllowed, NotFound, NotStorable
from app.records.identity import new_key
from app.records.people import load_person, person_versions, person_with_reference, save_person
from app.records.person_details import PersonDetails

BEATRIX = PersonDetails(
    reference="D-0003",
    family_name="Solano",
    given_name="Beatrix",
    preferred_name="Bea",
    born="1965-02-11",
    sex="F",
    telephone="07700 900123",
    email="bea@example.org",
    address_line="4 Mill Lane",
    contact_channel="telephone",
    leave_message=True,
    permission_to_speak="her daughter Ana",
    registered_sight_impaired=False,
    note="rings after four",
)


def save(
    database: Database,
    actor: Actor,
    details: PersonDetails,
    person_id: str | None = None,
    base: int | None = None,
) -> str:
    """Save a person under a new key."""
    return save_person(
        database, key=new_key(), actor=actor, details=details, person_id=person_id, base_version=base
    )


def test_details_come_back_as_they_were_entered(database: Database, wren: Actor) -> None:
    person_id = save(database, wren, BEATRIX)

    record = load_person(database, person_id)
    assert record.details == BEATRIX
    assert (record.version, record.by) == (1, "Wren Adair")


def test_every_version_is_kept(database: Database, wren: Actor, ines: Actor) -> None:
    person_id = save(database, wren, BEATRIX)

    save(database, ines, replace(BEATRIX, telephone="07700 900456"), person_id, 1)

    versions = person_versions(database, person_id)
    assert [version.details.telephone for version in versions] == ["07700 900123", "07700 900456"]
    assert [version.by for version in versions] == ["Wren Adair", "Ines Calloway"]
    assert load_person(database, person_id).version == 2


def test_saving_the_same_again_is_no_new_version(database: Database, wren: Actor) -> None:
    person_id = save(database, wren, BEATRIX)

    save(database, wren, BEATRIX, person_id, 1)

    assert load_person(database, person_id).version == 1


def test_changes_of_two_people_in_different_details_are_both_kept(
    database: Database, wren: Actor, ines: Actor
) -> None:
    person_id = save(database, wren, BEATRIX)
    save(database, wren, replace(BEATRIX, telephone="07700 900456"), person_id, 1)

    save(database, ines, replace(BEATRIX, note="latex glove allergy"), person_id, 1)

    details = load_person(database, person_id).details
    assert (details.telephone, details.note) == ("07700 900456", "latex glove allergy")


def test_changes_of_two_people_in_one_detail_are_shown_and_not_stored(
    database: Database, wren: Actor, ines: Actor
) -> None:
    person_id = save(database, wren, BEATRIX)
    save(database, wren, replace(BEATRIX, telephone="07700 900456", leave_message=False), person_id, 1)

    with pytest.raises(Conflict) as clash:
        save(database, ines, replace(BEATRIX, telephone="07700 900789", note="new"), person_id, 1)

    assert {name: value.text for name, value in clash.value.fields.items()} == {"telephone": "07700 900456"}
    assert clash.value.fields["telephone"].by == "Wren Adair"
    assert load_person(database, person_id).details.note == "rings after four"


def test_the_same_change_by_two_people_is_no_conflict(database: Database, wren: Actor, ines: Actor) -> None:
    person_id = save(database, wren, BEATRIX)
    moved = replace(BEATRIX, address_line="5 Mill Lane")
    save(database, wren, moved, person_id, 1)

    save(database, ines, moved, person_id, 1)

    assert load_person(database, person_id).version == 2


def test_a_change_that_does_not_say_what_it_was_made_from_overwrites_nothing(
    database: Database, wren: Actor
) -> None:
    person_id = save(database, wren, BEATRIX)

    with pytest.raises(Conflict):
        save(database, wren, replace(BEATRIX, family_name="Solana"), person_id, None)


def test_an_empty_reference_is_given_by_the_practice(database: Database, wren: Actor) -> None:
    save(database, wren, replace(BEATRIX, reference="00002"))

    person_id = save(database, wren, replace(BEATRIX, reference=" "))

    assert load_person(database, person_id).details.reference == "00003"


def test_a_reference_belongs_to_one_person_however_it_is_written(database: Database, wren: Actor) -> None:
    person_id = save(database, wren, BEATRIX)

    with pytest.raises(AlreadyUsed, match="Another person already has the reference d0003"):
        save(database, wren, replace(BEATRIX, reference="d0003"))
    assert person_with_reference(database, "d 0003") == person_id
    assert person_with_reference(database, "D-0004") is None


@pytest.mark.parametrize(
    ("spoiled", "words"),
    [
        ({"born": "11/02/1965"}, "write it as 1961-05-30"),
        ({"born": "1965-02-30"}, "not a date"),
        ({"born": "19650211"}, "not a date"),
        ({"sex": "X"}, "Sex is F, M"),
        ({"family_name": "x" * 201}, "family name is too long"),
        ({"note": "\x00"}, "not text"),
    ],
)
def test_details_that_cannot_be_kept_are_refused_in_words(
    database: Database, wren: Actor, spoiled: dict[str, str], words: str
) -> None:
    with pytest.raises(NotStorable, match=words):
        save(database, wren, replace(BEATRIX, **spoiled))  # type: ignore[arg-type]


def test_the_manager_keeps_no_persons_details(database: Database, mara: Actor) -> None:
    with pytest.raises(NotAllowed):
        save(database, mara, BEATRIX)


def test_somebody_who_is_not_there_is_said_in_words(database: Database, wren: Actor) -> None:
    with pytest.raises(NotFound, match="no such person"):
        load_person(database, "nobody")
    with pytest.raises(NotFound):
        save(database, wren, BEATRIX, "nobody", 1)

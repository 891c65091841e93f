"""Fields: each has its own version, and a clash is shown to the one who comes second."""

import pytest

from app.records.actor import Actor
from app.records.database import Database
from app.records.errors import Conflict, Frozen, NotAllowed, NotStorable
from app.records.field_values import Changes, field_history, save_fields
from app.records.fittings import load_fitting
from app.records.identity import new_key
from app.records.signoff import sign_off

SPHERE, CYLINDER, KIND = "prescription.R.sphere", "prescription.R.cylinder", "pair.1.kind"


def save(database: Database, actor: Actor, fitting_id: str, changes: Changes) -> dict[str, int]:
    """Save fields under a new key."""
    return save_fields(database, key=new_key(), actor=actor, fitting_id=fitting_id, changes=changes)


def test_fields_become_the_fitting(database: Database, ines: Actor, fitting_id: str) -> None:
    versions = save(
        database, ines, fitting_id, {SPHERE: ("-6.25", 0), CYLINDER: ("-0.75", 0), KIND: ("handmade", 0)}
    )

    stored = load_fitting(database, fitting_id)
    assert versions == {SPHERE: 1, CYLINDER: 1, KIND: 1}
    assert stored.fitting.prescription is not None
    assert stored.fitting.prescription.right is not None
    assert stored.fitting.prescription.right.sphere == -6.25
    assert stored.fitting.pairs[0].kind == "handmade"
    assert (stored.fields[SPHERE].text, stored.fields[SPHERE].by) == ("-6.25", "Ines Calloway")


def test_two_people_in_different_fields_never_meet(
    database: Database, ines: Actor, theo: Actor, fitting_id: str
) -> None:
    save(database, ines, fitting_id, {SPHERE: ("-6.25", 0)})
    save(database, theo, fitting_id, {CYLINDER: ("-0.75", 0)})

    assert {path: value.version for path, value in load_fitting(database, fitting_id).fields.items()} == {
        SPHERE: 1,
        CYLINDER: 1,
    }


def test_the_second_in_one_field_is_shown_the_firsts_value_and_nothing_is_stored(
    database: Database, ines: Actor, theo: Actor, fitting_id: str
) -> None:
    save(database, ines, fitting_id, {SPHERE: ("-6.25", 0)})
    save(database, ines, fitting_id, {SPHERE: ("-6.50", 1)})

    with pytest.raises(Conflict, match="Ines Calloway changed this meanwhile") as clash:
        save(database, theo, fitting_id, {SPHERE: ("-5.25", 1), CYLINDER: ("-0.75", 0)})

    fields = load_fitting(database, fitting_id).fields
    assert clash.value.fields == {SPHERE: fields[SPHERE]}
    assert (fields[SPHERE].text, fields[SPHERE].version) == ("-6.50", 2)
    assert CYLINDER not in fields


def test_after_looking_at_both_the_second_may_choose(
    database: Database, ines: Actor, theo: Actor, fitting_id: str
) -> None:
    save(database, ines, fitting_id, {SPHERE: ("-6.25", 0)})
    with pytest.raises(Conflict) as clash:
        save(database, theo, fitting_id, {SPHERE: ("-5.25", 0)})

    version = clash.value.fields[SPHERE].version
    assert save(database, theo, fitting_id, {SPHERE: ("-5.25", version)}) == {SPHERE: 2}


def test_the_same_text_is_never_a_conflict_and_no_new_version(
    database: Database, ines: Actor, theo: Actor, fitting_id: str
) -> None:
    save(database, ines, fitting_id, {SPHERE: ("-6.25", 0)})
    save(database, ines, fitting_id, {SPHERE: ("-6.50", 1)})

    assert save(database, theo, fitting_id, {SPHERE: ("-6.50", 0)}) == {SPHERE: 2}
    assert len(field_history(database, fitting_id, SPHERE)) == 2


def test_an_emptied_field_keeps_its_version_and_its_history(
    database: Database, ines: Actor, theo: Actor, fitting_id: str
) -> None:
    save(database, ines, fitting_id, {KIND: ("handmade", 0)})
    save(database, theo, fitting_id, {KIND: (None, 1)})

    stored = load_fitting(database, fitting_id)
    assert (stored.fields[KIND].text, stored.fields[KIND].version) == (None, 2)
    assert stored.fitting.pairs == ()
    assert [(step.text, step.by) for step in field_history(database, fitting_id, KIND)] == [
        ("handmade", "Ines Calloway"),
        (None, "Theo Brandt"),
    ]
    assert save(database, ines, fitting_id, {KIND: ("", 0)}) == {KIND: 2}


@pytest.mark.parametrize(
    ("path", "text", "words"),
    [
        ("prescription.R.sphere", "much", "Sphere"),
        ("prescription.R.sphere", "-625", "Sphere"),
        ("prescription.M.sphere", "-6.25", "no field"),
        ("pair.1.choices.<script>", "x", "no such field"),
        ("", "x", "no such field"),
        ("history.interests", "x" * 5000, "too long"),
    ],
)
def test_what_cannot_be_right_is_refused_in_words_and_nothing_is_stored(
    database: Database, ines: Actor, fitting_id: str, path: str, text: str, words: str
) -> None:
    with pytest.raises(NotStorable, match=words):
        save(database, ines, fitting_id, {KIND: ("handmade", 0), path: (text, 0)})
    assert load_fitting(database, fitting_id).fields == {}


@pytest.mark.parametrize("base", [-1, 2**31, 2**70])
def test_a_version_beyond_all_bounds_is_refused_in_words(
    database: Database, ines: Actor, fitting_id: str, base: int
) -> None:
    with pytest.raises(NotStorable, match="Reload it"):
        save(database, ines, fitting_id, {KIND: ("handmade", base)})


def test_a_version_that_does_not_exist_yet_is_a_conflict(
    database: Database, ines: Actor, fitting_id: str
) -> None:
    with pytest.raises(Conflict):
        save(database, ines, fitting_id, {KIND: ("handmade", 7)})


def test_a_fitting_opens_although_a_question_left_the_catalogue(
    database: Database, ines: Actor, fitting_id: str
) -> None:
    save(database, ines, fitting_id, {SPHERE: ("-6.25", 0)})
    with database.write() as connection:
        connection.exec_driver_sql(
            "INSERT INTO field (fitting_id, path, version, text, by, at) "
            "SELECT id, 'history.asked_in_former_times', 1, 'yes', 'Ines Calloway', '2020' FROM fitting"
        )

    stored = load_fitting(database, fitting_id)

    assert stored.fitting.prescription is not None
    assert stored.fields["history.asked_in_former_times"].text == "yes"


def test_a_signed_fitting_takes_no_field_and_the_desk_saves_none(
    database: Database, ines: Actor, wren: Actor, fitting_id: str
) -> None:
    with pytest.raises(NotAllowed):
        save(database, wren, fitting_id, {KIND: ("handmade", 0)})
    sign_off(
        database,
        key=new_key(),
        actor=ines,
        fitting_id=fitting_id,
        name="Ines Calloway",
        registration="D-12345",
        document={},
    )

    with pytest.raises(Frozen):
        save(database, ines, fitting_id, {KIND: ("handmade", 0)})

"""Readings are only ever added; who proposed, accepted or struck out each one stays visible."""

from dataclasses import replace
from typing import Any

import pytest
from sqlalchemy.exc import IntegrityError

from app.fitting.fitting import Taken
from app.fitting.reading import Reading
from app.records.actor import Actor
from app.records.database import Database
from app.records.errors import KeyReused, NotAllowed, NotFound, NotStorable
from app.records.fittings import fitting_revision, load_fitting, start_fitting
from app.records.identity import new_key
from app.records.people import save_person
from app.records.person_details import PersonDetails
from app.records.readings import (
    Stored,
    accept_readings,
    add_reading,
    mark_entered_in_error,
)

FULL = Reading(
    measurement="length_to_tangent",
    value=101.5,
    text="101,5",
    side="L",
    condition="hearing_aid_in",
    instrument="rule 2",
    note="left ear sits lower",
    at="2026-10-02T09:31:05.000Z",
)


def add(
    database: Database, actor: Actor, fitting_id: str, reading: Reading, key: str | None = None
) -> Stored:
    """Store a reading."""
    return add_reading(database, key=key or new_key(), actor=actor, fitting_id=fitting_id, reading=reading)


def readings_of(database: Database, fitting_id: str) -> tuple[Reading, ...]:
    """The readings as they stand."""
    return load_fitting(database, fitting_id).fitting.readings


def test_a_reading_comes_back_as_it_was_entered(database: Database, ines: Actor, fitting_id: str) -> None:
    stored = add(database, ines, fitting_id, FULL)

    expected = replace(FULL, identity=stored.identity, by=ines.name, role="practitioner")
    assert readings_of(database, fitting_id) == (expected,)


@pytest.mark.parametrize(
    "value",
    [
        1.5875,  # 1/16 inch at 25.4 mm an inch: the international yard and pound agreement of 1959
        0.1,
        0.2,
        -3.5,
        61.5,
        0.1250,
    ],
)
def test_a_value_is_never_off_by_a_binary_fraction(
    database: Database, ines: Actor, fitting_id: str, value: float
) -> None:
    add(database, ines, fitting_id, replace(FULL, value=value))

    assert readings_of(database, fitting_id)[0].value == value
    with database.read() as connection:
        kind = connection.exec_driver_sql("SELECT typeof(value_parts) FROM reading").scalar_one()
        assert kind == "integer"


@pytest.mark.parametrize("value", [float("nan"), float("inf"), 1e300, -2e5, 1 / 3])
def test_a_value_that_cannot_be_kept_exactly_is_refused_in_words(
    database: Database, ines: Actor, fitting_id: str, value: float
) -> None:
    with pytest.raises(NotStorable, match=r"too large to be a measurement|more than four decimals"):
        add(database, ines, fitting_id, replace(FULL, value=value))
    assert readings_of(database, fitting_id) == ()


@pytest.mark.parametrize(
    "spoiled",
    [
        {"text": "6" * 300},
        {"note": "nul \x00"},
        {"note": "half a character \ud800"},
        {"pair": 3},
        {"side": "right"},
        {"source": "guessed"},
    ],
)
def test_what_no_database_keeps_is_refused_in_words(
    database: Database, ines: Actor, fitting_id: str, spoiled: dict[str, object]
) -> None:
    with pytest.raises(NotStorable):
        add(database, ines, fitting_id, replace(FULL, **spoiled))  # type: ignore[arg-type]
    assert readings_of(database, fitting_id) == ()


def test_a_retry_after_a_lost_answer_stores_the_reading_once(
    database: Database, ines: Actor, fitting_id: str
) -> None:
    key = new_key()
    first = add(database, ines, fitting_id, FULL, key)

    # The second sending is stamped later, by the server that receives it.
    again = add(database, ines, fitting_id, replace(FULL, at="2026-10-02T09:32:00.000Z"), key)

    assert (first.repeated, again.repeated) == (False, True)
    assert first.identity == again.identity
    assert len(readings_of(database, fitting_id)) == 1


def test_without_the_key_the_same_reading_would_be_there_twice(
    database: Database, ines: Actor, fitting_id: str
) -> None:
    for _ in range(2):
        add(database, ines, fitting_id, FULL)

    assert len(readings_of(database, fitting_id)) == 2


def test_one_key_for_two_different_readings_is_refused(
    database: Database, ines: Actor, theo: Actor, fitting_id: str
) -> None:
    key = new_key()
    add(database, ines, fitting_id, FULL, key)

    with pytest.raises(KeyReused, match="enter it again"):
        add(database, ines, fitting_id, replace(FULL, value=102), key)
    with pytest.raises(KeyReused):
        add(database, theo, fitting_id, FULL, key)

    assert len(readings_of(database, fitting_id)) == 1


def test_a_correction_is_a_reading_that_points_at_the_one_it_replaces(
    database: Database, ines: Actor, fitting_id: str
) -> None:
    first = add(database, ines, fitting_id, FULL)

    add(database, ines, fitting_id, replace(FULL, value=110, text="110", replaces=first.identity))

    old, new = readings_of(database, fitting_id)
    assert (old.value, new.value) == (101.5, 110)
    assert new.replaces == old.identity


@pytest.mark.parametrize(
    "other",
    [
        {"measurement": "head_width", "side": None},
        {"side": "R"},
        {"measurement": "lens_width", "side": None, "pair": 2},
    ],
)
def test_a_correction_of_another_box_is_refused_and_drops_nothing(
    database: Database, ines: Actor, fitting_id: str, other: dict[str, Any]
) -> None:
    first = add(database, ines, fitting_id, FULL)

    with pytest.raises(NotStorable, match="same measurement, side, pair and method"):
        add(database, ines, fitting_id, replace(FULL, **other, replaces=first.identity))

    assert [one.identity for one in readings_of(database, fitting_id)] == [first.identity]


def test_an_assistant_corrects_no_reading_of_a_practitioner(
    database: Database, ines: Actor, theo: Actor, fitting_id: str
) -> None:
    first = add(database, ines, fitting_id, FULL)

    with pytest.raises(NotAllowed, match="only their own"):
        add(database, theo, fitting_id, replace(FULL, replaces=first.identity))


def test_an_assistant_enters_in_no_name_but_their_own(
    database: Database, theo: Actor, fitting_id: str
) -> None:
    add(database, theo, fitting_id, replace(FULL, by="Ines Calloway", role="practitioner", proposed=False))

    (kept,) = readings_of(database, fitting_id)
    assert (kept.by, kept.role, kept.proposed) == ("Theo Brandt", "assistant", True)


def test_a_correction_cannot_reach_into_another_fitting(
    database: Database, ines: Actor, person_id: str, fitting_id: str
) -> None:
    other = start_fitting(
        database, key=new_key(), actor=ines, person_id=person_id, taken=Taken(on="2026-10-03")
    )
    there = add(database, ines, other, FULL)

    with pytest.raises(NotStorable, match="no such reading") as refusal:
        add(database, ines, fitting_id, replace(FULL, replaces=there.identity))
    assert refusal.value.place == "replaces"
    with pytest.raises(NotFound):
        mark_entered_in_error(
            database, key=new_key(), actor=ines, fitting_id=fitting_id, identity=there.identity, reason="x"
        )


def test_entered_in_error_keeps_the_reading_with_who_when_and_why(
    database: Database, ines: Actor, fitting_id: str
) -> None:
    stored = add(database, ines, fitting_id, FULL)

    for reason in ("other person's reading", "a second thought"):
        mark_entered_in_error(
            database,
            key=new_key(),
            actor=ines,
            fitting_id=fitting_id,
            identity=stored.identity,
            reason=reason,
        )

    (reading,) = readings_of(database, fitting_id)
    assert reading.value == 101.5
    assert reading.entered_in_error is not None
    assert reading.entered_in_error.by == "Ines Calloway"
    assert reading.entered_in_error.reason == "other person's reading"
    assert reading.entered_in_error.at.endswith("Z")


def test_entered_in_error_needs_a_reason(database: Database, ines: Actor, fitting_id: str) -> None:
    stored = add(database, ines, fitting_id, FULL)

    with pytest.raises(NotStorable, match="such as"):
        mark_entered_in_error(
            database, key=new_key(), actor=ines, fitting_id=fitting_id, identity=stored.identity, reason=" "
        )


def test_a_fitting_that_does_not_exist_is_said_in_words(database: Database, ines: Actor) -> None:
    with pytest.raises(NotFound, match="no such fitting"):
        add(database, ines, "nothing", FULL)
    with pytest.raises(NotFound):
        load_fitting(database, "nothing")


def test_the_database_refuses_to_change_remove_or_replace_a_reading(
    database: Database, ines: Actor, fitting_id: str
) -> None:
    add(database, ines, fitting_id, FULL)

    for statement in (
        "UPDATE reading SET value_parts = 1",
        "DELETE FROM reading",
        "INSERT OR REPLACE INTO reading SELECT * FROM reading",
    ):
        with (
            pytest.raises(IntegrityError, match="rows of reading are never changed"),
            database.write() as writing,
        ):
            writing.exec_driver_sql(statement)

    assert readings_of(database, fitting_id)[0].value == 101.5


def test_every_change_shows_in_the_next_load_and_raises_the_revision(
    database: Database, ines: Actor, theo: Actor, person_id: str, fitting_id: str
) -> None:
    revisions = [fitting_revision(database, fitting_id)]
    stored = add(database, theo, fitting_id, FULL)
    revisions.append(load_fitting(database, fitting_id).revision)
    accept_readings(database, key=new_key(), actor=ines, fitting_id=fitting_id, identities=[stored.identity])
    revisions.append(load_fitting(database, fitting_id).revision)
    assert load_fitting(database, fitting_id) is load_fitting(database, fitting_id)

    save_person(
        database,
        key=new_key(),
        actor=ines,
        details=PersonDetails(reference="D-0003", family_name="Solano", born="1964-02-11"),
        person_id=person_id,
        base_version=1,
    )

    assert revisions == sorted(set(revisions))
    assert load_fitting(database, fitting_id).fitting.person.born == "1964-02-11"


@pytest.mark.parametrize(
    "parts", [{"method": "guess"}, {"condition": "asleep"}, {"measurement": "ear_colour"}]
)
def test_a_reading_by_a_method_or_condition_that_is_not_known_is_refused_in_words(
    database: Database, ines: Actor, fitting_id: str, parts: dict[str, str]
) -> None:
    reading = replace(Reading(measurement="pd_distance", value=62, text="62"), **parts)  # type: ignore[arg-type]

    with pytest.raises(NotStorable, match="“"):
        add_reading(database, key=new_key(), actor=ines, fitting_id=fitting_id, reading=reading)

    assert load_fitting(database, fitting_id).fitting.readings == ()

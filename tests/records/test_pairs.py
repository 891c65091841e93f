"""Each of the two pairs has its own story, and reception hears only what may be said."""

import time

import pytest

from app.fitting.fitting import Taken
from app.records.actor import Actor
from app.records.database import Database
from app.records.errors import NotAllowed, NotFound, NotStorable
from app.records.fittings import load_fitting, start_fitting
from app.records.identity import new_key
from app.records.pair_states import STATES
from app.records.pairs import latest_pair_states, pair_events, pair_states, record_pair_event
from app.records.people import save_person
from app.records.person_details import PersonDetails
from app.records.signoff import open_new_version, sign_off

CLINICAL_WORDS = (
    "squint", "cover test", "prescription", "referr", "diagnos", "measurement", "finding", "power",
)  # fmt: skip


@pytest.fixture
def signed_id(database: Database, ines: Actor, fitting_id: str) -> str:
    """A signed fitting."""
    sign_off(
        database,
        key=new_key(),
        actor=ines,
        fitting_id=fitting_id,
        name=ines.name,
        registration="D-12345",
        document={},
    )
    return fitting_id


def note(
    database: Database, actor: Actor, fitting_id: str, pair: int, state: str, promised: str | None = None
) -> str:
    """Note what happened to a pair."""
    return record_pair_event(
        database,
        key=new_key(),
        actor=actor,
        fitting_id=fitting_id,
        pair=pair,
        state=state,
        words="",
        promised=promised,
    )


def test_pair_two_is_ready_while_pair_one_is_being_made(
    database: Database, wren: Actor, signed_id: str
) -> None:
    note(database, wren, signed_id, 1, "ordered", "2026-11-14")
    note(database, wren, signed_id, 2, "ordered", "2026-10-20")
    note(database, wren, signed_id, 1, "being_made")
    note(database, wren, signed_id, 2, "received")
    note(database, wren, signed_id, 2, "checked")
    note(database, wren, signed_id, 2, "told")

    states = pair_states(database, signed_id)
    assert (states[1].state.key, states[1].promised, states[1].told) == ("being_made", "2026-11-14", 0)
    assert (states[2].state.key, states[2].promised, states[2].told) == ("told", "2026-10-20", 1)
    assert states[2].may_say == "It is ready. Shall I book your fitting?"
    assert [event.state.key for event in pair_events(database, signed_id) if event.pair == 2] == [
        "ordered",
        "received",
        "checked",
        "told",
    ]


def test_without_an_event_the_fitting_itself_says_where_a_pair_is(
    database: Database, ines: Actor, fitting_id: str
) -> None:
    assert {status.state.key for status in pair_states(database, fitting_id).values()} == {"measuring"}
    sign_off(
        database,
        key=new_key(),
        actor=ines,
        fitting_id=fitting_id,
        name=ines.name,
        registration="D-12345",
        document={},
    )
    assert {status.state.key for status in pair_states(database, fitting_id).values()} == {"signed"}


def test_nothing_is_ordered_before_sign_off_but_a_pause_can_be_noted(
    database: Database, ines: Actor, wren: Actor, fitting_id: str
) -> None:
    with pytest.raises(NotAllowed, match="before the fitting is signed off"):
        note(database, wren, fitting_id, 1, "ordered")
    with pytest.raises(NotAllowed):
        note(database, wren, fitting_id, 1, "referred")

    note(database, ines, fitting_id, 1, "referred")

    status = pair_states(database, fitting_id)[1]
    assert status.may_say == "It is waiting for something on our side; the practitioner will ring you."


def test_what_reception_may_say_holds_nothing_clinical() -> None:
    for state in STATES:
        assert state.may_say.endswith((".", "?"))
        assert not [word for word in CLINICAL_WORDS if word in state.may_say.casefold()], state.key


def test_a_pair_event_does_not_disturb_a_review(database: Database, wren: Actor, fitting_id: str) -> None:
    before = load_fitting(database, fitting_id).revision

    note(database, wren, fitting_id, 2, "on_hold")

    assert load_fitting(database, fitting_id).revision == before


def test_the_desk_sees_the_newest_fittings_pairs_of_many_people_at_once(
    database: Database, ines: Actor, wren: Actor, person_id: str, signed_id: str
) -> None:
    note(database, wren, signed_id, 1, "collected")
    newest = start_fitting(
        database, key=new_key(), actor=ines, person_id=person_id, taken=Taken(on="2026-12-01")
    )
    note(database, wren, newest, 2, "on_hold")
    other = save_person(database, key=new_key(), actor=wren, details=PersonDetails(family_name="Strand"))

    states = latest_pair_states(database, [person_id, other, "nobody"])

    assert set(states) == {person_id}
    assert {pair: status.state.key for pair, status in states[person_id].items()} == {
        1: "measuring",
        2: "on_hold",
    }
    assert states[person_id][1].fitting_id == newest
    assert latest_pair_states(database, []) == {}


@pytest.mark.parametrize(
    ("pair", "state", "promised", "words"),
    [
        (3, "ordered", None, "A pair is 1 or 2"),
        (1, "lost", None, "choose one from the list"),
        (1, "ordered", "14 November", "write it as 2026-11-14"),
    ],
)
def test_an_event_that_cannot_be_is_refused_in_words(
    database: Database, wren: Actor, signed_id: str, pair: int, state: str, promised: str | None, words: str
) -> None:
    with pytest.raises(NotStorable, match=words):
        note(database, wren, signed_id, pair, state, promised)


def test_an_event_of_no_fitting_is_said_in_words(database: Database, wren: Actor) -> None:
    with pytest.raises(NotFound):
        note(database, wren, "nothing", 1, "on_hold")


def test_an_order_of_a_version_that_was_replaced_must_be_recalled(
    database: Database, ines: Actor, wren: Actor, signed_id: str
) -> None:
    note(database, wren, signed_id, 1, "ordered", "2026-11-14")
    note(database, wren, signed_id, 2, "agreed")
    open_new_version(database, key=new_key(), actor=ines, fitting_id=signed_id, reason="add changed by phone")
    with pytest.raises(NotAllowed, match="new version is open"):
        note(database, wren, signed_id, 2, "ordered")
    time.sleep(0.002)  # moments are kept to the millisecond
    parts = {"fitting_id": signed_id, "name": ines.name, "registration": "D-12345"}
    sign_off(database, key=new_key(), actor=ines, document={}, **parts)
    first, second = pair_states(database, signed_id).values()
    assert (first.replaced, second.replaced) == (True, False), "nothing of pair 2 went out yet"
    assert first.label == "Version 2 must go out, version 1 be recalled (ordered)"
    assert "practitioner will ring" in first.may_say
    person = load_fitting(database, signed_id).person_id
    assert latest_pair_states(database, [person])[person][1] == first

    note(database, wren, signed_id, 1, "ordered")
    assert pair_states(database, signed_id)[1].label == "Ordered"

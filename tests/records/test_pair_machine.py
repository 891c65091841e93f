"""The life of a pair: what can come next, who may say so, and what must be there first. Common practice."""

import pytest

from app.records.actor import Actor
from app.records.database import Database
from app.records.errors import KeyReused, NotAllowed
from app.records.identity import new_key
from app.records.pair_changes import PairChange, change_pair
from app.records.pair_machine import CHANGES, NEXT, ONLY_BY_ROUTE, PairFacts, changes_from, refusal
from app.records.pair_states import STATES
from app.records.pairs import pair_states, record_pair_event
from app.records.rights import ROLES
from app.records.signoff import sign_off


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


def say(database: Database, actor: Actor, fitting_id: str, state: str, **more: str) -> None:
    """Say what happened to pair 1."""
    change = PairChange(fitting_id=fitting_id, pair=1, state=state, **more)
    change_pair(database, key=new_key(), actor=actor, change=change)


def test_every_state_says_what_can_come_next_and_every_change_leads_to_a_state() -> None:
    known = {state.key for state in STATES}
    assert set(NEXT) == known
    assert {after for nexts in NEXT.values() for after in nexts} <= known & set(CHANGES)
    assert {place[0] for place in ONLY_BY_ROUTE} <= known


def test_every_pair_that_is_ordered_can_reach_its_end() -> None:
    reached, waiting = {"ordered"}, ["ordered"]
    while waiting:
        for after in NEXT[waiting.pop()]:
            if after not in reached:
                reached.add(after)
                waiting.append(after)
    assert {"collected", "closed", "cancelled", "remake", "returned"} <= reached


def test_a_frame_that_goes_back_for_a_fit_up_is_not_received_before_its_lenses_are_in() -> None:
    fit_up = changes_from("being_made", role="assistant", restricted=False, route="fit_up")
    straight = changes_from("being_made", role="assistant", restricted=False, route="straight_through")
    open_route = changes_from("being_made", role="assistant", restricted=False)
    assert {"fit_up_booked"} == {one.after for one in fit_up} - {"query"}
    assert {"received"} == {one.after for one in straight} - {"query"}
    assert {"fit_up_booked", "received", "query"} == {one.after for one in open_route}
    facts = PairFacts(state="being_made", route="fit_up")
    assert "another way" in (refusal(facts, "received", role="practitioner") or "")


@pytest.mark.parametrize("role", ROLES)
def test_who_may_say_what(role: str) -> None:
    facts = PairFacts(state="received", decided="pass")
    assert (refusal(facts, "checked", role=role) is None) == (role in ("practitioner", "assistant"))
    gone = PairFacts(state="ordered")
    assert (refusal(gone, "cancelled", role=role) is None) == (role == "practitioner")
    told = PairFacts(state="checked")
    assert (refusal(told, "told", role=role) is None) == (role != "manager")


def test_a_restricted_groups_pair_needs_its_practitioner() -> None:
    child = PairFacts(state="told", restricted=True)
    assert "name the practitioner" in (refusal(child, "collected", role="receptionist") or "")
    named = PairFacts(state="told", restricted=True, practitioner="Ines Calloway")
    assert refusal(named, "collected", role="receptionist") is None
    measured = PairFacts(state="received", restricted=True, decided="pass")
    assert "practitioner" in (refusal(measured, "checked", role="assistant") or "")
    assert refusal(measured, "checked", role="practitioner") is None


def test_a_pair_is_ready_only_after_it_was_measured_and_made_again_only_for_a_cause() -> None:
    assert "Measure what came in" in (
        refusal(PairFacts(state="received"), "checked", role="practitioner") or ""
    )
    wrong = PairFacts(state="received", decided="return")
    assert "Measure what came in" in (refusal(wrong, "checked", role="practitioner") or "")
    assert refusal(wrong, "returned", role="assistant") is None
    again = PairFacts(state="after_care")
    assert "cause" in (refusal(again, "remake", role="practitioner") or "")


def test_the_store_holds_a_pair_to_its_life(
    database: Database, wren: Actor, ines: Actor, signed_id: str
) -> None:
    with pytest.raises(NotAllowed, match="elsewhere by now"):
        say(database, wren, signed_id, "collected")
    say(database, wren, signed_id, "ordered", promised="2027-01-14")
    with pytest.raises(NotAllowed, match="elsewhere by now"):
        say(database, wren, signed_id, "agreed")
    say(database, wren, signed_id, "received")
    with pytest.raises(NotAllowed, match="Measure what came in"):
        say(database, ines, signed_id, "checked")
    assert pair_states(database, signed_id)[1].state.key == "received"
    assert pair_states(database, signed_id)[1].promised == "2027-01-14"
    assert pair_states(database, signed_id)[2].state.key == "signed", "pair 2 goes its own way"


def test_a_change_sent_twice_is_kept_once(database: Database, wren: Actor, signed_id: str) -> None:
    key, change = new_key(), PairChange(fitting_id=signed_id, pair=1, state="ordered")
    first = change_pair(database, key=key, actor=wren, change=change)
    assert change_pair(database, key=key, actor=wren, change=change) == first
    other = PairChange(fitting_id=signed_id, pair=1, state="on_hold")
    with pytest.raises(KeyReused):
        change_pair(database, key=key, actor=wren, change=other)


def test_nothing_is_ordered_before_sign_off(database: Database, ines: Actor, fitting_id: str) -> None:
    with pytest.raises(NotAllowed, match="elsewhere by now"):
        say(database, ines, fitting_id, "ordered")


def test_a_pair_paused_and_resumed_before_sign_off_can_be_ordered_after_it(
    database: Database, ines: Actor, fitting_id: str
) -> None:
    for state in ("referred", "choosing"):
        record_pair_event(database, key=new_key(), actor=ines, fitting_id=fitting_id, pair=1, state=state)
    sign_off(
        database,
        key=new_key(),
        actor=ines,
        fitting_id=fitting_id,
        name=ines.name,
        registration="D-12345",
        document={},
    )
    say(database, ines, fitting_id, "ordered")
    assert pair_states(database, fitting_id)[1].state.key == "ordered"

"""What came back and was handed over: measured values, decisions, and what was adjusted."""

from dataclasses import replace

import pytest

from app.fitting.fitting import Taken
from app.records.actor import Actor
from app.records.database import Database
from app.records.errors import NotAllowed, NotStorable
from app.records.fittings import start_fitting
from app.records.handovers import Adjusted, Handover, earlier_handovers, hand_over, handovers_of
from app.records.identity import new_key
from app.records.pairs import pair_states
from app.records.receipts import (
    MeasuredValue,
    WantedDecision,
    decide_receipt,
    decisions_of,
    decisions_of_maker,
    load_receipt,
    save_receipt_values,
)
from tests.records.bench import came_in, maker, sent, signed


def measured(item: str, value: float | None, text: str = "", side: str | None = None) -> MeasuredValue:
    """One measured value."""
    return MeasuredValue(item=item, side=side, value=value, text=text or f"{value:g}")  # type: ignore[arg-type]


def save(database: Database, actor: Actor, fitting_id: str, *values: MeasuredValue) -> None:
    """Keep values measured on pair 1."""
    save_receipt_values(database, key=new_key(), actor=actor, fitting_id=fitting_id, pair=1, values=values)


def decision(fitting_id: str, outcome: str, **more: object) -> WantedDecision:
    """A decision on pair 1."""
    whole = WantedDecision(
        fitting_id=fitting_id,
        pair=1,
        version=1,
        outcome=outcome,
        standard="iso",
        reason="",
        document=({"item": "head_width", "difference": 1.0, "tolerance": 3.0},),
        differences=0,
    )
    return replace(whole, **more)  # type: ignore[arg-type]


@pytest.fixture
def received(database: Database, ines: Actor, fitting_id: str) -> str:
    """A fitting whose pair 1 came in."""
    signed(database, ines, fitting_id)
    sent(database, ines, fitting_id, maker(database, ines))
    came_in(database, ines, fitting_id)
    return fitting_id


def test_measured_values_are_kept_and_the_last_one_counts(
    database: Database, theo: Actor, received: str
) -> None:
    save(
        database,
        theo,
        received,
        measured("lens_width", 48.5, side="R"),
        measured("lens_width", 47.0, side="L"),
    )
    save(database, theo, received, measured("lens_width", 48.0625, "48 1/16", side="R"))
    save(database, theo, received, MeasuredValue(item="lens_width", side="L", value=None, text=""))
    receipt = load_receipt(database, received, 1)
    assert receipt.arrival == 1
    assert [(one.item, one.side, one.value, one.text) for one in receipt.values] == [
        ("lens_width", "R", 48.0625, "48 1/16")
    ]
    with database.read() as connection:
        assert connection.exec_driver_sql("SELECT count(*) FROM receipt_value").scalar() == 4


def test_nothing_is_measured_on_a_pair_that_is_not_here(
    database: Database, ines: Actor, wren: Actor, fitting_id: str
) -> None:
    signed(database, ines, fitting_id)
    with pytest.raises(NotAllowed, match="received"):
        save(database, ines, fitting_id, measured("lens_width", 48.0))
    with pytest.raises(NotAllowed):
        save(database, wren, fitting_id, measured("lens_width", 48.0))


def test_a_difference_cannot_simply_pass_and_an_assistant_cannot_let_it(
    database: Database, ines: Actor, theo: Actor, received: str
) -> None:
    with pytest.raises(NotAllowed, match="cannot simply pass"):
        decide_receipt(database, key=new_key(), actor=ines, wanted=decision(received, "pass", differences=1))
    wanted = decision(received, "concession", differences=1, reason="fine")
    with pytest.raises(NotAllowed):
        decide_receipt(database, key=new_key(), actor=theo, wanted=wanted)
    with pytest.raises(NotStorable, match="why"):
        decide_receipt(database, key=new_key(), actor=ines, wanted=decision(received, "concession"))
    assert decisions_of(database, received, 1) == ()
    wanted = decision(received, "concession", differences=1, reason="0.2 more suits this nose")
    decide_receipt(database, key=new_key(), actor=ines, wanted=wanted)
    assert pair_states(database, received)[1].state.key == "checked"
    assert decisions_of(database, received, 1)[0].reason == "0.2 more suits this nose"


def test_what_went_back_is_measured_anew_when_it_comes_again(
    database: Database, ines: Actor, theo: Actor, received: str
) -> None:
    save(database, theo, received, measured("lens_width", 46.0, side="R"))
    decide_receipt(database, key=new_key(), actor=theo, wanted=decision(received, "return", differences=1))
    assert pair_states(database, received)[1].state.key == "returned"
    came_in(database, ines, received)
    again = load_receipt(database, received, 1)
    assert (again.arrival, again.values) == (2, ())
    decide_receipt(database, key=new_key(), actor=theo, wanted=decision(received, "pass"))
    assert [(one.arrival, one.outcome) for one in decisions_of(database, received, 1)] == [
        (1, "return"),
        (2, "pass"),
    ]


def test_decisions_are_found_by_who_made_the_pair(database: Database, ines: Actor, received: str) -> None:
    wanted = decision(received, "pass", frame_maker="bench", lens_maker="lab")
    decide_receipt(database, key=new_key(), actor=ines, wanted=wanted)
    for name in ("bench", "lab"):
        (found,) = decisions_of_maker(database, name)
        assert (found.fitting_id, found.pair, found.document[0]["difference"]) == (received, 1, 1.0)
    assert decisions_of_maker(database, "nobody") == ()


def handover(fitting_id: str, **more: object) -> Handover:
    """A collection of pair 1."""
    whole = Handover(
        fitting_id=fitting_id,
        pair=1,
        practitioner="Ines Calloway",
        received_by="the patient",
        checks=("bridge", "level"),
        advice=("cleaning",),
        adjusted=(
            Adjusted(item="head_width", side=None, amount=2.0),
            Adjusted(item="side_angle", side="L", amount=-1.5),
        ),
        words="sits well",
    )
    return replace(whole, **more)  # type: ignore[arg-type]


def test_what_was_adjusted_is_there_at_the_next_fitting(
    database: Database, ines: Actor, person_id: str, received: str
) -> None:
    with pytest.raises(NotAllowed):
        hand_over(database, key=new_key(), actor=ines, handover=handover(received))
    assert handovers_of(database, received) == (), "a pair that was not checked is not handed over"
    decide_receipt(database, key=new_key(), actor=ines, wanted=decision(received, "pass"))
    hand_over(database, key=new_key(), actor=ines, handover=handover(received))
    assert pair_states(database, received)[1].state.key == "collected"
    (kept,) = handovers_of(database, received)
    assert replace(kept, by="", at="") == handover(received)
    later = start_fitting(
        database, key=new_key(), actor=ines, person_id=person_id, taken=Taken(on="2027-10-02")
    )
    assert earlier_handovers(database, person_id=person_id, but_not=later) == (kept,)
    assert earlier_handovers(database, person_id=person_id, but_not=received) == ()


@pytest.mark.parametrize(
    ("wrong", "words"),
    [({"received_by": " "}, "who took"), ({"checks": ("luck",)}, "lists"), ({"advice": ("luck",)}, "lists")],
)
def test_a_collection_says_to_whom_and_what(
    database: Database, ines: Actor, received: str, wrong: dict[str, object], words: str
) -> None:
    with pytest.raises(NotStorable, match=words):
        hand_over(database, key=new_key(), actor=ines, handover=handover(received, **wrong))


def test_an_assistant_does_not_hand_over(database: Database, theo: Actor, received: str) -> None:
    with pytest.raises(NotAllowed):
        hand_over(database, key=new_key(), actor=theo, handover=handover(received))

"""Questions answered from a list: keys are unique, words are there, and typed answers are exactly those allowed."""

from collections import Counter
from typing import Any, get_args, get_type_hints

import pytest

from app.catalogue.catalogue import STEPS
from app.catalogue.choice import Choice
from app.catalogue.choices import CHOICES, HISTORY_CHOICES, PAIR_CHOICES
from app.catalogue.choices_eyes import COVER_CHOICES, PRESCRIPTION_CHOICES
from app.catalogue.conditions import CONDITIONS
from app.catalogue.reasons import REASONS, REASONS_THAT_ASK_FOR_DETAIL
from app.fitting.cover_test import CoverFinding
from app.fitting.pair import Pair
from app.fitting.prescription import Prism

each_choice = pytest.mark.parametrize("choice", CHOICES.values(), ids=lambda choice: choice.key)


def allowed(owner: type, name: str) -> set[str]:
    """The words that a typed attribute allows; empty where any text will do."""
    found: set[str] = set()
    pending: list[Any] = [get_type_hints(owner)[name]]
    while pending:
        one = pending.pop()
        found |= {one} if isinstance(one, str) else set()
        pending.extend(get_args(one))
    return found


def test_every_question_has_a_key_of_its_own() -> None:
    asked = Counter(
        choice.key for choice in (*HISTORY_CHOICES, *COVER_CHOICES, *PRESCRIPTION_CHOICES, *PAIR_CHOICES)
    )
    assert set(asked.values()) == {1}
    assert set(asked) == set(CHOICES)


@each_choice
def test_every_question_and_every_answer_has_words(choice: Choice) -> None:
    assert choice.label.strip()
    assert all(key and words.strip() for key, words in choice.options)
    assert len(dict(choice.options)) == len(choice.options)
    assert len({words for _, words in choice.options}) == len(choice.options)
    assert choice.options or not choice.several


@each_choice
def test_answers_that_may_be_ticked_together_hold_no_comma_in_their_keys(choice: Choice) -> None:
    assert all("," not in key for key, _ in choice.options)


def test_an_answer_is_shown_in_words_and_free_text_as_it_is() -> None:
    assert CHOICES["bridge_style"].words("keyhole").startswith("Keyhole")
    assert CHOICES["colour_front"].words("Amber 12") == "Amber 12"


@pytest.mark.parametrize("name", ["kind", "route", "bridge_style", "lens_form"])
def test_the_answers_for_a_pair_are_exactly_those_that_a_pair_can_hold(name: str) -> None:
    assert set(dict(CHOICES[name].options)) == allowed(Pair, name) != set()


@pytest.mark.parametrize("name", [choice.key for choice in COVER_CHOICES])
def test_the_answers_of_the_cover_test_are_exactly_those_that_it_can_hold(name: str) -> None:
    if name == "with_spectacles":
        assert set(dict(CHOICES[name].options)) == {"yes", "no"}
    else:
        assert set(dict(CHOICES[name].options)) == allowed(CoverFinding, name)


def test_the_cover_test_asks_for_everything_that_it_records() -> None:
    assert {choice.key for choice in COVER_CHOICES} == set(get_type_hints(CoverFinding))


def test_a_base_direction_is_one_that_a_prism_can_have() -> None:
    assert set(dict(CHOICES["base"].options)) == allowed(Prism, "base")


def test_every_step_asks_questions_that_exist() -> None:
    assert {key for step in STEPS for key in step.observations} <= set(CHOICES)


def test_smile_blink_and_brow_are_observed_where_the_lashes_are_measured() -> None:
    step = next(step for step in STEPS if step.key == "lash_clearance")
    assert {"smile", "blink", "brow_clearance"} <= set(step.observations)


def test_what_changes_the_measuring_is_asked_first() -> None:
    assert STEPS[0].key == "person"
    assert {
        "allergy",
        "skin",
        "hearing_aids",
        "head_covering",
        "recent_injury",
        "old_power",
        "old_centration",
        "old_liked",
        "old_hated",
        "posture",
        "working_distances",
        "hands_cleaned",
        "instruments_cleaned",
    } <= set(STEPS[0].observations)


def test_a_bench_gets_the_allergy_and_the_agreed_tolerance() -> None:
    assert CHOICES["allergy"].on_order
    assert CHOICES["allergy"].required
    assert CHOICES["tolerance_note"].on_order


def test_every_reason_and_condition_has_words_and_estimates_say_from_what() -> None:
    assert all(words.strip() for words in (*REASONS.values(), *CONDITIONS.values()))
    assert set(REASONS_THAT_ASK_FOR_DETAIL) <= set(REASONS)
    assert set(REASONS) == {
        "declined",
        "could_not_keep_still",
        "not_applicable",
        "sore_or_healing",
        "appliance_in_place",
        "equipment_not_to_hand",
        "at_fit_up",
        "estimated",
        "previous_record",
    }

"""Every check speaks where it should and is silent where it should, at its limits and beside them."""

import pytest

from app.plausibility.check import check
from app.plausibility.could_not_judge import NAME as COULD_NOT_JUDGE
from app.plausibility.families import CHECKS
from app.plausibility.finding import Severity
from tests.plausibility import (
    examples_of_expected_bands,
    examples_of_lenses,
    examples_of_pairs,
    examples_of_pupil_distances,
    examples_of_specification,
    examples_of_the_head,
    examples_of_the_nose,
    examples_of_the_record,
)
from tests.plausibility.case import Case

FILES = (
    examples_of_the_nose,
    examples_of_pupil_distances,
    examples_of_specification,
    examples_of_the_head,
    examples_of_pairs,
    examples_of_lenses,
    examples_of_specification,
    examples_of_the_record,
    examples_of_expected_bands,
)
FIRES = {name: examples for file in FILES for name, examples in file.FIRES.items()}
QUIET = {name: examples for file in FILES for name, examples in file.QUIET.items()}

SAID_BY_THE_JUDGE = {COULD_NOT_JUDGE}
"""Seen by no check of its own; see test_judge.py."""


@pytest.mark.parametrize(
    ("name", "severity", "example"),
    [(name, severity, example) for name, examples in FIRES.items() for severity, example in examples],
)
def test_a_check_speaks_with_its_severity(name: str, severity: Severity, example: Case) -> None:
    seen = example.seen_by(name)
    assert seen, f"{name} should have fired"
    assert max(seen, key=lambda one: list(Severity).index(one.severity)).severity is severity


@pytest.mark.parametrize(
    ("name", "example"), [(name, example) for name, examples in QUIET.items() for example in examples]
)
def test_a_check_is_silent_at_its_limit_and_where_its_readings_are_missing(name: str, example: Case) -> None:
    assert example.seen_by(name) == []


def test_every_check_has_examples_both_ways_and_no_example_is_left_over() -> None:
    assert set(FIRES) == set(CHECKS) - SAID_BY_THE_JUDGE
    assert set(QUIET) == set(CHECKS) - SAID_BY_THE_JUDGE


@pytest.mark.parametrize("name", sorted(set(CHECKS) - SAID_BY_THE_JUDGE))
def test_every_severity_that_a_check_declares_has_an_example(name: str) -> None:
    shown = {severity for severity, _ in FIRES[name]}
    assert shown == set(CHECKS[name].severities)


@pytest.mark.parametrize("name", CHECKS)
def test_a_check_has_all_its_words(name: str) -> None:
    one = CHECKS[name]
    words = (one.title, one.looks_at, one.why, one.limits, one.suggest, one.cost, one.source, one.family)
    assert all(words)
    assert one.find.__doc__


@pytest.mark.parametrize("name", CHECKS)
def test_a_name_is_plain_words(name: str) -> None:
    assert all(part.isalpha() and part.islower() for part in name.split("-"))


@pytest.mark.parametrize(
    ("name", "example"), [(name, example) for name, examples in FIRES.items() for _, example in examples]
)
def test_messages_say_what_was_seen_and_never_judge_the_person(name: str, example: Case) -> None:
    for seen in example.seen_by(name):
        said = f"{seen.message} {seen.suggest}".lower()
        assert not any(word in said for word in ("abnormal", "disease", "diagnosis:", "none", "nan"))
        assert seen.message[0].isupper() or seen.message[0].isdigit()
        assert seen.message.endswith(".")


def test_two_checks_cannot_have_one_name() -> None:
    taken = next(iter(CHECKS.values()))
    with pytest.raises(ValueError, match="two checks"):
        check(
            taken.name,
            family="",
            title="",
            looks_at="",
            why="",
            limits="",
            suggest="",
            cost="",
            source="",
            severities=(),
        )(taken.find)

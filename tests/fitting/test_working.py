"""Repeats become one working value by the rule of two readings, and a third where two differ."""

from dataclasses import replace
from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.fitting.fitting import Fitting, Person, Taken
from app.fitting.reading import EnteredInError, Reading
from app.fitting.working import State, current_readings, settle, waiting_proposals, working_values


def fitting_with(*readings: Reading) -> Fitting:
    return Fitting(person=Person(reference="D-1"), taken=Taken(on="2026-10-02"), readings=readings)


def pd(value: float, method: str | None = "rule", condition: str | None = None, **more: str) -> Reading:
    return Reading(
        measurement="pd_distance", value=value, text=str(value), method=method, condition=condition, **more
    )


@pytest.mark.parametrize(
    ("values", "tolerance", "value", "state"),
    [
        ([62.0], 0.5, 62.0, "single"),
        ([62.0, 62.5], 0.5, 62.25, "agree"),
        ([60.1, 60.6], 0.5, 60.35, "agree"),  # 60.6 − 60.1 is more than 0.5 in binary fractions
        ([62.0, 63.0], 0.5, 62.5, "third_needed"),
        ([62.0, 63.0, 62.5], 0.5, 62.5, "mean_of_closest"),
        ([62.0, 64.0, 62.5], 0.5, 62.25, "mean_of_closest"),
        ([60.0, 62.0, 65.0], 0.5, 62.0, "median"),
        ([61.0, 62.0, 63.0], 1.0, 62.0, "mean_of_closest"),
        ([60.0, 62.0, 62.5, 65.0], 0.5, 62.25, "mean_of_closest"),
        ([61.0, 61.0, 63.0, 63.0], 0.5, 62.0, "median"),
        ([60.0, 62.0, 64.0, 67.0], 1.0, 63.0, "median"),
        ([60.0, 60.5, 62.0, 65.0, 65.2], 1.0, 65.1, "mean_of_closest"),
    ],
)
def test_repeats_are_settled(values: list[float], tolerance: float, value: float, state: State) -> None:
    for order in permutations(values):
        assert settle(list(order), tolerance=tolerance) == (pytest.approx(value), state)


def test_the_middle_one_of_a_hundred_millimetres_is_no_different() -> None:
    """The rule looks at differences only: shifting all readings shifts the result."""
    near, _ = settle([1.0, 3.0, 1.5], tolerance=0.5)
    far, _ = settle([101.0, 103.0, 101.5], tolerance=0.5)

    assert far - near == pytest.approx(100)


def test_methods_and_conditions_are_never_averaged_together() -> None:
    fitting = fitting_with(
        pd(62.5, "rule"), pd(62.0, "pupil_gauge"), pd(63.0, "rule"), pd(61.0, "rule", "habitual_posture")
    )

    working = working_values(fitting)

    assert [(one.method, one.condition, one.value, one.count) for one in working] == [
        ("rule", None, 62.75, 2),
        ("pupil_gauge", None, 62.0, 1),
        ("rule", "habitual_posture", 61.0, 1),
    ]


def test_the_tolerance_is_that_of_the_method() -> None:
    """McMahon 2012 (PMID 22581116): a trained examiner repeats a rule within about 1.1, a gauge within 0.8 mm."""
    by_rule, by_gauge = working_values(
        fitting_with(pd(62.0, "rule"), pd(63.0, "rule"), pd(62.0, "pupil_gauge"), pd(63.0, "pupil_gauge"))
    )

    assert by_rule.state == "agree"
    assert by_gauge.state == "third_needed"
    assert by_gauge.spread == 1.0


def test_a_reading_entered_in_error_does_not_count() -> None:
    slip = replace(
        pd(26.0), identity="a", entered_in_error=EnteredInError(by="I", at="2026-10-02", reason="digits")
    )

    assert current_readings(fitting_with(slip, pd(62.0))) == (pd(62.0),)


def test_a_correction_stands_in_for_the_reading_it_replaces() -> None:
    first, second = pd(26.0, identity="a"), pd(62.0, identity="b", replaces="a")

    assert current_readings(fitting_with(first, second)) == (second,)


def test_a_correction_that_was_itself_a_slip_brings_the_first_reading_back() -> None:
    error = EnteredInError(by="I", at="2026-10-02", reason="wrong box")
    first = pd(62.0, identity="a")
    second = replace(pd(26.0, identity="b", replaces="a"), entered_in_error=error)

    assert current_readings(fitting_with(first, second)) == (first,)


repeats = st.lists(st.integers(0, 3000).map(lambda number: number / 10), min_size=1, max_size=6)


@given(repeats, st.sampled_from([0.5, 1.0, 3.0]))
def test_the_value_lies_among_the_readings_whatever_their_order(
    values: list[float], tolerance: float
) -> None:
    value, state = settle(values, tolerance=tolerance)

    assert min(values) <= value <= max(values)
    assert settle(values[::-1], tolerance=tolerance) == (value, state)


@given(repeats, st.sampled_from([0.5, 1.0, 3.0]))
def test_readings_mirrored_about_a_point_give_the_mirrored_value(
    values: list[float], tolerance: float
) -> None:
    value, state = settle(values, tolerance=tolerance)
    mirrored, same_state = settle([300 - one for one in values], tolerance=tolerance)

    assert mirrored == pytest.approx(300 - value)
    assert same_state == state


def test_an_assistants_reading_is_not_averaged_with_the_practitioners():
    # Accepted or measured again: never half of each. Common practice.
    proposed = Reading(measurement="head_width", value=130, text="130", proposed=True, identity="a")
    own = Reading(measurement="head_width", value=131, text="131", identity="b")
    fitting = fitting_with(proposed, own)

    (value,) = working_values(fitting)

    assert (value.value, value.count) == (131, 1)
    assert waiting_proposals(fitting) == ()
    assert waiting_proposals(fitting_with(proposed)) == (proposed,)

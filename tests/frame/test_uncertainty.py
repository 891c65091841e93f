"""The uncertainty on an order is that which simulated readings show.

Each reading is drawn anew, with the standard deviation that its repeat limit means (repeat limit = 1.96 √2 standard
deviations, ISO 5725-6, from memory), and the whole order is worked out again: Monte Carlo by the standard library
and numpy, independent of the derivatives and of the fixed draws of the app.
"""

from dataclasses import replace
from functools import cache
from math import sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.catalogue.catalogue import MEASUREMENTS
from app.fitting.fitting import Fitting
from app.fitting.reading import Reading
from app.fitting.working import WorkingValue, settle
from app.frame.needed import Needed, derived, simulated
from app.frame.ordered import ordered_dimensions
from app.frame.ordered_dimension import OrderedDimension
from app.frame.repeatability import standard_deviation
from app.frame.specification import specification
from app.practice.settings import PracticeSettings
from tests.frame.test_specification import high_minus
from tests.frame.worked_set import FACES, fitting_of

SETTINGS = PracticeSettings()
TIMES = 1500
KINKED = ("clearance_at_lashes", "smallest_blank")
"""A larger-of, and a decentration without its sign: here the simulated interval is quoted."""
Key = tuple[str, str | None]
EVEN, UNEVEN = FACES[0], FACES[6]


def deviation_of(reading: Reading) -> float:
    return MEASUREMENTS[reading.measurement].tolerance(reading.method) / (1.96 * sqrt(2))


def drawn_again(fitting: Fitting, chance: np.random.Generator) -> Fitting:
    readings = tuple(
        replace(one, value=one.value + float(chance.normal(0, deviation_of(one)))) for one in fitting.readings
    )
    return replace(fitting, readings=readings)


@cache
def simulation(face: int, pair: int) -> tuple[dict[Key, OrderedDimension], dict[Key, np.ndarray]]:
    fitting = fitting_of(FACES[face])
    lines = {(one.dimension, one.side): one for one in lines_of(fitting, pair)}
    chance = np.random.default_rng(face * 10 + pair)
    found: dict[Key, list[float]] = {key: [] for key in lines}
    for _ in range(TIMES):
        for one in lines_of(drawn_again(fitting, chance), pair):
            if one.ordered is not None:
                found[one.dimension, one.side].append(one.ordered)
    return lines, {key: np.array(values) for key, values in found.items()}


def lines_of(fitting: Fitting, number: int) -> tuple[OrderedDimension, ...]:
    pair = fitting.pair(number)
    assert pair is not None
    return ordered_dimensions(fitting, pair, SETTINGS)


@pytest.mark.parametrize(("face", "pair"), [(0, 1), (0, 2), (6, 1), (6, 2), (2, 1)])
def test_every_ordered_dimension_is_as_uncertain_as_simulated_readings_show(face: int, pair: int) -> None:
    lines, simulated_values = simulation(face, pair)

    compared = 0
    for key, line in lines.items():
        values = simulated_values[key]
        if line.ordered is None:
            continue
        if line.uncertainty is None:
            assert values.std() < 1e-9, f"{key} moves, and says nothing"
            continue
        if line.dimension in KINKED:
            low, high = np.percentile(values, (2.275, 97.725))
            ratio = (high - low) / 2 / line.uncertainty
        else:
            ratio = 2 * values.std() / line.uncertainty
        assert 0.9 <= ratio <= 1.1, f"{key}: {ratio:.3f}"
        compared += 1
    assert compared >= (25 if pair == 1 else 12)


def test_the_simulated_interval_lies_where_simulated_readings_fall() -> None:
    lines, simulated_values = simulation(6, 1)

    line, values = lines["clearance_at_lashes", None], simulated_values["clearance_at_lashes", None]
    assert line.low is not None
    assert line.high is not None
    low, high = np.percentile(values, (2.275, 97.725))
    assert (line.low, line.high) == pytest.approx((low, high), abs=0.1)
    # the larger of two equal lashes is on average longer than either: the interval leans to less room
    assert line.ordered is not None
    assert line.high - line.ordered < line.ordered - line.low


def test_the_body_of_a_lens_is_as_uncertain_as_simulated_pds_show() -> None:
    # given the high minus of the worked set with a prescription and an index
    fitting = high_minus()
    made = specification(fitting, SETTINGS).pairs[1]
    chance = np.random.default_rng(5)
    keys = ("edge_thickness_max", "weight_g", "decentration_in")
    found: dict[str, list[float]] = {key: [] for key in keys}
    for _ in range(500):
        again = specification(drawn_again(fitting, chance), SETTINGS).pairs[1]
        for key in keys:
            value = again.right.value(key)
            assert value is not None
            assert value.number is not None
            found[key].append(value.number)

    for key in keys:
        value = made.right.value(key)
        assert value is not None
        assert value.uncertainty is not None
        low, high = np.percentile(found[key], (2.275, 97.725))
        # 500 draws leave about 7 % of chance in an interval
        assert (high - low) / 2 == pytest.approx(value.uncertainty, rel=0.15), key


def working(state: str, *, spread: float = 0.0, count: int = 1) -> WorkingValue:
    return WorkingValue(
        measurement="length_to_tangent",
        side="R",
        pair=None,
        method=None,
        condition=None,
        value=100,
        spread=spread,
        count=count,
        state=state,  # type: ignore[arg-type]
        unit="mm",
    )


def test_a_second_reading_that_agrees_makes_the_first_surer_by_root_two() -> None:
    once, twice = standard_deviation(working("single")), standard_deviation(working("agree", count=2))

    # length to tangent repeats to 2 mm: 2 / 2.77 = 0.72
    assert once == pytest.approx(0.7215, abs=1e-4)
    assert once / twice == pytest.approx(sqrt(2))


def test_two_readings_that_disagree_leave_half_their_difference_open() -> None:
    assert standard_deviation(working("third_needed", spread=6, count=2)) == 3


def test_the_spread_of_a_median_is_that_of_simulated_medians() -> None:
    # given five readings that never agree, from a spread of 4 mm
    chance = np.random.default_rng(1)
    medians = np.median(chance.normal(0, 4, (20000, 5)), axis=1)

    quoted = standard_deviation(working("median", spread=8, count=5))
    assert quoted == pytest.approx(medians.std(), rel=0.1)


def test_the_mean_of_two_repeats_is_as_sure_as_simulated_pairs_show() -> None:
    chance = np.random.default_rng(2)
    one = standard_deviation(working("single"))
    means = [settle(list(100 + chance.normal(0, one, 2)), tolerance=99)[0] for _ in range(4000)]

    assert np.std(means) == pytest.approx(standard_deviation(working("agree", count=2)), rel=0.05)


def reading(name: str, value: float, deviation: float) -> Needed:
    return Needed(name=name, value=value, shares={name: deviation})


@given(st.floats(0.1, 3), st.floats(0.1, 3), st.floats(-4, 4), st.floats(-4, 4))
def test_independent_readings_add_in_quadrature(
    one: float, other: float, first: float, second: float
) -> None:
    total = derived("sum", lambda a, b: first * a + second * b, reading("a", 5, one), reading("b", 7, other))

    assert total.standard == pytest.approx(
        sqrt((first * one) ** 2 + (second * other) ** 2), rel=1e-6, abs=1e-9
    )


@given(st.floats(0.1, 3))
def test_a_reading_that_enters_twice_is_not_counted_as_two(deviation: float) -> None:
    own = reading("a", 5, deviation)
    doubled = derived("twice", lambda a, b: a + b, own, own)
    nothing = derived("cancelled", lambda a, b: a - b, own, own)

    assert doubled.standard == pytest.approx(2 * deviation)
    assert nothing.standard == pytest.approx(0, abs=1e-9)


def test_the_reading_that_matters_most_is_named_with_what_a_repeat_would_bring() -> None:
    total = derived("sum", lambda a, b: a + b, reading("head", 150, 2.0), reading("temple", 140, 0.5))

    assert total.dominated_by == "head"
    # 2 √(2² / 2 + 0.5²) = 3.0 against 4.12
    assert total.after_repeating == pytest.approx(3.0, abs=1e-6)


def test_the_larger_of_two_is_simulated() -> None:
    # the larger of two standard normals has the mean 1 / √π and the standard deviation √(1 − 1 / π) (textbook)
    larger = simulated("larger", np.maximum, reading("a", 0, 1), reading("b", 0, 1))

    assert larger.interval is not None
    chance = np.random.default_rng(3)
    truth = np.percentile(chance.normal(size=(200000, 2)).max(axis=1), (2.275, 97.725))
    assert larger.interval == pytest.approx(tuple(truth), abs=0.12)


def test_what_nothing_was_measured_for_has_no_uncertainty() -> None:
    chosen = Needed(name="lens width", value=48, count=0)

    assert chosen.uncertainty is None
    assert derived("box", lambda a: a + 18, chosen).uncertainty is None

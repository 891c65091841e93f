"""A practice's own repeatability, and how far it is believed while repeats are few."""

from dataclasses import replace

import numpy as np
import pytest

from app.fitting.fitting import Fitting, Person, Taken
from app.fitting.reading import Reading
from app.plausibility.expectation import expected_bands
from app.plausibility.expectation_repeatability import repeatability, shrunk_error, technical_error
from app.practice.settings import PracticeSettings
from tests.plausibility.expected_face import ordinary_fitting


def twice(first: float, second: float, *, by: tuple[str, str] = ("A", "A")) -> Fitting:
    readings = tuple(
        Reading(measurement="head_width", value=value, text=f"{value:g}", by=who)
        for value, who in zip((first, second), by, strict=True)
    )
    return Fitting(person=Person(reference="repeat"), taken=Taken(on="2026-06-01"), readings=readings)


def test_the_technical_error_is_the_spread_of_one_reading() -> None:
    # Ulijaszek and Kerr 1999: TEM = SD of differences / √2, for differences without a mean
    draw = np.random.default_rng(5)
    first, second = draw.normal(0, 0.8, (2, 20_000))
    assert technical_error((first - second).tolist()) == pytest.approx(0.8, rel=0.02)


def test_without_repeats_there_is_no_technical_error() -> None:
    with pytest.raises(ValueError, match="no two readings"):
        technical_error([])


def test_few_repeats_hardly_move_the_published_error_and_many_replace_it() -> None:
    assert shrunk_error(own=2.0, pairs=1, published=0.7) < 0.9
    assert shrunk_error(own=2.0, pairs=1000, published=0.7) == pytest.approx(2.0, rel=0.02)


def test_repeatability_is_shown_by_measurement_and_by_measurer() -> None:
    fittings = [twice(140, 142), twice(150, 149), twice(139, 141, by=("A", "B"))]
    (everybody,) = repeatability(fittings)
    assert (everybody.measurement, everybody.by, everybody.pairs) == ("head_width", None, 3)
    assert everybody.own == pytest.approx((9 / 6) ** 0.5)
    assert everybody.published < everybody.used < everybody.own
    (alone,) = repeatability(fittings, by_measurer=True)
    assert (alone.by, alone.pairs) == ("A", 2)


def test_a_practice_that_repeats_badly_gets_wider_bands() -> None:
    settings = PracticeSettings()
    rough = replace(settings, own_repeatability=(("head_width", 4.0),))
    widths = []
    for one in (settings, rough):
        band = next(b for b in expected_bands(ordinary_fitting(), one) if b.measurement == "head_width")
        widths.append(band.high - band.low)
    assert widths[1] > 1.3 * widths[0]

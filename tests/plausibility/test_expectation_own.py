"""A practice's own reference: its own figures for one reading, and what links it to others as before."""

from dataclasses import replace

import numpy as np
import pytest

from app.plausibility.expectation import band_before
from app.plausibility.expectation_evidence import model_of, models_for
from app.plausibility.expectation_face import Kind
from app.plausibility.expectation_own import NODE_OF_OWN, with_own, with_own_reference
from app.practice.settings import Adjustments, PracticeSettings
from app.reference.populations import SEXES
from tests.plausibility.case import case

MODELS = {sex: model_of(Kind(sex=sex), frozenset(), Adjustments()) for sex in SEXES}


@pytest.mark.parametrize("measurement", NODE_OF_OWN)
def test_both_sexes_together_have_the_practices_mean_and_spread(measurement: str) -> None:
    node = NODE_OF_OWN[measurement]
    before = MODELS["F"].means[MODELS["F"].index[node]]
    found = with_own_reference(MODELS, ((measurement, float(before) + 2, 1.7),))
    means = [found[sex].means[found[sex].index[node]] for sex in SEXES]
    spreads = [found[sex].standard_deviation(node) for sex in SEXES]
    # law of total variance for two groups of equal weight
    assert np.mean(means) == pytest.approx(before + 2)
    assert np.mean(np.square(spreads)) + np.var(means) == pytest.approx(1.7**2)


def test_given_that_reading_all_others_are_as_before() -> None:
    # the regression of one normal variable on another: slope = covariance / variance; residual variance
    model, node, other = MODELS["M"], "head_width", "head_circumference"
    own = with_own(model, node, mean=150, sd=9)

    def regression(one):
        variance = one.covariance(node, node)
        slope = one.covariance(node, other) / variance
        left = one.covariance(other, other) - slope * one.covariance(node, other)
        return slope, left, one.means[one.index[other]] - slope * one.means[one.index[node]]

    assert regression(own) == pytest.approx(regression(model))
    assert own.standard_deviation(node) == pytest.approx(9)


def test_own_figures_move_the_band_of_a_reading() -> None:
    fitting = case(head_width=145, temple_width=133).fitting
    usual = band_before(fitting, PracticeSettings(), "head_circumference")
    moved = band_before(
        fitting, PracticeSettings(own_reference=(("head_circumference", 540.0, 12.0),)), "head_circumference"
    )
    assert usual is not None
    assert moved is not None
    assert moved.mid < usual.mid - 10


def test_a_practice_that_closes_its_callipers_harder_expects_less() -> None:
    fitting = case(head_circumference=565, temple_width=133).fitting
    by_default = band_before(fitting, PracticeSettings(), "head_width")
    harder = band_before(fitting, PracticeSettings(head_width_inside_breadth_mm=12), "head_width")
    assert by_default is not None
    assert harder is not None
    assert harder.mid < by_default.mid


def test_children_keep_their_own_tables() -> None:
    child = replace(case().fitting, person=replace(case().fitting.person, born="2018-05-01"))
    settings = PracticeSettings(own_reference=(("pd_distance", 70.0, 3.0),))
    own = models_for(child, settings, pairs=frozenset())
    plain = models_for(child, PracticeSettings(), pairs=frozenset())
    assert [one.means[one.index["pd"]] for one in own] == [one.means[one.index["pd"]] for one in plain]

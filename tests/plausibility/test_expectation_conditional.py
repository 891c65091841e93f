"""The conditional distributions against a general-purpose library, and that no set of readings breaks them."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.linalg import solve
from scipy.stats import multivariate_normal

from app.catalogue.catalogue import MEASUREMENTS
from app.fitting.fitting import Fitting
from app.plausibility.expectation import expected_bands, suspects
from app.plausibility.expectation_conditional import (
    leave_one_out,
    removed_given_kept,
    together,
    without,
)
from app.plausibility.expectation_evidence import Evidence, evidence_of, model_of, models_for, node_of
from app.plausibility.expectation_face import Kind, nasal_correlations
from app.plausibility.expectation_limits import CriticalValues, critical_values
from app.practice.settings import Adjustments, PracticeSettings
from tests.plausibility.expected_face import every_box, ordinary_fitting

SETTINGS = PracticeSettings()
BOXES = sorted(every_box(), key=str)


def evidence_for(fitting: Fitting) -> tuple[Evidence, ...]:
    return evidence_of(fitting, SETTINGS)


def joint(fitting: Fitting):  # type: ignore[no-untyped-def]
    return together(evidence_for(fitting), models_for(fitting, SETTINGS, pairs=frozenset({2})))


def test_one_sex_gives_the_conditional_mean_and_variance_of_a_partitioned_normal() -> None:
    # Σ_io Σ_oo⁻¹ by scipy.linalg.solve, against the leave-one-out form from the inverse
    whole = joint(ordinary_fitting(sex="F"))
    covariance = np.linalg.inv(whole.precision[0])
    found = leave_one_out(whole)
    for place in range(len(whole.values)):
        others = np.delete(np.arange(len(whole.values)), place)
        pull = solve(covariance[np.ix_(others, others)], covariance[others, place], assume_a="pos")
        mean = whole.values[place] - whole.residuals[0, place] + pull @ whole.residuals[0, others]
        variance = covariance[place, place] - pull @ covariance[others, place]
        assert found.mean[place] == pytest.approx(mean, abs=1e-6)
        assert found.sd[place] ** 2 == pytest.approx(variance, rel=1e-6)


def test_sex_not_stated_gives_the_density_of_a_mixture() -> None:
    # scipy.stats.multivariate_normal: p(x) / p(x without i), each an equal mixture of both sexes
    whole = joint(ordinary_fitting(only=("head_circumference", "head_width", "temple_width", "pd_monocular")))
    covariances = np.linalg.inv(whole.precision)
    found = leave_one_out(whole)

    def log_density(places: np.ndarray) -> float:
        parts = [
            multivariate_normal.logpdf(residual[places], cov=covariance[np.ix_(places, places)])
            for residual, covariance in zip(whole.residuals, covariances, strict=True)
        ]
        return float(np.logaddexp(*parts) - np.log(2))

    everything = np.arange(len(whole.values))
    for place in everything:
        expected = log_density(everything) - log_density(np.delete(everything, place))
        assert found.log_density[place] == pytest.approx(expected, abs=1e-8)


def test_readings_set_aside_are_predicted_from_those_kept() -> None:
    whole = joint(ordinary_fitting(sex="M"))
    covariance = np.linalg.inv(whole.precision[0])
    gone = [3, 10]
    kept = np.setdiff1d(np.arange(len(whole.values)), gone)
    pull = solve(covariance[np.ix_(kept, kept)], covariance[np.ix_(kept, gone)], assume_a="pos")
    mean = (whole.values - whole.residuals[0])[gone] + whole.residuals[0, kept] @ pull
    assert removed_given_kept(whole, gone).mean == pytest.approx(mean, abs=1e-6)
    assert without(whole, gone).precision[0] == pytest.approx(
        np.linalg.inv(covariance[np.ix_(kept, kept)]), abs=1e-7
    )


@settings(max_examples=60, deadline=None)
@given(
    chosen=st.sets(st.sampled_from(BOXES), min_size=2),
    sex=st.sampled_from([None, "F", "M"]),
    born=st.sampled_from([None, "1950-01-01", "1990-01-01", "2015-01-01", "2024-06-01"]),
    scale=st.sampled_from([0.1, 0.9, 1.0, 1.1, 2.0, 10.0]),
)
def test_no_set_of_readings_makes_a_singular_covariance(
    chosen: set[tuple[str, str | None, int | None, str | None]],
    sex: str | None,
    born: str | None,
    scale: float,
) -> None:
    values = every_box()
    changed = {each: (values[each] if each in chosen else None) for each in BOXES}
    wrong = min(chosen, key=str)
    changed[wrong] = values[wrong] * scale  # type: ignore[index]
    fitting = ordinary_fitting(changed, sex=sex, born=born)  # type: ignore[arg-type]
    whole = joint(fitting)
    for precision in whole.precision:
        eigenvalues = np.linalg.eigvalsh(precision)
        assert eigenvalues[0] > 0
        assert eigenvalues[-1] / eigenvalues[0] < 1e8
    found = leave_one_out(whole)
    assert np.isfinite(found.deviation).all()
    assert (found.sd > 0).all()
    for band in expected_bands(fitting, SETTINGS):
        assert band.low < band.mid < band.high
    assert len(suspects(fitting, SETTINGS)) <= len(fitting.readings)


def test_the_same_reading_taken_twice_under_other_conditions_does_not_break_it() -> None:
    fitting = ordinary_fitting()
    evidence = evidence_for(fitting)
    doubled = (*evidence, *evidence)
    whole = together(doubled, models_for(fitting, SETTINGS, pairs=frozenset({2})))
    assert np.isfinite(leave_one_out(whole).deviation).all()


def test_every_measurement_of_the_catalogue_has_its_place_in_the_model() -> None:
    model = model_of(Kind(sex="F", age=40), frozenset({1, 2}), Adjustments())
    for key, declared in MEASUREMENTS.items():
        for side in ("R", "L") if declared.sides == "each" else (None,):
            for pair in (1, 2) if declared.off_pair else (None,):
                assert node_of(key, side, pair, None) in model.index  # type: ignore[arg-type]


def test_correlations_of_the_nose_are_possible_ones() -> None:
    assert np.linalg.eigvalsh(nasal_correlations())[0] > 0.01


def test_limits_grow_with_the_number_of_readings_that_are_judged_at_once() -> None:
    # independent two-sided tests: Šidák's bound for 1 % is 2.576, 3.02 and 3.81 SDs for 1, 4 and 72 readings
    limits = CriticalValues(0.01)
    assert limits.of(("iris_diameter",))[0] == pytest.approx(2.576, abs=0.001)
    assert limits.of(("iris_diameter",) * 4)[0] == pytest.approx(3.023, abs=0.01)
    assert limits.of(("iris_diameter",) * 72)[0] == pytest.approx(3.81, abs=0.01)


def test_the_shipped_limits_are_simulated_and_say_how() -> None:
    shipped = critical_values()
    assert "simulated honest fittings" in shipped.source
    assert 0 < shipped.false_alarms < 0.01
    assert all(0.8 <= factor <= 1.5 for factor in shipped.heavier.values())


def test_the_change_with_age_is_not_carried_beyond_the_ages_surveyed() -> None:
    old = model_of(Kind(sex="M", age=95), frozenset(), Adjustments())
    last = model_of(Kind(sex="M", age=60), frozenset(), Adjustments())
    assert old.means[old.index["pd"]] == last.means[last.index["pd"]]


def test_a_reading_beyond_all_belief_is_still_a_number() -> None:
    # 5,650 mm: every density is nought in floating point, and so is one sex's weight
    changed = {("head_circumference", None, None, None): 5650.0, ("head_width", None, None, None): 14.3}
    fitting = ordinary_fitting(changed)
    assert np.isfinite(leave_one_out(joint(fitting)).log_density).all()
    found = {one.subject.measurement for one in suspects(fitting, SETTINGS)}
    assert {"head_circumference", "head_width"} <= found

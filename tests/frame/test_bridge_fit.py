"""One section is fitted to all readings of the bridge, and each reading is told how far it stands from it.

Checked against scipy's least squares, which knows nothing of this one.
"""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import optimize

from app.frame.bridge_fit import BridgeFit, fit_bridge
from app.frame.bridge_section import bridge_width_at, half_width_at
from app.frame.needed import Needed


def taken(name: str, value: float | None, deviation: float) -> Needed:
    return Needed(name=name, value=value, shares={name: deviation})


def fitted(
    upper: float, lower: float, right: float | None, left: float | None, radius: float | None
) -> BridgeFit | None:
    return fit_bridge(
        upper=taken("upper", upper, 0.36),
        lower=taken("lower", lower, 0.36),
        right=taken("right", right, 1.08),
        left=taken("left", left, 1.08),
        radius=taken("radius", radius, 0.18),
    )


@given(st.floats(5, 12), st.floats(12, 38))
def test_readings_of_one_section_are_fitted_without_residual(radius: float, angle: float) -> None:
    widths = [
        bridge_width_at(depth_mm=depth, apical_radius_mm=radius, frontal_angle_deg=angle)
        for depth in (10, 15)
    ]

    fit = fitted(*widths, angle, angle, radius)
    assert fit is not None
    assert fit.radius_mm == pytest.approx(radius, abs=1e-5)
    assert fit.right_angle_deg == pytest.approx(angle, abs=1e-5)
    assert all(abs(one.residual) < 1e-5 and one.fits for one in fit.readings)


@given(st.floats(15, 24), st.floats(2.5, 7), st.floats(15, 35), st.floats(15, 35), st.floats(6, 11))
def test_the_fit_is_the_one_that_a_general_least_squares_finds(
    upper: float, more: float, right: float, left: float, radius: float
) -> None:
    measured = np.array([upper, upper + more, right, left, radius])
    spread = np.array([0.36, 0.36, 1.08, 1.08, np.hypot(0.18, 2.0)])

    def apart(unknowns: np.ndarray) -> np.ndarray:
        widths = [
            sum(
                half_width_at(depth_mm=h, apical_radius_mm=unknowns[0], frontal_angle_deg=angle)
                for angle in unknowns[1:]
            )
            for h in (10.0, 15.0)
        ]
        return (np.array([*widths, unknowns[1], unknowns[2], unknowns[0]]) - measured) / spread

    truth = optimize.least_squares(
        apart, [radius, right, left], bounds=([0.5, 0, 0], [60, 80, 80]), xtol=1e-12
    )
    fit = fitted(upper, upper + more, right, left, radius)
    assert fit is not None
    found = np.array([fit.radius_mm, fit.right_angle_deg, fit.left_angle_deg])
    assert np.sum(apart(found) ** 2) == pytest.approx(2 * truth.cost, rel=1e-4, abs=1e-6)


def test_an_uneven_nose_keeps_two_flanks() -> None:
    # given 19 and 28 degrees, as in a nose broken long ago
    fit = fitted(19.5, 23.5, 19, 28, 8)

    assert fit is not None
    assert fit.left_angle_deg - fit.right_angle_deg == pytest.approx(9, abs=1)
    assert fit.half_width("L", 15) > fit.half_width("R", 15)
    assert fit.half_width("R", 15) + fit.half_width("L", 15) == pytest.approx(23.5, abs=0.6)


def test_a_doubled_angle_stands_out_by_its_residual() -> None:
    # given the whole angle between the flanks written for one of them
    fit = fitted(19.5, 23.5, 22, 44, 8)

    assert fit is not None
    assert not all(one.fits for one in fit.readings)


@pytest.mark.parametrize("absent", [("right", "left"), ("right", "radius")])
def test_too_few_readings_describe_no_section(absent: tuple[str, ...]) -> None:
    given_readings = {"right": 24.0, "left": 24.0, "radius": 8.0} | dict.fromkeys(absent)

    assert fitted(19.5, 23.5, **given_readings) is None


def test_a_fitted_width_is_surer_than_the_reading_alone() -> None:
    fit = fitted(19.5, 23.5, 22, 22, 8.5)

    assert fit is not None
    width = fit.fitted("bridge_width_10")
    assert width is not None
    assert width.standard < 0.36

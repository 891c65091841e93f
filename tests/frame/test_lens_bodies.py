"""Thickness and weight of cut lenses, against the one-lens functions, shapely and quadrature."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import integrate

from app.frame.lens_sweep import LensOrder, sweep, volumes
from app.frame.outline_shape import SHAPES, shape_outline
from app.optics.lens_edge import Minimum, edge_profile, lens_of_power, thickness_at_points, thinnest_lens
from app.optics.lens_weight import cut_lens_volume
from app.optics.prescription_algebra import Power
from app.optics.prism import Prism

LEAST = Minimum(centre_mm=1.2, edge_mm=1.0)


def order(sphere: float, cylinder: float = 0.0, axis: float = 180.0, **more: object) -> LensOrder:
    front = 0.5 if sphere < -8 else 4.0 if sphere < 0 else 8.0
    details = {"front_power_d": front, "index": 1.6, "minimum": LEAST} | more
    return LensOrder(power=Power(sphere, cylinder, axis), **details)  # type: ignore[arg-type]


@settings(max_examples=40)
@given(
    sphere=st.floats(-14, 8),
    cylinder=st.floats(-4, 4),
    axis=st.floats(1, 180),
    word=st.sampled_from(sorted(SHAPES)),
    inward=st.floats(-3, 5),
)
def test_many_lenses_at_once_are_the_same_as_one_by_one(
    sphere: float, cylinder: float, axis: float, word: str, inward: float
) -> None:
    wanted = order(sphere, cylinder, axis)
    outlines = np.stack([shape_outline(word, width_mm=width, height_mm=34) for width in (42, 50)])
    centres = np.array([[inward, 0.0], [inward, 1.0]])

    found = sweep(wanted, outlines, centres)
    for case in (0, 1):
        alone = thinnest_lens(
            wanted.power,
            front_power_d=wanted.front_power_d,
            index=wanted.index,
            outline_mm=outlines[case],
            optical_centre_mm=(centres[case, 0], centres[case, 1]),
            minimum=LEAST,
        )
        edge = edge_profile(alone, outlines[case], (centres[case, 0], centres[case, 1]))
        assert found.centre_mm[case] == pytest.approx(alone.centre_thickness_mm, abs=1e-5)
        assert found.thickest_mm[case] == pytest.approx(edge.thickest_mm, abs=1e-5)
        assert found.thinnest_mm[case] == pytest.approx(edge.thinnest_mm, abs=1e-5)
        volume = cut_lens_volume(alone, outlines[case], (centres[case, 0], centres[case, 1]))
        assert volumes(wanted, found)[case] == pytest.approx(volume, rel=1e-4)


def test_the_volume_is_what_quadrature_finds_over_the_shape() -> None:
    # given −6.00/−1.00 × 30 cut to a panto shape, its thickness integrated by scipy over strips of the shape
    wanted = order(-6.0, -1.0, 30.0)
    outline = shape_outline("panto", width_mm=48, height_mm=36)
    found = sweep(wanted, outline[None], np.array([[2.0, 0.0]]))
    lens = lens_of_power(
        wanted.power, front_power_d=4, centre_thickness_mm=float(found.centre_mm[0]), index=1.6
    )
    polygon = shapely.Polygon(outline)

    def strip(x: float) -> float:
        cut = shapely.intersection(polygon, shapely.LineString([(x, -60), (x, 60)]))
        low, high = cut.bounds[1], cut.bounds[3]
        value, _ = integrate.quad(
            lambda y: float(thickness_at_points(lens, np.array([[x - 2.0, y]]))[0]), low, high
        )
        return value

    # Gauss-Legendre over the width; the strips have corners where the polygon has, hence 1 part in 2000
    nodes, weights = np.polynomial.legendre.leggauss(60)
    by_strips = float(np.sum([24 * w * strip(24 * x) for x, w in zip(nodes, weights, strict=True)]))
    assert volumes(wanted, found)[0] == pytest.approx(by_strips, rel=5e-4)


def test_a_prism_makes_its_base_the_thicker_side() -> None:
    # given 4 base up (90 in front view) in a plano lens: thick above by 4 / (100 × 0.6) for each mm
    wanted = order(0.0, worked_prism=Prism(0.0, 4.0))
    outline = shape_outline("round", width_mm=40, height_mm=40)

    found = sweep(wanted, outline[None], np.zeros((1, 2)))
    assert found.place(0, thickest=True)[1] == pytest.approx(20, abs=0.1)
    assert found.thickest_mm[0] - found.thinnest_mm[0] == pytest.approx(40 * 4 / 60, abs=1e-3)


@given(st.floats(0, 6))
def test_more_decentration_never_makes_a_minus_edge_thinner(inward: float) -> None:
    outline = shape_outline("oval", width_mm=50, height_mm=38)[None]
    wanted = order(-8.0)

    less = sweep(wanted, outline, np.array([[inward, 0.0]])).thickest_mm[0]
    more = sweep(wanted, outline, np.array([[inward + 0.5, 0.0]])).thickest_mm[0]
    assert more >= less - 1e-9

"""Outlines, thickness and weight against a geometry library, quadrature, and the laws they must keep."""

from math import hypot

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import dblquad, quad
from scipy.special import ellipe
from shapely import Polygon, maximum_inscribed_circle, minimum_bounding_radius
from shapely.geometry import Point

from app.optics.boxed_system import smallest_blank_by_rule
from app.optics.lens_edge import (
    Lens,
    Minimum,
    edge_profile,
    lens_of_power,
    thickness_at_points,
    thinnest_lens,
)
from app.optics.lens_thickness import SphericalLens, lens_with_centre, lens_with_edge, thickness_at
from app.optics.lens_weight import cut_lens_volume, cut_lens_weight, round_lens_volume
from app.optics.near_centration import near_inset, near_pd, near_pd_with_power
from app.optics.outline_size import Outline, outline_from_radii, outline_sizes, smallest_blank
from app.optics.prescription_algebra import Power
from app.optics.prism import Prism
from app.optics.refusal import NotPossible
from tests.optics.strategies import outlines, points

RECTANGLE = np.array([[-25.0, -18.0], [25.0, -18.0], [25.0, 18.0], [-25.0, 18.0]])


@given(outlines())
def test_outline_sizes_agree_with_shapely(outline: Outline) -> None:
    shape, sizes = Polygon(outline), outline_sizes(outline)

    left, bottom, right, top = shape.bounds
    assert sizes.width_mm == pytest.approx(right - left)
    assert sizes.depth_mm == pytest.approx(top - bottom)
    assert sizes.area_mm2 == pytest.approx(shape.area)
    assert sizes.circumference_mm == pytest.approx(shape.exterior.length)
    centre = Point((left + right) / 2, (bottom + top) / 2)
    assert sizes.effective_diameter_mm == pytest.approx(2 * shape.hausdorff_distance(centre))


@given(outlines())
def test_no_blank_is_smaller_than_the_smallest_circle_round_the_shape(outline: Outline) -> None:
    smallest_possible = 2 * minimum_bounding_radius(Polygon(outline))

    assert smallest_blank(outline, (0.0, 0.0), 0.0) >= smallest_possible - 1e-6
    assert outline_sizes(outline).effective_diameter_mm >= maximum_inscribed_circle(Polygon(outline)).length


@given(outlines(), points)
def test_the_exact_blank_covers_the_shape_and_is_never_more_than_the_rule(
    outline: Outline, centre: tuple[float, float]
) -> None:
    exact = smallest_blank(outline, centre, 0.0)

    assert Point(centre).buffer(exact / 2 + 0.05, quad_segs=64).covers(Polygon(outline))
    rule = smallest_blank_by_rule(
        effective_diameter_mm=outline_sizes(outline).effective_diameter_mm,
        decentration_mm=hypot(*centre),
        allowance_mm=0.0,
    )
    assert exact <= rule + 1e-9


def test_the_rule_overstates_the_blank_of_a_rectangle() -> None:
    """Rectangle 50 x 36, 3 mm in: rule 67.61, exact 66.57, by direct geometry."""
    assert smallest_blank(RECTANGLE, (3.0, 0.0), 0.0) == pytest.approx(66.573, abs=0.001)
    assert smallest_blank_by_rule(
        effective_diameter_mm=61.612, decentration_mm=3, allowance_mm=0
    ) == pytest.approx(67.612, abs=0.001)


def test_a_traced_ellipse_has_the_circumference_of_the_elliptic_integral() -> None:
    turn = np.arange(400) * np.pi / 200
    radii = 25 * 20 / np.hypot(20 * np.cos(turn), 25 * np.sin(turn))

    sizes = outline_sizes(outline_from_radii(radii))

    exact = 4 * 25 * ellipe(1 - (20 / 25) ** 2)
    assert sizes.circumference_mm == pytest.approx(exact, abs=0.01)
    assert (sizes.width_mm, sizes.depth_mm) == pytest.approx((50, 40))


def test_radii_that_are_no_shape_are_refused() -> None:
    for radii in ([25.0, 20.0], [25.0, 0.0, 20.0], [25.0, float("nan"), 20.0]):
        with pytest.raises(NotPossible, match="radii"):
            outline_from_radii(np.array(radii))


def test_the_thickness_of_a_sphere_is_that_of_circles_drawn_directly() -> None:
    """Independent circle geometry: the back centre lies at t + r2, the front centre at r1."""
    lens = lens_with_centre(back_vertex_d=-8, front_power_d=1, centre_thickness_mm=1.3, index=1.67)
    r1, r2 = 670 / lens.front_power_d, -670 / lens.back_power_d

    front_z = r1 - np.sqrt(r1**2 - 26**2)
    back_z = 1.3 + r2 - np.sqrt(r2**2 - 26**2)

    assert thickness_at(lens, 26) == pytest.approx(back_z - front_z, abs=1e-9)


@given(st.floats(-12, -0.5), st.floats(1, 30), st.floats(0.5, 5))
def test_a_minus_lens_thickens_outwards_and_a_plus_lens_thins(
    power: float, height: float, step: float
) -> None:
    minus = lens_with_centre(back_vertex_d=power, front_power_d=2, centre_thickness_mm=1.5, index=1.6)
    plus = lens_with_centre(back_vertex_d=-power, front_power_d=8, centre_thickness_mm=9, index=1.6)

    assert thickness_at(minus, height + step) > thickness_at(minus, height)
    assert thickness_at(plus, height + step) < thickness_at(plus, height)


@given(st.floats(0.5, 10), st.floats(15, 35), st.floats(0.5, 3))
def test_the_plus_lens_found_for_an_edge_has_that_edge_and_its_power(
    power: float, height: float, edge: float
) -> None:
    lens = lens_with_edge(
        back_vertex_d=power, front_power_d=8, edge_thickness_mm=edge, height_mm=height, index=1.6
    )

    assert thickness_at(lens, height) == pytest.approx(edge, abs=1e-8)


@given(outlines(), st.floats(-8, 6), st.floats(-3, 0), st.integers(1, 180))
def test_the_thinnest_lens_keeps_both_minima_and_meets_one(
    outline: Outline, sphere: float, cylinder: float, axis: int
) -> None:
    least = Minimum(centre_mm=1.5, edge_mm=1.0)

    lens = thinnest_lens(
        Power(sphere, cylinder, axis),
        front_power_d=5,
        index=1.6,
        outline_mm=outline,
        optical_centre_mm=(2.0, 1.0),
        minimum=least,
    )

    edge = edge_profile(lens, outline, (2.0, 1.0))
    assert lens.centre_thickness_mm >= least.centre_mm
    assert edge.thinnest_mm >= least.edge_mm - 1e-8
    slack = min(lens.centre_thickness_mm - least.centre_mm, edge.thinnest_mm - least.edge_mm)
    assert slack == pytest.approx(0, abs=1e-6)


@given(outlines(), st.floats(-8, -1))
def test_the_edge_of_a_sphere_is_thickest_farthest_from_its_optical_centre(
    outline: Outline, sphere: float
) -> None:
    lens = lens_of_power(Power(sphere), front_power_d=2, centre_thickness_mm=1.5, index=1.6)
    edge = edge_profile(lens, outline, (3.0, 0.0))

    farthest = smallest_blank(outline, (3.0, 0.0), 0.0) / 2
    assert hypot(edge.thickest_at_mm[0] - 3.0, edge.thickest_at_mm[1]) == pytest.approx(farthest)
    spherical = SphericalLens(2, lens.back.sphere_d, 1.5, 1.6)
    assert edge.thickest_mm == pytest.approx(thickness_at(spherical, farthest))


def test_a_cylinder_thickens_the_edge_only_across_its_axis() -> None:
    lens = Lens(4.0, Power(-4.0, -3.0, 180), 2.0, 1.5)
    along, across = thickness_at_points(lens, np.array([[20.0, 0.0], [0.0, 20.0]]))

    assert along == pytest.approx(2.0)
    assert across > along + 1.0


@pytest.mark.parametrize(
    ("sphere", "cylinder", "index", "height"),
    [(-8, -4, 1.5, 25), (-4, -2, 1.5, 25), (-8, -3, 1.6, 28), (-6, -2, 1.67, 26)],
)
def test_the_back_of_a_toric_lens_is_within_four_hundredths_of_a_true_torus(
    sphere: float, cylinder: float, index: float, height: float
) -> None:
    """Torus: a circle of the radius across the axis, turned about an axis at the radius along it."""
    turn = np.radians(np.arange(0, 91, 5))
    along, across = height * np.cos(turn), height * np.sin(turn)
    radius_along, radius_across = (-1000 * (index - 1) / power for power in (sphere, sphere + cylinder))
    profile = radius_across - np.sqrt(radius_across**2 - across**2)
    torus = radius_along - np.sqrt((radius_along - profile) ** 2 - along**2)

    lens = Lens(0.0, Power(sphere, cylinder, 180), 0.0, index)

    assert thickness_at_points(lens, np.column_stack((along, across))) == pytest.approx(torus, abs=0.04)


def test_worked_prism_thickens_the_base_by_the_wedge() -> None:
    """Wedge dt = P g / (100 (n - 1)): 2 prism dioptres over 40 mm at n 1.5 are 1.6 mm."""
    lens = Lens(4.0, Power(-4.0), 2.0, 1.5, worked_prism=Prism(2.0, 0.0))
    base, apex = thickness_at_points(lens, np.array([[20.0, 0.0], [-20.0, 0.0]]))

    assert base - apex == pytest.approx(1.6)


def test_a_curve_too_steep_for_the_shape_is_refused_in_words() -> None:
    with pytest.raises(NotPossible, match="flatter form"):
        edge_profile(Lens(20.0, Power(-25.0), 2.0, 1.498), RECTANGLE, (0.0, 0.0))
    with pytest.raises(NotPossible, match="does not reach"):
        thickness_at(SphericalLens(20.0, -25.0, 2.0, 1.498), 30.0)


@pytest.mark.parametrize(
    ("power", "front", "centre", "diameter"), [(-4, 4, 2, 70), (4, 7.25, 5.47, 65), (0, 6, 2, 60)]
)
def test_the_volume_of_a_round_lens_agrees_with_quadrature(
    power: float, front: float, centre: float, diameter: float
) -> None:
    lens = lens_with_centre(back_vertex_d=power, front_power_d=front, centre_thickness_mm=centre, index=1.498)

    by_quadrature, _ = quad(lambda y: 2 * np.pi * y * thickness_at(lens, y), 0, diameter / 2)

    assert round_lens_volume(lens, diameter) == pytest.approx(by_quadrature, rel=1e-7)


def test_the_weight_of_a_cut_lens_agrees_with_quadrature_over_its_shape() -> None:
    lens = lens_of_power(Power(-5, -2, 30), front_power_d=3, centre_thickness_mm=1.8, index=1.6)

    def thickness(y: float, x: float) -> float:
        return float(thickness_at_points(lens, np.array([[x - 3.0, y - 1.0]]))[0])

    by_quadrature, _ = dblquad(thickness, -25, 25, -18, 18, epsabs=1e-3)

    dense = np.vstack(
        [
            np.linspace(a, b, 50, endpoint=False)
            for a, b in zip(RECTANGLE, np.roll(RECTANGLE, -1, 0), strict=True)
        ]
    )
    assert cut_lens_volume(lens, dense, (3.0, 1.0)) == pytest.approx(by_quadrature, rel=1e-5)
    assert cut_lens_weight(lens, dense, (3.0, 1.0), 1.30) == pytest.approx(by_quadrature * 1.30e-3, rel=1e-5)


@settings(max_examples=30)
@given(outlines(), points)
def test_the_volume_does_not_depend_on_where_the_triangles_start(
    outline: Outline, centre: tuple[float, float]
) -> None:
    """A plate of equal thickness: volume = area x thickness wherever the optical centre lies."""
    plate = Lens(0.0, Power(0.0), 2.0, 1.5)

    assert cut_lens_volume(plate, outline, centre) == pytest.approx(2 * outline_sizes(outline).area_mm2)


@given(st.floats(25, 38), st.floats(250, 1000), st.floats(-10, 10))
def test_plus_needs_more_near_inset_than_no_power_and_minus_less(
    pd: float, distance: float, power: float
) -> None:
    plain = near_inset(single_eye_pd_mm=pd, object_from_lens_mm=distance)
    powered = near_inset(single_eye_pd_mm=pd, object_from_lens_mm=distance, horizontal_power_d=power)

    assert (powered - plain) * power >= 0
    assert plain == pytest.approx(pd - near_pd(distance_pd_mm=pd, object_from_lens_mm=distance))
    both = near_pd_with_power(distance_pd_mm=2 * pd, object_from_lens_mm=distance, power_d=power)
    assert both == pytest.approx(2 * (pd - powered))


def test_a_lens_that_focuses_before_the_reading_distance_allows_no_inset() -> None:
    with pytest.raises(NotPossible, match="No inset"):
        near_inset(single_eye_pd_mm=32, object_from_lens_mm=400, horizontal_power_d=45)

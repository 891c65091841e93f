"""Lens shapes have the box they were asked for, are smooth and closed, and agree with a geometry library.

Checked against shapely (area, validity, smallest enclosing circle) and scipy (quadrature, elliptic integral).
"""

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, special

from app.catalogue.choices import CHOICES
from app.frame.outline_import import imported_outline, outline_from_text, outline_from_tracing
from app.frame.outline_shape import SHAPES, longest_diameter_range, shape_outline
from app.optics.outline_size import mirrored_outline, outline_sizes
from app.optics.refusal import NotPossible

words = st.sampled_from(sorted(SHAPES))
widths = st.floats(35, 62)
heights = st.floats(24, 56)
every_shape = pytest.mark.parametrize("word", SHAPES)


def test_every_shape_of_the_catalogue_but_the_tracing_can_be_drawn() -> None:
    offered = {key for key, _ in CHOICES["outline"].options}
    assert set(SHAPES) == offered - {"as_traced"}


@given(words, widths, heights)
def test_a_shape_fills_its_box_exactly_and_never_crosses_itself(
    word: str, width: float, height: float
) -> None:
    outline = shape_outline(word, width_mm=width, height_mm=height)

    polygon = shapely.Polygon(outline)
    assert polygon.is_valid
    assert polygon.exterior.is_ccw
    assert polygon.bounds == pytest.approx((-width / 2, -height / 2, width / 2, height / 2), abs=1e-9)


@given(words, widths, heights)
def test_area_and_circumference_are_those_of_a_geometry_library(
    word: str, width: float, height: float
) -> None:
    outline = shape_outline(word, width_mm=width, height_mm=height)

    sizes, polygon = outline_sizes(outline), shapely.Polygon(outline)
    assert sizes.area_mm2 == pytest.approx(polygon.area, rel=1e-12)
    assert sizes.circumference_mm == pytest.approx(polygon.exterior.length, rel=1e-12)


@given(words, widths, heights)
def test_the_smallest_circle_round_a_lens_is_never_larger_than_its_effective_diameter(
    word: str, width: float, height: float
) -> None:
    outline = shape_outline(word, width_mm=width, height_mm=height)

    radius = float(shapely.minimum_bounding_radius(shapely.Polygon(outline)))
    assert max(width, height) / 2 - 1e-6 <= radius
    # shapely grows its circle by rounding, so a thousandth of a millimetre is left
    assert radius <= outline_sizes(outline).effective_diameter_mm / 2 + 1e-3


@every_shape
def test_a_shape_is_smooth(word: str) -> None:
    # given points 2.5 degrees apart, when one walks round
    outline = shape_outline(word, width_mm=48, height_mm=40, points=720)
    along = np.diff(np.vstack((outline, outline[:1])), axis=0)
    turned = np.unwrap(np.arctan2(along[:, 1], along[:, 0]))

    # then the direction never turns back by more than a little, nor jumps as at a corner
    turns = np.degrees(np.diff(turned))
    assert turns.max() < 12
    assert turns.min() > -4


def test_a_round_lens_in_a_square_box_is_a_circle() -> None:
    outline = shape_outline("round", width_mm=46, height_mm=46, points=720)

    assert np.hypot(*outline.T) == pytest.approx(np.full(720, 23.0), abs=1e-9)


def test_a_round_lens_in_an_oblong_box_is_the_ellipse_of_the_integral_tables() -> None:
    # given an ellipse 50 by 40; its perimeter by the complete elliptic integral (scipy.special.ellipe)
    outline = shape_outline("round", width_mm=50, height_mm=40, points=1440)

    perimeter = 4 * 25 * special.ellipe(1 - (20 / 25) ** 2)
    assert outline_sizes(outline).circumference_mm == pytest.approx(perimeter, rel=1e-4)


def test_the_area_of_the_curve_between_the_points_is_hardly_missed() -> None:
    # given the quarter of a superellipse of exponent 2.15, integrated by scipy
    quarter, _ = integrate.quad(lambda x: 18 * (1 - (x / 24) ** 2.15) ** (1 / 2.15), 0, 24)

    area = outline_sizes(shape_outline("oval", width_mm=48, height_mm=36)).area_mm2
    assert area == pytest.approx(4 * quarter, rel=2e-3)


@given(widths, heights, st.floats(0.05, 0.75))
def test_the_longest_diameter_is_met_where_only_three_sizes_are_known(
    width: float, height: float, part: float
) -> None:
    low, high = longest_diameter_range(width_mm=width, height_mm=height)
    wanted = low + part * (high - low)

    outline = shape_outline("measured", width_mm=width, height_mm=height, longest_diameter_mm=wanted)
    assert outline_sizes(outline).effective_diameter_mm == pytest.approx(wanted, abs=0.05)


def test_the_left_lens_is_the_mirror_image() -> None:
    right = shape_outline("upswept", width_mm=50, height_mm=36)

    left = mirrored_outline(right)
    assert shapely.Polygon(left).exterior.is_ccw
    # swept up on the temporal side: −x for the right eye, +x for the left
    assert right[right[:, 1].argmax(), 0] < 0 < left[left[:, 1].argmax(), 0]


def test_a_tracing_gives_its_boxed_sizes_wherever_the_tracer_had_its_centre() -> None:
    # given an ellipse 50 × 36 traced about a point 2 off its middle
    turn = np.radians(np.arange(0, 360, 1.0))
    points = np.column_stack((25 * np.cos(turn) + 2, 18 * np.sin(turn) - 1))
    radii, angles = np.hypot(*points.T), np.degrees(np.arctan2(points[:, 1], points[:, 0]))

    sizes = outline_sizes(outline_from_tracing(radii, angles))
    assert (sizes.width_mm, sizes.depth_mm) == pytest.approx((50, 36), abs=0.01)
    assert sizes.effective_diameter_mm == pytest.approx(50, abs=0.01)


def test_few_points_are_joined_by_a_smooth_closed_curve() -> None:
    turn = np.radians(np.arange(0, 360, 15.0))
    circle = 22 * np.column_stack((np.cos(turn), np.sin(turn)))

    outline = imported_outline(circle)
    assert len(outline) >= 144
    assert np.hypot(*outline.T) == pytest.approx(np.full(len(outline), 22.0), abs=0.05)


def test_points_given_clockwise_and_closed_are_taken_as_well() -> None:
    turn = np.radians(np.arange(0, -361, -10.0))
    outline = imported_outline(20 * np.column_stack((np.cos(turn), np.sin(turn))))

    assert shapely.Polygon(outline).exterior.is_ccw


@pytest.mark.parametrize(
    ("points", "reason"),
    [
        ([(0, 0), (20, 0), (20, 20)], "at least 8 points"),
        ([(x, y) for x in (0, 20, 40) for y in (0, 20, 40)], "crosses itself"),
        ([(200 * np.cos(t), 200 * np.sin(t)) for t in np.linspace(0, 6, 30)], "a lens is"),
        ([(20 * np.cos(t), 20 * np.sin(t)) for t in np.linspace(0, 3.1, 30)], "no points"),
        ([(float("nan"), 0)] * 9, "not a number"),
    ],
)
def test_what_is_no_outline_is_refused_with_the_reason(
    points: list[tuple[float, float]], reason: str
) -> None:
    with pytest.raises(NotPossible, match=reason):
        imported_outline(np.array(points, dtype=float))


def test_points_in_words_are_refused_with_an_example() -> None:
    with pytest.raises(NotPossible, match="pairs"):
        outline_from_text("wide; high; round")

"""Bridge, sides, head and vertex distance: construction by another route, round trips, refusals."""

from math import cos, hypot, pi, radians, sin, sqrt, tan

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.special import ellipe

from app.frame.bridge_section import (
    apical_radius_from_width,
    bridge_width_at,
    flank_normal_to_midline,
    frontal_angle_from_widths,
    frontal_angle_per_mm,
    half_width_at,
    opening_difference_from_splay,
    smallest_distance_between_lenses,
)
from app.frame.head_outline import head_circumference
from app.frame.side_geometry import (
    as_worn_tilt,
    drop_components,
    front_to_bend,
    joint_half_width,
    length_to_bend,
    let_back_angle,
    overall_side_length,
    side_angle,
)
from app.frame.vertex_geometry import lash_clearance_at, vertex_distance
from app.optics.refusal import NotPossible

radius_mm = st.floats(4, 12)
frontal_deg = st.floats(5, 40)


@given(radius_mm, frontal_deg)
def test_the_flank_is_the_tangent_of_the_crest_arc(radius: float, angle: float) -> None:
    """Tangent construction: the arc touches the flank R cos phi out and R (1 - sin phi) down."""
    touch_out, touch_down = radius * cos(radians(angle)), radius * (1 - sin(radians(angle)))

    for further_down in (0.0, 5.0, 10.0):
        found = half_width_at(
            depth_mm=touch_down + further_down, apical_radius_mm=radius, frontal_angle_deg=angle
        )
        assert found == pytest.approx(touch_out + further_down * tan(radians(angle)))


@given(radius_mm, frontal_deg)
def test_two_widths_on_the_flanks_give_the_angle_and_the_radius_back(radius: float, angle: float) -> None:
    assume(radius * (1 - sin(radians(angle))) < 10)
    upper, lower = (
        bridge_width_at(depth_mm=depth, apical_radius_mm=radius, frontal_angle_deg=angle)
        for depth in (10, 15)
    )

    found = frontal_angle_from_widths(upper_width_mm=upper, lower_width_mm=lower)

    assert found == pytest.approx(angle)
    implied = apical_radius_from_width(width_mm=upper, depth_mm=10, frontal_angle_deg=found)
    assert implied == pytest.approx(radius)


@given(radius_mm, frontal_deg, st.floats(0.5, 15), st.floats(0.1, 5))
def test_a_bridge_widens_downwards(radius: float, angle: float, depth: float, step: float) -> None:
    section = {"apical_radius_mm": radius, "frontal_angle_deg": angle}

    assert bridge_width_at(depth_mm=depth + step, **section) > bridge_width_at(depth_mm=depth, **section)


@given(st.floats(15, 22), st.floats(0.5, 7))
def test_half_a_millimetre_in_a_width_moves_the_angle_as_the_derivative_says(
    upper: float, wider: float
) -> None:
    angle = frontal_angle_from_widths(upper_width_mm=upper, lower_width_mm=upper + wider)
    moved = frontal_angle_from_widths(upper_width_mm=upper, lower_width_mm=upper + wider + 0.01)

    assert (moved - angle) / 0.01 == pytest.approx(frontal_angle_per_mm(frontal_angle_deg=angle), rel=0.01)


@given(st.floats(0, 40))
def test_without_splay_the_flank_leans_by_the_frontal_angle_alone(angle: float) -> None:
    assert flank_normal_to_midline(frontal_angle_deg=angle, splay_angle_deg=0) == pytest.approx(
        angle, abs=1e-6
    )
    assert flank_normal_to_midline(frontal_angle_deg=angle, splay_angle_deg=20) > angle


def test_splay_and_rim_make_room() -> None:
    assert opening_difference_from_splay(rim_thickness_mm=4, splay_angle_deg=0) == 0
    assert smallest_distance_between_lenses(narrowest_width_mm=15, rim_to_groove_mm=2) == 19


def test_an_impossible_bridge_is_refused_in_words() -> None:
    with pytest.raises(NotPossible, match="apical radius"):
        half_width_at(depth_mm=5, apical_radius_mm=0, frontal_angle_deg=20)
    with pytest.raises(NotPossible, match="frontal angle"):
        half_width_at(depth_mm=5, apical_radius_mm=7, frontal_angle_deg=95)


@given(st.floats(120, 170), st.floats(0, 14), st.floats(80, 115))
def test_the_side_through_the_temple_point_reaches_the_ear_point(
    head: float, less: float, ear: float
) -> None:
    angle = side_angle(head_width_mm=head, temple_width_mm=head - less, front_to_ear_mm=ear)
    at_front = joint_half_width(temple_width_mm=head - less, side_angle_deg=angle)

    assert at_front + ear * tan(radians(angle)) == pytest.approx(head / 2)
    assert let_back_angle(angle) >= 90


def test_an_ear_point_before_the_temple_level_is_refused() -> None:
    with pytest.raises(NotPossible, match="25 mm"):
        side_angle(head_width_mm=150, temple_width_mm=140, front_to_ear_mm=20)


@given(st.floats(20, 50), st.floats(0, 80), st.floats(0, 30))
def test_the_parts_of_the_drop_make_up_its_length(length: float, down: float, inward: float) -> None:
    end = drop_components(drop_length_mm=length, downward_angle_deg=down, inward_angle_deg=inward)

    assert sqrt(end.fall_mm**2 + end.rearward_mm**2 + end.inward_mm**2) == pytest.approx(length)


def test_lengths_of_a_side_add_up() -> None:
    assert length_to_bend(outward_mm=3, upward_mm=0, rearward_mm=96) == pytest.approx(hypot(3, 96))
    assert front_to_bend(rearward_mm=96, joint_set_back_mm=2) == 98
    assert overall_side_length(length_to_bend_mm=98, drop_length_mm=40) == 138


@given(st.floats(0, 15), st.floats(0.5, 8))
def test_an_ear_above_the_joint_tilts_the_front_more(angle: float, higher: float) -> None:
    level = as_worn_tilt(angle_of_side_deg=angle, upward_mm=0, rearward_mm=95)

    assert level == angle
    assert as_worn_tilt(angle_of_side_deg=angle, upward_mm=higher, rearward_mm=95) > angle


@given(st.floats(120, 165), st.floats(160, 215))
def test_the_head_ellipse_agrees_with_the_complete_elliptic_integral(breadth: float, length: float) -> None:
    longer, shorter = max(breadth, length) / 2, min(breadth, length) / 2
    exact = 4 * longer * ellipe(1 - (shorter / longer) ** 2)

    assert head_circumference(head_breadth_mm=breadth, head_length_mm=length) == pytest.approx(
        exact, abs=1e-5
    )
    assert head_circumference(head_breadth_mm=breadth, head_length_mm=breadth) == pytest.approx(pi * breadth)


@given(st.floats(8, 20), st.floats(-4, 5), st.floats(0, 15))
def test_a_millimetre_of_projection_brings_the_lens_a_millimetre_nearer(
    crest: float, projection: float, tilt: float
) -> None:
    def distance(of_projection: float) -> float:
        return vertex_distance(
            crest_forward_of_cornea_mm=crest,
            bridge_projection_mm=of_projection,
            pantoscopic_deg=tilt,
            crest_above_pupil_mm=9,
            back_sag_at_rim_mm=1.2,
            rim_plane_to_lens_edge_mm=0.8,
        )

    assert distance(projection) - distance(projection + 1) == pytest.approx(1)


@given(st.floats(-12, -1), st.floats(1, 14))
def test_a_hollow_back_takes_room_from_lashes_away_from_the_axis(back: float, height: float) -> None:
    form = {"vertex_distance_mm": 13.0, "lash_projection_mm": 9.0, "back_power_d": back, "index": 1.6}

    assert lash_clearance_at(height_from_centre_mm=0, **form) == pytest.approx(4)
    assert lash_clearance_at(height_from_centre_mm=height, **form) < 4

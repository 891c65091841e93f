"""A mirrored right eye is a left eye: the convention table of `app.optics`, proved function by function."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.optics.differential_prism import vertical_prism_below_centre
from app.optics.eye import mirrored_axis, mirrored_base, nasal_sign, other_eye
from app.optics.lens_edge import edge_profile, lens_of_power
from app.optics.lens_weight import cut_lens_volume
from app.optics.outline_size import Outline, mirrored_outline, outline_sizes, point_on_lens, smallest_blank
from app.optics.power_matrix import power_matrix
from app.optics.prentice import prism_at_point
from app.optics.prescription_algebra import Power, horizontal_power, mirrored, vertical_power
from app.optics.prism import Prism, mirrored_prism, named_prism, prism_base, prism_from_names
from app.optics.prism_at_eye import centration_shift_for_prism
from app.optics.tilt_and_wrap import Wear, power_to_order, worn_power
from tests.optics.strategies import axis_deg, eye, outlines, points, powers, prisms, wears


def in_mirror(point: tuple[float, float]) -> tuple[float, float]:
    """A front-view point seen in the mirror."""
    return -point[0], point[1]


def same_power(first: Power, second: Power) -> bool:
    """Equal as lenses, whatever the form they are written in."""
    return bool(np.allclose(power_matrix(first), power_matrix(second), atol=1e-9))


@given(axis_deg)
def test_mirroring_an_axis_or_a_base_twice_gives_it_back(axis: float) -> None:
    assert mirrored_axis(mirrored_axis(axis)) == axis
    assert mirrored_base(mirrored_base(axis)) == axis


@given(powers)
def test_a_mirrored_power_keeps_its_horizontal_and_vertical_power_and_turns_its_oblique_part(
    power: Power,
) -> None:
    assert horizontal_power(mirrored(power)) == pytest.approx(horizontal_power(power))
    assert vertical_power(mirrored(power)) == pytest.approx(vertical_power(power))
    assert power_matrix(mirrored(power))[0, 1] == pytest.approx(-power_matrix(power)[0, 1])


@given(powers, points)
def test_prism_at_the_mirrored_point_of_the_mirrored_lens_is_the_mirrored_prism(
    power: Power, point: tuple[float, float]
) -> None:
    here = prism_at_point(power, point_mm=point)
    there = prism_at_point(mirrored(power), point_mm=in_mirror(point))

    assert there.right_prism_dioptres == pytest.approx(-here.right_prism_dioptres, abs=1e-9)
    assert there.up_prism_dioptres == pytest.approx(here.up_prism_dioptres, abs=1e-9)


@given(eye, prisms)
def test_a_mirrored_prism_has_the_same_words_before_the_fellow_eye(side: str, prism: Prism) -> None:
    here = named_prism(side, prism)
    there = named_prism(other_eye(side), mirrored_prism(prism))

    assert there == here
    assert prism_from_names(side, here) == prism


@given(prisms)
def test_the_base_of_a_mirrored_prism_is_the_mirrored_base(prism: Prism) -> None:
    if prism != Prism(0.0, 0.0):
        turned = prism_base(mirrored_prism(prism)) - mirrored_base(prism_base(prism))
        assert min(turned % 360, -turned % 360) == pytest.approx(0, abs=1e-9)


@given(prisms)
def test_a_prism_moves_the_centration_point_by_as_much_in_on_either_side(prism: Prism) -> None:
    right = centration_shift_for_prism(prism)
    left = centration_shift_for_prism(mirrored_prism(prism))

    assert left == pytest.approx(in_mirror(right))


@given(powers, wears)
def test_tilt_and_wrap_act_on_the_mirrored_lens_of_the_fellow_eye_as_on_this_one(
    power: Power, wear: Wear
) -> None:
    fellow = replace(wear, eye=other_eye(wear.eye))

    assert same_power(worn_power(mirrored(power), fellow), mirrored(worn_power(power, wear)))
    assert same_power(power_to_order(mirrored(power), fellow), mirrored(power_to_order(power, wear)))


@given(eye, st.floats(-8, 8), st.floats(-8, 8))
def test_a_point_decentred_in_lies_towards_the_nose_on_either_side(
    side: str, inward: float, up: float
) -> None:
    here = point_on_lens(side, decentration_in_mm=inward, decentration_up_mm=up)
    there = point_on_lens(other_eye(side), decentration_in_mm=inward, decentration_up_mm=up)

    assert there == in_mirror(here)
    assert here[0] * nasal_sign(side) == inward


@given(outlines(), points)
def test_a_mirrored_outline_has_the_same_sizes_and_the_same_smallest_blank(
    outline: Outline, centre: tuple[float, float]
) -> None:
    here, there = outline_sizes(outline), outline_sizes(mirrored_outline(outline))

    for name in ("width_mm", "depth_mm", "effective_diameter_mm", "circumference_mm", "area_mm2"):
        assert getattr(there, name) == pytest.approx(getattr(here, name))
    mirror_blank = smallest_blank(mirrored_outline(outline), in_mirror(centre))
    assert mirror_blank == pytest.approx(smallest_blank(outline, centre))


@given(outlines(), st.floats(-6, 4), axis_deg, prisms)
def test_a_mirrored_lens_has_the_mirrored_edge_and_the_same_volume(
    outline: Outline, sphere: float, axis: float, prism: Prism
) -> None:
    power = Power(round(sphere, 2), -1.5, axis)
    form = {"front_power_d": 5.0, "centre_thickness_mm": 4.0, "index": 1.6}
    here = lens_of_power(power, worked_prism=prism, **form)
    there = lens_of_power(mirrored(power), worked_prism=mirrored_prism(prism), **form)

    edge = edge_profile(here, outline, (2.0, 1.0))
    mirror_edge = edge_profile(there, mirrored_outline(outline), (-2.0, 1.0))

    assert mirror_edge.thickness_mm[::-1] == pytest.approx(edge.thickness_mm)
    assert mirror_edge.thickest_mm == pytest.approx(edge.thickest_mm)
    volume = cut_lens_volume(here, outline, (2.0, 1.0))
    assert cut_lens_volume(there, mirrored_outline(outline), (-2.0, 1.0)) == pytest.approx(volume)


@given(powers, st.floats(-5, 5))
def test_vertical_prism_at_the_reading_level_is_the_same_in_the_mirror(power: Power, across: float) -> None:
    here = vertical_prism_below_centre(power, level_mm=10, inward_x_mm=across)
    there = vertical_prism_below_centre(mirrored(power), level_mm=10, inward_x_mm=-across)

    assert there == pytest.approx(here, abs=1e-9)

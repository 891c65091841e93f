"""Laws of lens power: forms of one lens, adding, moving there and back, tilting there and back."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from app.optics.lens_form import back_surface_for, vertex_powers
from app.optics.power_matrix import (
    blur_strength,
    power_from_matrix,
    power_from_vector,
    power_matrix,
    power_vector,
    sum_in_contact,
)
from app.optics.prescription_algebra import (
    Power,
    power_in_meridian,
    principal_powers,
    spherical_equivalent,
    toric_transposition,
    transposed,
    with_minus_cylinder,
    with_plus_cylinder,
)
from app.optics.refusal import NotPossible
from app.optics.tilt_and_wrap import (
    Wear,
    effective_tilt,
    martin_power,
    oblique_power_exactly,
    power_to_order,
    worn_power,
)
from app.optics.vertex_distance import moved_power, moved_prescription, moved_prescription_by_matrix
from tests.optics.strategies import index, powers, sphere_d, tilt_deg, wears

vertex_mm = st.floats(0, 20)


def same_lens(first: Power, second: Power, tolerance_d: float = 1e-9) -> bool:
    """Equal power in every meridian, whatever form the lenses are written in."""
    return bool(np.allclose(power_matrix(first), power_matrix(second), atol=tolerance_d))


@given(powers)
def test_transposing_twice_gives_the_same_power_and_once_gives_the_same_lens(power: Power) -> None:
    assert same_lens(transposed(power), power)
    assert transposed(transposed(power)).sphere_d == pytest.approx(power.sphere_d)
    assert transposed(transposed(power)).axis_deg == power.axis_deg


@given(powers)
def test_every_form_and_notation_describes_the_same_lens(power: Power) -> None:
    assert with_minus_cylinder(power).cylinder_d <= 0 <= with_plus_cylinder(power).cylinder_d
    assert same_lens(power_from_matrix(power_matrix(power)), power)
    assert same_lens(power_from_vector(power_vector(power)), power)
    assert power_vector(power).mean_d == pytest.approx(spherical_equivalent(power))


@given(powers, st.floats(0, 180))
def test_power_in_any_meridian_lies_between_the_principal_powers(power: Power, meridian: float) -> None:
    low, high = sorted(principal_powers(power))

    assert low - 1e-9 <= power_in_meridian(power, meridian) <= high + 1e-9
    direction = np.array([np.cos(np.radians(meridian)), np.sin(np.radians(meridian))])
    by_matrix = direction @ power_matrix(power) @ direction
    assert by_matrix == pytest.approx(power_in_meridian(power, meridian), abs=1e-9)


@given(powers, powers)
def test_two_lenses_in_contact_do_not_mind_their_order_and_mean_powers_add(
    first: Power, second: Power
) -> None:
    total = sum_in_contact([first, second])

    assert same_lens(total, sum_in_contact([second, first]))
    mean = spherical_equivalent(first) + spherical_equivalent(second)
    assert spherical_equivalent(total) == pytest.approx(mean, abs=1e-9)


@given(powers)
def test_a_lens_with_its_neutraliser_has_no_power_and_no_blur(power: Power) -> None:
    neutraliser = Power(-power.sphere_d, -power.cylinder_d, power.axis_deg)

    assert blur_strength(sum_in_contact([power, neutraliser])) == pytest.approx(0, abs=1e-9)


@given(powers, st.sampled_from((-8.0, -6.0, 4.0, 6.0, 8.0)))
def test_the_surfaces_of_a_toric_transposition_add_to_the_lens(power: Power, base: float) -> None:
    form = toric_transposition(power, base)

    toric = Power(form.base_curve_d, form.cross_curve_d - form.base_curve_d, form.cross_axis_deg)
    assert same_lens(sum_in_contact([Power(form.sphere_curve_d), toric]), power)
    assert abs(form.cross_curve_d) >= abs(base) - 1e-9


def test_a_plano_base_curve_is_refused() -> None:
    with pytest.raises(NotPossible, match="base curve"):
        toric_transposition(Power(1.0, -1.0, 90), 0.0)


@given(powers, vertex_mm, vertex_mm)
def test_a_lens_moved_there_and_back_is_the_same_lens(power: Power, tested: float, worn: float) -> None:
    moved = moved_prescription(power, tested_vertex_mm=tested, worn_vertex_mm=worn)
    back = moved_prescription(moved, tested_vertex_mm=worn, worn_vertex_mm=tested)

    assert same_lens(back, power, 1e-6)


@given(powers, vertex_mm, vertex_mm)
def test_moving_by_meridians_and_by_matrix_agree(power: Power, tested: float, worn: float) -> None:
    by_meridians = moved_prescription(power, tested_vertex_mm=tested, worn_vertex_mm=worn)
    by_matrix = moved_prescription_by_matrix(power, tested_vertex_mm=tested, worn_vertex_mm=worn)

    assert same_lens(by_meridians, by_matrix, 1e-7)


@given(st.floats(0.25, 20), st.floats(0.5, 10))
def test_worn_nearer_a_plus_lens_must_be_stronger_and_a_minus_lens_weaker(
    power: float, nearer: float
) -> None:
    plus = moved_power(power, tested_vertex_mm=14, worn_vertex_mm=14 - nearer)
    minus = moved_power(-power, tested_vertex_mm=14, worn_vertex_mm=14 - nearer)

    assert plus > power
    assert -power < minus < 0


@given(sphere_d, st.floats(0.5, 12), index)
def test_back_surface_for_a_wanted_power_gives_that_power(sphere: float, front: float, n: float) -> None:
    back = back_surface_for(back_vertex_d=sphere, front_power_d=front, thickness_mm=3, index=n)
    found = vertex_powers(front_power_d=front, back_power_d=back, thickness_mm=3, index=n)

    assert found.back_vertex_d == pytest.approx(sphere, abs=1e-9)


@given(sphere_d, st.floats(0.5, 12), index)
def test_a_lens_turned_round_exchanges_its_vertex_powers(back: float, front: float, n: float) -> None:
    found = vertex_powers(front_power_d=front, back_power_d=back, thickness_mm=4, index=n)
    turned = vertex_powers(front_power_d=back, back_power_d=front, thickness_mm=4, index=n)

    assert turned.back_vertex_d == pytest.approx(found.front_vertex_d)
    assert turned.equivalent_d == pytest.approx(found.equivalent_d)


@given(powers, wears)
def test_ordering_for_the_worn_power_and_wearing_it_gives_the_wanted_power(power: Power, wear: Wear) -> None:
    assert same_lens(worn_power(power_to_order(power, wear), wear), power, 1e-9)
    assert same_lens(power_to_order(worn_power(power, wear), wear), power, 1e-9)


@given(powers, index)
def test_a_lens_square_to_the_line_of_sight_is_worn_as_ordered(power: Power, n: float) -> None:
    assert same_lens(worn_power(power, Wear("right", 0, 0, n)), power)


@given(sphere_d, tilt_deg, index)
def test_one_tilt_of_a_sphere_agrees_with_martin_in_either_direction(
    sphere: float, tilt: float, n: float
) -> None:
    down = worn_power(Power(sphere), Wear("right", tilt, 0, n))
    across = worn_power(Power(sphere), Wear("left", 0, tilt, n))

    by_martin = {
        turn: martin_power(sphere_d=sphere, tilt_deg=tilt, index=n, axis_of_rotation=turn)
        for turn in ("horizontal", "vertical")
    }
    assert same_lens(down, by_martin["horizontal"])
    assert same_lens(across, by_martin["vertical"])


@given(st.floats(0.25, 15), st.floats(1, 18), index)
def test_martin_stays_near_the_exact_thin_lens(sphere: float, tilt: float, n: float) -> None:
    """Coddington's equations are exact for a thin lens; Martin's series leaves the fourth power out."""
    sagittal, tangential = oblique_power_exactly(sphere_d=sphere, tilt_deg=tilt, index=n)
    martin = martin_power(sphere_d=sphere, tilt_deg=tilt, index=n, axis_of_rotation="horizontal")

    fourth_power = sphere * np.radians(tilt) ** 4
    assert abs(martin.sphere_d - sagittal) <= 0.5 * fourth_power
    assert abs(martin.sphere_d + martin.cylinder_d - tangential) <= 0.5 * fourth_power


@given(tilt_deg, tilt_deg)
def test_the_effective_tilt_is_never_less_than_either_tilt(pantoscopic: float, wrap: float) -> None:
    together = effective_tilt(pantoscopic_deg=pantoscopic, wrap_deg=wrap)

    assert together >= max(abs(pantoscopic), abs(wrap)) - 1e-9
    assert np.cos(np.radians(together)) == pytest.approx(
        np.cos(np.radians(pantoscopic)) * np.cos(np.radians(wrap)), abs=1e-12
    )


@given(powers, wears)
def test_more_tilt_never_makes_a_lens_weaker(power: Power, wear: Wear) -> None:
    assume(power.sphere_d * (power.sphere_d + power.cylinder_d) > 0)

    worn = worn_power(power, wear)

    assert abs(spherical_equivalent(worn)) >= abs(spherical_equivalent(power)) - 1e-9


def test_a_tilt_of_ninety_degrees_is_refused_with_a_hint() -> None:
    with pytest.raises(NotPossible, match="measured from the vertical"):
        worn_power(Power(1.0), Wear("right", 90, 0, 1.5))

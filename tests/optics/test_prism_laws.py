"""Laws of prism: Prentice and back, combining and splitting, near imbalance and segments."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from app.optics.differential_prism import NearPortion, near_imbalance, vertical_prism_below_centre
from app.optics.eye import Eye
from app.optics.prentice import (
    decentration_for_prism,
    optical_centre_for_prism,
    prism_at_point,
    prism_by_decentration,
    prism_over_points,
)
from app.optics.prescription_algebra import Power
from app.optics.prism import (
    Prism,
    combined_prism,
    deviation_from_prism_dioptres,
    imbalance,
    named_prism,
    prism_amount,
    prism_base,
    prism_dioptres_from_deviation,
    prism_from_base,
    prism_from_names,
    prism_from_thickness_difference,
    rebalanced,
    split_prism,
    thin_prism_deviation,
)
from app.optics.prism_at_eye import effective_prism_at_near
from app.optics.refusal import NotPossible
from app.optics.segment import flat_top_segment, image_jump, round_segment, segment_from_words
from tests.optics.strategies import eye, points, powers, prisms, sphere_d


@given(powers, prisms, points)
def test_the_optical_centre_found_for_a_prism_gives_that_prism(
    power: Power, prism: Prism, point: tuple[float, float]
) -> None:
    assume(min(abs(power.sphere_d), abs(power.sphere_d + power.cylinder_d)) > 0.1)

    centre = optical_centre_for_prism(power, prism, point_mm=point)
    found = prism_at_point(power, optical_centre_mm=centre, point_mm=point)

    assert found.right_prism_dioptres == pytest.approx(prism.right_prism_dioptres, abs=1e-6)
    assert found.up_prism_dioptres == pytest.approx(prism.up_prism_dioptres, abs=1e-6)


@given(powers, points)
def test_prism_over_many_points_is_prism_at_each_point(power: Power, point: tuple[float, float]) -> None:
    single = prism_at_point(power, point_mm=point)
    many = prism_over_points(power, -np.array([point, (0.0, 0.0)]))

    assert many[0] == pytest.approx([single.right_prism_dioptres, single.up_prism_dioptres])
    assert many[1] == pytest.approx([0.0, 0.0])


@given(sphere_d, st.floats(0.1, 10))
def test_decentration_for_a_prism_is_the_inverse_of_prentice(power: float, prism: float) -> None:
    assume(abs(power) > 0.1)

    assert prism_by_decentration(power, decentration_for_prism(power, prism)) == pytest.approx(prism)


def test_prism_by_decentring_a_lens_without_power_in_one_meridian_is_refused() -> None:
    with pytest.raises(NotPossible, match="no power"):
        optical_centre_for_prism(Power(2.0, -2.0, 90), Prism(1.0, 1.0))
    with pytest.raises(NotPossible, match="worked"):
        decentration_for_prism(0.0, 1.0)


@pytest.mark.parametrize(
    ("sphere", "cylinder", "axis", "below", "wanted_up"),
    [  # prism at a point below the centre, each recomputed from Prentice's rule by hand
        (3.00, -1.00, 180, 4, 0.8),  # a widely copied crib prints 1.2: wrong, the vertical power is +2.00
        (-5.00, -0.50, 180, 10, -5.5),
        (5.00, -2.00, 90, 10, 5.0),
    ],
)
def test_vertical_prism_below_the_centre(
    sphere: float, cylinder: float, axis: float, below: float, wanted_up: float
) -> None:
    found = vertical_prism_below_centre(Power(sphere, cylinder, axis), level_mm=below)

    assert found == pytest.approx(wanted_up)


@given(prisms)
def test_amount_and_base_describe_the_prism(prism: Prism) -> None:
    again = prism_from_base(amount_prism_dioptres=prism_amount(prism), base_deg=prism_base(prism))

    assert again.right_prism_dioptres == pytest.approx(prism.right_prism_dioptres, abs=1e-9)
    assert again.up_prism_dioptres == pytest.approx(prism.up_prism_dioptres, abs=1e-9)


@given(eye, prisms)
def test_the_words_of_a_prescription_describe_the_prism(side: Eye, prism: Prism) -> None:
    assert prism_from_names(side, named_prism(side, prism)) == prism


@given(prisms)
def test_splitting_keeps_the_imbalance_and_names_the_bases_as_the_trade_does(total: Prism) -> None:
    right, left = split_prism(total)

    again = imbalance(right=right, left=left)
    assert again.right_prism_dioptres == pytest.approx(total.right_prism_dioptres)
    assert again.up_prism_dioptres == pytest.approx(total.up_prism_dioptres)
    words_right, words_left = named_prism("right", right), named_prism("left", left)
    if total.right_prism_dioptres:
        assert words_right.horizontal_base == words_left.horizontal_base
    if total.up_prism_dioptres:
        assert words_right.vertical_base != words_left.vertical_base


@given(prisms, prisms)
def test_rebalancing_shares_the_load_and_leaves_what_the_eyes_bear(right: Prism, left: Prism) -> None:
    new_right, new_left = rebalanced(right=right, left=left)

    assert combined_prism([new_right, new_left]) == Prism(0.0, 0.0)
    before, after = imbalance(right=right, left=left), imbalance(right=new_right, left=new_left)
    assert after.up_prism_dioptres == pytest.approx(before.up_prism_dioptres)


@given(st.floats(-30, 30))
def test_degrees_and_prism_dioptres_convert_there_and_back(deviation: float) -> None:
    assert deviation_from_prism_dioptres(prism_dioptres_from_deviation(deviation)) == pytest.approx(deviation)


@given(st.floats(0.1, 3), st.floats(1.45, 1.8))
def test_a_thin_wedge_agrees_by_angle_and_by_thickness(apex: float, n: float) -> None:
    """Small-angle wedge: dt / g = tan(apex), so both textbook formulas agree to the square of the angle."""
    by_angle = prism_dioptres_from_deviation(thin_prism_deviation(apical_angle_deg=apex, index=n))
    by_thickness = prism_from_thickness_difference(
        thickness_difference_mm=float(np.tan(np.radians(apex))) * 50, length_mm=50, index=n
    )

    assert by_angle == pytest.approx(by_thickness, rel=2e-3)


@given(st.floats(0.1, 10), st.floats(200, 1000))
def test_a_prism_does_less_at_near_than_at_distance(prism: float, distance: float) -> None:
    near = effective_prism_at_near(prism_dioptres=prism, object_from_lens_mm=distance)
    far = effective_prism_at_near(prism_dioptres=prism, object_from_lens_mm=1e9)

    assert near < far
    assert far == pytest.approx(prism, rel=1e-6)


@given(powers, powers, st.floats(0, 15), st.floats(0.5, 4))
def test_equal_segments_do_not_change_the_imbalance_of_the_pair(
    right: Power, left: Power, level: float, addition: float
) -> None:
    portion = NearPortion(round_segment(24), addition, 5.0)

    bare = near_imbalance(right=right, left=left, level_mm=level)
    with_segments = near_imbalance(
        right=right, left=left, level_mm=level, right_portion=portion, left_portion=portion
    )

    assert with_segments.difference_prism_dioptres == pytest.approx(bare.difference_prism_dioptres, abs=1e-9)


@given(st.floats(0.5, 4), st.floats(16, 45))
def test_the_image_jump_of_a_round_segment_grows_with_its_size_and_a_flat_top_jumps_less(
    addition: float, diameter: float
) -> None:
    jump = image_jump(segment=round_segment(diameter), addition_d=addition)
    larger = image_jump(segment=round_segment(diameter + 2), addition_d=addition)
    flat_top = flat_top_segment(width_mm=diameter, depth_mm=0.7 * diameter)

    assert larger > jump > image_jump(segment=flat_top, addition_d=addition)


def test_words_for_segments_are_understood_and_others_are_refused() -> None:
    assert segment_from_words("executive").optical_centre_below_top_mm == 0
    assert segment_from_words("round 28 OC 14 mm below top").optical_centre_below_top_mm == 14
    assert segment_from_words("FT28").optical_centre_below_top_mm == 5
    for words in ("something", "FT35"):  # the centre of a flat top of another size depends on its depth
        with pytest.raises(NotPossible, match="D 28x19"):
            segment_from_words(words)
    with pytest.raises(NotPossible, match="deep"):
        flat_top_segment(width_mm=28, depth_mm=10)

"""What a reading should be, given all the others, and which one does not fit."""

from dataclasses import replace
from itertools import pairwise

import pytest

from app.fitting.cover_test import CoverFinding, CoverTest
from app.plausibility.expectation import band_before, expected_bands, suspects
from app.plausibility.expectation_remeasure import measure_again_first
from app.practice.settings import PracticeSettings
from tests.plausibility.expected_face import Box, box, every_box, ordinary_fitting, subject

SETTINGS = PracticeSettings()
HEAD = ("head_width", "temple_width", "head_circumference", "pd_distance")


def named(changed: dict[Box, float | None]) -> list[tuple[str, str | None]]:
    """Measurement and side of each suspect, likeliest first."""
    return [
        (one.subject.measurement, one.subject.side) for one in suspects(ordinary_fitting(changed), SETTINGS)
    ]


def test_an_ordinary_face_has_a_band_for_every_reading_and_no_suspect() -> None:
    fitting = ordinary_fitting()
    bands = expected_bands(fitting, SETTINGS)
    values = {(one.measurement, one.side, one.pair, one.method): one.value for one in fitting.readings}
    assert suspects(fitting, SETTINGS) == ()
    assert len(bands) >= 58
    for band in bands:
        assert band.low < values[band.measurement, band.side, band.pair, band.method] < band.high
        assert band.given
        assert 0.99 < band.level < 1


@pytest.mark.parametrize(
    ("changed", "wrong"),
    [
        ({box("head_width"): 165}, ("head_width", None)),
        ({box("head_circumference"): 645}, ("head_circumference", None)),
        ({box("pd_monocular", "L"): 35}, ("pd_monocular", "L")),
        ({box("pd_distance", None, None, "pupil_gauge"): 66}, ("pd_distance", None)),
        ({box("length_to_tangent", "R"): 120}, ("length_to_tangent", "R")),
        ({box("length_to_bend", "L", 2): 101}, ("length_to_bend", "L")),
        ({box("fitting_height", "R", 2): 27}, ("fitting_height", "R")),
        ({box("bridge_width_15"): 30}, ("bridge_width_15", None)),
        ({box("head_diagonal", "R"): 171}, ("head_diagonal", "R")),
        ({box("iris_diameter", "R"): 1.15}, ("iris_diameter", "R")),
    ],
)
def test_a_wrong_reading_is_named_first_and_alone(
    changed: dict[Box, float | None], wrong: tuple[str, str | None]
) -> None:
    assert named(changed) == [wrong]


def test_a_wrong_head_width_does_not_accuse_an_honest_circumference() -> None:
    fitting = ordinary_fitting({box("head_width"): 120}, only=HEAD)
    assert [one.subject.measurement for one in suspects(fitting, SETTINGS)] == ["head_width"]
    bands = {band.measurement: band for band in expected_bands(fitting, SETTINGS)}
    assert "head_width" not in bands["head_circumference"].given
    assert bands["head_circumference"].low < 565 < bands["head_circumference"].high


def test_two_wrong_readings_are_both_named() -> None:
    found = named({box("pd_monocular", "L"): 35, box("length_to_tangent", "R"): 120})
    assert sorted(found) == [("length_to_tangent", "R"), ("pd_monocular", "L")]


@pytest.mark.parametrize(
    ("changed", "words", "meant"),
    [
        ({box("length_to_tangent", "R"): 120}, "Digits exchanged", 102),
        ({box("head_circumference"): 56.5}, "Centimetres", 565),
        ({box("apical_radius"): 16}, "diameter", 8),
        ({box("iris_diameter", "R"): 1.15}, "Centimetres", 11.5),
        ({box("frontal_angle", "R"): 48}, "whole angle", 24),
        ({box("temple_width"): 5.25}, "Inches", 133),
    ],
)
def test_the_slip_that_explains_a_reading_is_offered(
    changed: dict[Box, float | None], words: str, meant: float
) -> None:
    suspect = suspects(ordinary_fitting(changed), SETTINGS)[0]
    offer = next(one for one in suspect.offers if words in one.words)
    assert offer.corrections == ((suspect.subject, meant),)


def test_the_whole_angle_on_both_sides_accuses_neither_bridge_width() -> None:
    changed: dict[Box, float | None] = {box("frontal_angle", "R"): 48, box("frontal_angle", "L"): 50}
    assert {name for name, _ in named(changed)} == {"frontal_angle"}


def test_two_boxes_exchanged_are_offered_as_exchanged() -> None:
    changed: dict[Box, float | None] = {box("head_width"): 133, box("temple_width"): 143}
    found = suspects(ordinary_fitting(changed), SETTINGS)
    assert {one.subject.measurement for one in found} == {"head_width", "temple_width"}
    assert found[0].exchanged_with == found[1].subject
    assert found[0].offers[0].words == "The two boxes exchanged?"


def test_right_and_left_exchanged_are_seen_where_other_readings_know_the_sides() -> None:
    changed: dict[Box, float | None] = {
        box("length_to_tangent", "R"): 97,
        box("length_to_tangent", "L"): 103,
        box("length_to_bend", "R", 2): 93,
        box("length_to_bend", "L", 2): 87,
        box("head_diagonal", "R"): 155.5,
        box("head_diagonal", "L"): 159,
    }
    found = suspects(ordinary_fitting(changed), SETTINGS)
    assert {one.subject.side for one in found} == {"R", "L"}
    assert found[0].offers[0].words == "Right and left exchanged?"


def test_the_near_pd_in_the_far_box_is_named_as_typed_again() -> None:
    fitting = ordinary_fitting({box("pd_distance", None, None, "pupil_gauge"): 58.5})
    (suspect,) = suspects(fitting, SETTINGS)
    assert suspect.subject == subject("pd_distance", method="pupil_gauge")
    assert any("Near PD" in one.words for one in suspect.offers)


def test_a_confirmed_reading_is_not_accused_again() -> None:
    fitting = ordinary_fitting({box("head_width"): 165}, only=HEAD)
    assert [one.subject for one in suspects(fitting, SETTINGS)] == [subject("head_width")]
    again = suspects(fitting, SETTINGS, confirmed={subject("head_width")})
    assert subject("head_width") not in [one.subject for one in again]


def test_a_confirmed_reading_is_taken_as_true_by_the_bands_of_the_others() -> None:
    fitting = ordinary_fitting({box("head_width"): 165}, only=HEAD)
    doubted = {one.measurement: one for one in expected_bands(fitting, SETTINGS)}
    believed = {
        one.measurement: one
        for one in expected_bands(
            fitting, SETTINGS, confirmed={subject("head_width"), subject("temple_width")}
        )
    }
    assert doubted["head_circumference"].mid < 580
    assert believed == {} or believed["head_circumference"].mid > doubted["head_circumference"].mid


def test_confirmed_readings_that_contradict_each_other_make_the_module_step_aside() -> None:
    fitting = ordinary_fitting({box("pd_monocular", "L"): 39})
    confirmed = {
        subject("pd_monocular", "R"),
        subject("pd_monocular", "L"),
        subject("pd_distance", method="rule"),
        subject("pd_distance", method="pupil_gauge"),
    }
    assert suspects(fitting, SETTINGS)
    assert suspects(fitting, SETTINGS, confirmed=confirmed) == ()
    assert expected_bands(fitting, SETTINGS, confirmed=confirmed) == ()


def test_too_few_readings_give_no_band_rather_than_an_invented_one() -> None:
    assert expected_bands(ordinary_fitting(only=()), SETTINGS) == ()
    assert expected_bands(ordinary_fitting(only=("head_circumference",)), SETTINGS) == ()
    assert expected_bands(ordinary_fitting(only=("crest_height", "working_distance")), SETTINGS) == ()
    assert band_before(ordinary_fitting(only=()), SETTINGS, "head_width") is None
    assert band_before(ordinary_fitting(only=("lid_aperture",)), SETTINGS, "head_width") is None


def test_each_further_reading_narrows_the_band() -> None:
    widths = []
    taken: tuple[str, ...] = ()
    for key in ("head_circumference", "temple_width", "length_to_tangent", "head_diagonal"):
        taken += (key,)
        band = band_before(ordinary_fitting(only=taken), SETTINGS, "head_width")
        assert band is not None
        assert band.deviation is None
        widths.append(band.high - band.low)
    # more readings judged at once need slightly wider limits, so a reading that tells nothing may cost 1 %
    assert all(later < 1.01 * earlier for earlier, later in pairwise(widths))
    assert widths[-1] < 0.5 * widths[0]


def test_the_band_before_a_reading_is_that_after_it() -> None:
    fitting = ordinary_fitting(sex="F")
    after = next(one for one in expected_bands(fitting, SETTINGS) if one.measurement == "temple_width")
    before = band_before(fitting, SETTINGS, "temple_width")
    assert before is not None
    assert before.mid == pytest.approx(after.mid, abs=0.05)
    assert before.high - before.low == pytest.approx(after.high - after.low, rel=0.02)


def test_a_practice_can_switch_the_reference_off() -> None:
    off = replace(SETTINGS, expected_bands=False)
    fitting = ordinary_fitting({box("head_width"): 165})
    assert expected_bands(fitting, off) == ()
    assert suspects(fitting, off) == ()
    assert band_before(fitting, off, "head_width") is None


def test_bands_before_a_reading_are_not_shown_by_default_since_they_can_bias() -> None:
    assert SETTINGS.expected_bands
    assert not SETTINGS.show_band_before


def test_sex_is_never_needed_and_narrows_a_head_where_it_is_given() -> None:
    unstated = band_before(ordinary_fitting(only=HEAD[1:]), SETTINGS, "head_width")
    stated = band_before(ordinary_fitting(only=HEAD[1:], sex="F"), SETTINGS, "head_width")
    assert unstated is not None
    assert stated is not None
    assert stated.high - stated.low <= unstated.high - unstated.low + 0.5


def test_age_is_never_needed() -> None:
    assert suspects(ordinary_fitting(born=None), SETTINGS) == ()


def test_under_four_only_the_links_are_used() -> None:
    small: dict[Box, float | None] = {
        box("pd_monocular", "R"): 22.5,
        box("pd_monocular", "L"): 22.5,
        box("pd_distance", None, None, "pupil_gauge"): 45,
        box("pd_distance", None, None, "rule"): 45.5,
        box("head_circumference"): 420,
    }
    only = ("pd_monocular", "pd_distance", "head_circumference")
    born = "2023-12-01"
    assert suspects(ordinary_fitting(small, only=only, born=born), SETTINGS) == ()
    small[box("pd_monocular", "L")] = 28
    (suspect,) = suspects(ordinary_fitting(small, only=only, born=born), SETTINGS)
    assert suspect.subject == subject("pd_monocular", "L")


def test_a_childs_face_is_not_judged_by_an_adults() -> None:
    child: dict[Box, float | None] = {
        box("pd_monocular", "R"): 25.5,
        box("pd_monocular", "L"): 25.5,
        box("pd_distance", None, None, "pupil_gauge"): 51,
        box("pd_distance", None, None, "rule"): 51.5,
        box("head_circumference"): 515,
        box("head_width"): 128,
        box("temple_width"): 118,
    }
    only = ("pd_monocular", "pd_distance", "head_circumference", "head_width", "temple_width")
    assert suspects(ordinary_fitting(child, only=only, born="2020-01-01"), SETTINGS) == ()


def test_in_a_squint_the_rule_with_both_eyes_open_counts_for_nothing() -> None:
    squint = CoverTest(distance=CoverFinding(finding="manifest", direction="out", size=40))
    changed: dict[Box, float | None] = {box("pd_distance", None, None, "rule"): 67}
    assert suspects(ordinary_fitting(changed), SETTINGS)
    assert suspects(ordinary_fitting(changed, cover_test=squint), SETTINGS) == ()


def test_the_suspect_is_to_be_measured_again_before_anything_else() -> None:
    first = measure_again_first(ordinary_fitting({box("head_width"): 165}), SETTINGS)
    assert first[0] == subject("head_width")
    assert len(first) == 3


def test_without_a_suspect_the_readings_that_tell_most_are_measured_again_first() -> None:
    fitting = ordinary_fitting()
    first = measure_again_first(fitting, SETTINGS)
    assert len(set(first)) == 3
    confirmed = {first[0]}
    assert first[0] not in measure_again_first(fitting, SETTINGS, confirmed=confirmed)


def test_a_whole_fitting_here_is_about_sixty_readings() -> None:
    assert 55 <= len(every_box()) <= 65

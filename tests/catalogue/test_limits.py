"""The limits against what has been published, and against the ages that they are for."""

import pytest

from app.catalogue.catalogue import MEASUREMENTS
from app.catalogue.measurement import Range

PROVISIONAL = {
    "bridge_width_10",
    "bridge_width_15",
    "frontal_angle",
    "splay_angle",
    "apical_radius",
    "crest_height",
    "bridge_projection",
    "head_width",
}


def ends(found: Range) -> tuple[float, float]:
    return found.low, found.high


def test_no_adult_pd_known_to_exist_is_stopped() -> None:
    # Dodgson 2004, Proc. SPIE 5291: 45 to 80 mm takes in almost all adults.
    assert ends(MEASUREMENTS["pd_distance"].adult.stop) == (45, 80)


def test_children_from_five_up_are_not_asked_about_their_pd() -> None:
    # Dodgson 2004: children down to five years rarely below 40 mm.
    child = MEASUREMENTS["pd_distance"].limits(child=True)
    assert child.ask.low == 40
    # Pacific University thesis 1993, means at far: 51.0 mm at 48 to 71 months.
    assert child.usual.holds(51.0)


@pytest.mark.parametrize(
    ("key", "mean", "source"),
    [
        ("pd_distance", 63.3, "ANSUR II 2012, both sexes"),
        ("pd_near", 60.9, "Abraham 2019, 304 people aged 6 to 25"),
        ("frontal_angle", 18.8, "Abraham 2019"),
        ("splay_angle", 28.0, "Abraham 2019"),
        ("length_to_bend", 103.4, "Abraham 2019"),
        ("head_width", 154.2, "Maseedupalli 2023, men 20 to 40"),
        ("head_width", 145.4, "Maseedupalli 2023, women 20 to 40"),
        ("head_circumference", 572, "Bushby 1992, men"),
        ("head_circumference", 552, "Bushby 1992, women"),
        ("lid_aperture", 9.7, "Read 2006"),
        ("iris_diameter", 11.71, "Rüfer 2005"),
        ("iris_diameter", 11.80, "Hashemi 2015"),
    ],
)
def test_a_published_mean_is_usual(key: str, mean: float, source: str) -> None:
    assert MEASUREMENTS[key].adult.usual.holds(mean), source


def test_a_gauge_that_reads_drops_steeply_is_not_asked_about() -> None:
    # Abraham 2019: downward angle of drop 60.2 ± 1.4 degrees by that study's gauge.
    assert MEASUREMENTS["drop_angle"].adult.ask.holds(60.2 + 3 * 1.4)


@pytest.mark.parametrize(
    ("key", "low", "high", "source"),
    [
        ("iris_diameter", 10.8, 12.8, "Hashemi 2015: mean ± 2 SD of 4,787 people"),
        ("iris_diameter", 10.7, 12.58, "Rüfer 2005: normal range, women"),
        ("lid_aperture", 7.3, 12.0, "Read 2006: 9.7 ± 1.2, less and more by 2 SD"),
    ],
)
def test_a_published_range_is_not_asked_about(key: str, low: float, high: float, source: str) -> None:
    ask = MEASUREMENTS[key].adult.ask
    assert ask.holds(low), source
    assert ask.holds(high), source


def test_the_two_pd_methods_repeat_as_well_as_trained_examiners_do() -> None:
    # McMahon 2012 (PMID 22581116): 95 % of repeats by rule within -1.04 to +1.20, by gauge within -0.79 to +0.73.
    pd = MEASUREMENTS["pd_distance"]
    assert pd.tolerance("rule") == pytest.approx((1.04 + 1.20) / 2, abs=0.25)
    assert pd.tolerance("pupil_gauge") == pytest.approx((0.79 + 0.73) / 2, abs=0.3)
    assert pd.tolerance("pupil_gauge") < pd.tolerance("rule") == pd.tolerance(None)


def test_weak_limits_say_that_they_are_provisional() -> None:
    assert all(MEASUREMENTS[key].adult.provisional for key in PROVISIONAL)


@pytest.mark.parametrize("key", sorted(MEASUREMENTS))
def test_a_childs_limits_do_not_lie_above_an_adults(key: str) -> None:
    one = MEASUREMENTS[key]
    if one.child is None or key in {"bridge_width_10", "bridge_width_15", "frontal_angle", "splay_angle"}:
        # Children's noses are relatively wider and more flared (Thompson, PhD thesis, Aston).
        return
    assert one.child.usual.high < one.adult.usual.high
    assert one.child.ask.high < one.adult.ask.high


def test_childrens_noses_flare_more_than_adults() -> None:
    # Thompson, PhD thesis, Aston: all nasal parameters narrow with age.
    for key in ("bridge_width_10", "bridge_width_15", "frontal_angle", "splay_angle"):
        one = MEASUREMENTS[key]
        assert one.limits(child=True).usual.high >= one.limits(child=False).usual.high


def test_where_children_have_no_limits_of_their_own_the_adults_hold() -> None:
    iris = MEASUREMENTS["iris_diameter"]
    assert iris.limits(child=True) is iris.adult


def test_heads_too_small_for_an_adult_are_right_for_a_child() -> None:
    width = MEASUREMENTS["length_to_tangent"]
    assert width.limits(child=True).usual.holds(84)
    assert not width.limits(child=False).ask.holds(84)

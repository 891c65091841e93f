"""The adult limits against a survey of real heads: how many real people a limit would question."""

from collections.abc import Callable

import pytest

from app.catalogue.head import HEAD_CIRCUMFERENCE, HEAD_HEIGHT, HEAD_WIDTH
from app.catalogue.pupil_distances import PD_DISTANCE
from tests.catalogue.survey import PEOPLE, TABLE, people_with, share_outside, share_outside_spread

MOST_QUESTIONED = 0.011
"""Limits that question more of the real people than this would be answered without thinking."""

# Head width is taken at the ear points, the survey's head breadth at the widest place above and behind them:
# nominally 8 mm less, with a spread of 3.4 mm between people.
LESS_THAN_BREADTH_MM, SPREAD_MM = 8.0, 3.4


def test_the_table_holds_every_person_of_the_survey() -> None:
    for column in TABLE["counts"]:
        assert people_with(column).total() == PEOPLE == 6068


@pytest.mark.parametrize(
    ("column", "sex", "mean"),
    [
        # NATICK/TR-15/007, summary statistics (mm): interpupillary breadth, head breadth, head circumference.
        ("interpupillarybreadth", "M", 64.0),
        ("interpupillarybreadth", "F", 61.7),
        ("headbreadth", "M", 154.3),
        ("headbreadth", "F", 147.8),
        ("headcircumference", "M", 574.4),
        ("headcircumference", "F", 561.1),
    ],
)
def test_the_counts_give_the_means_of_the_survey(column: str, sex: str, mean: float) -> None:
    counted = people_with(column, sex)
    assert sum(value * count for value, count in counted.items()) / counted.total() == pytest.approx(
        mean, abs=0.1
    )


def test_hardly_any_real_pd_is_asked_about(measured: Callable[[str], None]) -> None:
    asked = share_outside("interpupillarybreadth", PD_DISTANCE.adult.ask)
    measured(f"survey of {PEOPLE}: PD outside the adult ask limits {asked:.2%}")
    assert 0 < asked <= MOST_QUESTIONED
    assert share_outside("interpupillarybreadth", PD_DISTANCE.adult.stop) == 0


def test_hardly_any_real_head_circumference_is_asked_about(measured: Callable[[str], None]) -> None:
    asked = share_outside("headcircumference", HEAD_CIRCUMFERENCE.adult.ask)
    measured(f"survey of {PEOPLE}: head circumference outside the adult ask limits {asked:.2%}")
    assert 0 < asked <= MOST_QUESTIONED
    assert share_outside("headcircumference", HEAD_CIRCUMFERENCE.adult.stop) == 0


def test_hardly_any_real_head_width_is_asked_about(measured: Callable[[str], None]) -> None:
    asked = share_outside_spread(
        "headbreadth", HEAD_WIDTH.adult.ask, offset_mm=-LESS_THAN_BREADTH_MM, spread_mm=SPREAD_MM
    )
    measured(f"survey of {PEOPLE}: head width outside the adult ask limits {asked:.2%}")
    assert 0 < asked <= MOST_QUESTIONED


@pytest.mark.parametrize("sex", ["F", "M"])
def test_neither_sex_is_questioned_much_more_than_the_other(sex: str) -> None:
    shares = (
        share_outside("interpupillarybreadth", PD_DISTANCE.adult.ask, sex),
        share_outside("headcircumference", HEAD_CIRCUMFERENCE.adult.ask, sex),
        share_outside_spread(
            "headbreadth",
            HEAD_WIDTH.adult.ask,
            offset_mm=-LESS_THAN_BREADTH_MM,
            spread_mm=SPREAD_MM,
            sexes=sex,
        ),
    )
    assert max(shares) <= 2 * MOST_QUESTIONED


def test_no_real_ear_to_crown_height_is_asked_about() -> None:
    # ANSUR II, tragion to top of head: lowest 105, highest 150 mm of 6,068 people.
    assert HEAD_HEIGHT.adult.ask.holds(105)
    assert HEAD_HEIGHT.adult.ask.holds(150)

"""A reading or a reason that cannot stand as it is, is refused in words before it is kept."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.fitting.reading import NotTaken, Reading
from app.fitting.reading_check import check_not_taken, check_reading
from tests.fitting.strategies import readings

PD = {"measurement": "pd_distance", "value": 62.0, "text": "62"}


@pytest.mark.parametrize(
    ("parts", "words"),
    [
        ({"measurement": "ear_colour"}, "no measurement called “ear_colour”"),
        ({"side": "R"}, "has no sides"),
        ({"pair": 1}, "not of a pair"),
        ({"method": "guess"}, "“guess” is none of its methods. Choose one of these: "),
        ({"condition": "standing_on_one_leg"}, "no circumstance that is known here"),
        ({"measurement": "pd_monocular"}, "say of which side"),
        ({"measurement": "lens_height"}, "say of which one, 1 or 2"),
        ({"measurement": "head_width", "method": "rule"}, "“rule”"),
    ],
)
def test_a_reading_of_what_is_not_known_is_refused_in_words(parts: dict[str, object], words: str) -> None:
    refusal = check_reading(Reading(**(PD | parts)))  # type: ignore[arg-type]

    assert refusal is not None
    assert words in refusal


def test_an_instrument_may_be_any_tool_of_the_practice() -> None:
    assert check_reading(Reading(**PD, method="rule", instrument="rule 2")) is None  # type: ignore[arg-type]


@given(st.one_of(readings(pair=None), readings(pair=2)))
def test_every_reading_that_a_file_may_hold_can_be_kept(reading: Reading) -> None:
    assert check_reading(reading) is None


@pytest.mark.parametrize(
    ("reason", "example"), [("estimated", "old pair"), ("previous_record", "12 Mar 2024")]
)
def test_an_estimate_and_a_value_of_a_previous_record_say_where_they_come_from(
    reason: str, example: str
) -> None:
    bare = check_not_taken(NotTaken(measurement="head_width", reason=reason, detail="  "))

    assert bare is not None
    assert example in bare
    assert check_not_taken(NotTaken(measurement="head_width", reason=reason, detail="worn pair")) is None
    assert check_not_taken(NotTaken(measurement="head_width", reason="declined")) is None


def test_a_reason_that_is_not_in_the_list_is_asked_for() -> None:
    assert "Choose the reason" in (check_not_taken(NotTaken(measurement="head_width", reason="")) or "")

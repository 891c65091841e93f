"""Slips of the hand: what was probably meant."""

import pytest

from app.catalogue.catalogue import MEASUREMENTS
from app.plausibility.finding import Subject
from app.plausibility.slips import guess_slip, neighbouring_digits_exchanged


@pytest.mark.parametrize(
    ("measurement", "typed", "child", "offered"),
    [
        ("head_circumference", 56.2, False, ["Did you mean 562? (centimetres?)"]),
        ("iris_diameter", 1.15, False, ["Did you mean 11.5?"]),
        ("pd_distance", 635, False, ["Did you mean 63.5?"]),
        ("pd_distance", 36, False, ["63? (digits exchanged)"]),
        ("length_to_tangent", 120, False, ["102? (digits exchanged)"]),
        # 135 for 45: the supplement of the angle behind the ear
        ("drop_angle", 135, False, ["Did you mean 45? (the supplement?)"]),
        # 5 7/8 inches is about 149 mm (an inch is 25.4 mm by definition, 1959)
        ("head_width", 5.875, False, ["Did you mean 149? (inches?)"]),
        (
            "frontal_angle",
            66,
            False,
            ["Did you mean 24? (read from the other line?)", "Did you mean 33? (both sides together?)"],
        ),
        ("head_circumference", 51.2, True, ["Did you mean 512? (centimetres?)"]),
        ("working_distance", 400, False, ["Did you mean 40?"]),
    ],
)
def test_the_usual_slips_are_offered(measurement: str, typed: float, child: bool, offered: list[str]) -> None:
    offers = guess_slip(MEASUREMENTS[measurement], typed, child)
    assert [offer.words for offer in offers] == offered


def test_a_believable_value_is_not_second_guessed() -> None:
    for measurement in MEASUREMENTS.values():
        middle = (measurement.adult.usual.low + measurement.adult.usual.high) / 2
        assert guess_slip(measurement, middle, child=False) == ()
        assert guess_slip(measurement, measurement.adult.ask.high, child=False) == ()


def test_an_offer_names_the_reading_that_it_would_put_right() -> None:
    subject = Subject("length_to_tangent", "L")
    (offer,) = guess_slip(MEASUREMENTS["length_to_tangent"], 120, child=False, subject=subject)
    assert offer.corrections == ((subject, 102.0),)


def test_every_offer_is_a_value_that_nobody_would_question() -> None:
    for measurement in MEASUREMENTS.values():
        for typed in (0.5, 1.15, 6.2, 13, 36, 51, 120, 201, 410, 562, 1480, -3):
            for offer in guess_slip(measurement, typed, child=False):
                assert measurement.adult.ask.holds(offer.corrections[0][1])


@pytest.mark.parametrize(
    ("typed", "exchanged"),
    [(102, (12, 120)), (120, (210, 102)), (63.5, (36.5, 65.3)), (66, ()), (5, ()), (-36, (-63,))],
)
def test_only_neighbouring_digits_change_places(typed: float, exchanged: tuple[float, ...]) -> None:
    assert neighbouring_digits_exchanged(typed) == exchanged

"""A typed value is read as the person meant it, exactly, or refused in words."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.catalogue.catalogue import MEASUREMENTS
from app.catalogue.measurement import Measurement
from app.fitting.entry import NotUsable, example_of, in_words, lacks_direction, read_entry, show_value
from tests.fitting.strategies import values_of

PD = MEASUREMENTS["pd_distance"]
PROJECTION = MEASUREMENTS["bridge_projection"]
CIRCUMFERENCE = MEASUREMENTS["head_circumference"]
FRONTAL = MEASUREMENTS["frontal_angle"]
SIDE_ANGLE = MEASUREMENTS["side_angle"]


@pytest.mark.parametrize(
    ("measurement", "text", "value"),
    [
        (PD, "62", 62),
        (PD, "62.5", 62.5),
        (PD, "62,5", 62.5),
        (PD, " 31.5 mm", 31.5),
        (PD, ".5", 0.5),
        (PD, "６２．５", 62.5),
        (PD, "62 1/2", 62.5),
        (PROJECTION, "−1.25", -1.25),
        (PROJECTION, "- 1.25", -1.25),
        (PROJECTION, "-2", -2),
        (PROJECTION, "+2", 2),
        (PROJECTION, "－２", -2),
        (SIDE_ANGLE, "-2", -2),
        (FRONTAL, "24°", 24),
        (FRONTAL, "24 deg", 24),
    ],
)
def test_a_number_is_read_however_it_was_written(measurement: Measurement, text: str, value: float) -> None:
    entry = read_entry(measurement, text)

    assert entry.value == value
    assert entry.text == text.strip()


@pytest.mark.parametrize(
    ("text", "millimetres"),
    [
        # an inch is 25.4 mm exactly (international yard and pound agreement, 1959)
        ("2 1/4 in", 57.15),
        ('2 1/4"', 57.15),
        ("2 1/4″", 57.15),
        ("2¼ in", 57.15),
        ("2.25 inches", 57.15),
        ("1 1/16 in", 26.9875),
        ("56.2 cm", 562),
        ("5,62 cm", 56.2),
    ],
)
def test_centimetres_and_inches_become_millimetres_exactly_and_the_note_says_so(
    text: str, millimetres: float
) -> None:
    entry = read_entry(CIRCUMFERENCE, text)

    assert entry.value == millimetres
    assert entry.text == text
    assert f"{text} is {show_value(CIRCUMFERENCE, millimetres)} mm" in entry.notes


def test_a_unit_chosen_beside_the_box_is_kept_with_the_text() -> None:
    entry = read_entry(CIRCUMFERENCE, "56.2", "cm")

    assert (entry.value, entry.text, entry.unit) == (562, "56.2 cm", "cm")


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("flush", 0),
        ("level", 0),
        ("inset 2", -2),
        ("behind 2", -2),
        ("Behind 2,5 mm", -2.5),
        ("in front 2", 2),
        ("2 in front", 2),
        ("outset 2", 2),
        ("inset −2", -2),
    ],
)
def test_bridge_projection_is_read_in_words(text: str, value: float) -> None:
    assert read_entry(PROJECTION, text).value == value


@pytest.mark.parametrize(
    ("text", "sign_word", "value", "kept"),
    [
        ("2", "minus", -2, "behind 2"),
        ("2", "inset", -2, "behind 2"),
        ("2", "plus", 2, "in front 2"),
        ("", "level", 0, "level"),
        ("0", "minus", 0, "0"),
    ],
)
def test_a_sign_word_chosen_beside_the_box_gives_the_sign(
    text: str, sign_word: str, value: float, kept: str
) -> None:
    entry = read_entry(PROJECTION, text, None, sign_word)

    assert (entry.value, entry.text) == (value, kept)


@pytest.mark.parametrize(
    ("text", "sign_word"), [("-2", "plus"), ("+2", "minus"), ("2", "level"), ("in front −2", None)]
)
def test_a_sign_that_contradicts_its_word_is_asked_again(text: str, sign_word: str | None) -> None:
    with pytest.raises(NotUsable, match="two different things"):
        read_entry(PROJECTION, text, None, sign_word)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("1.2.3", "more than one decimal point"),
        ("1,234.5", "more than one decimal point"),
        ("1e3", "not a plain number"),
        ("3 1", "two numbers"),
        ("nan", "not a number"),
        ("inf", "not a number"),
        ("", "nothing was typed"),
        ("  ", "nothing was typed"),
        ("62.", "ends with a decimal point"),
        ("6²", "not a plain number"),
        ("1/0", "nothing under the line"),
        ("--2", "two signs"),
        ("-2", "below zero"),
        ("62 kg", "not known here: kg"),
        ("62.12345", "more than four decimals"),
        ("2.3456 in", "more than four decimals"),
        ("1 1/32 in", "finer than a sixteenth of an inch"),
        ("99999", "cannot be right; it lies somewhere from"),
        ("inset 2", "not known here: inset"),
    ],
)
def test_what_is_not_one_number_is_refused_with_label_reason_and_example(text: str, why: str) -> None:
    with pytest.raises(NotUsable) as refusal:
        read_entry(PD, text)

    assert refusal.value.message.startswith(f"{PD.label}: ")
    assert why in refusal.value.message
    assert refusal.value.message.endswith(f"Example: {refusal.value.example}.")
    assert read_entry(PD, refusal.value.example).value


@pytest.mark.parametrize(("text", "unit"), [("24 mm", None), ("24", "cm")])
def test_an_angle_is_not_taken_in_millimetres(text: str, unit: str | None) -> None:
    with pytest.raises(NotUsable, match="measured in degrees, not in"):
        read_entry(FRONTAL, text, unit)


def test_a_value_between_the_marks_of_the_scale_is_kept_and_noted() -> None:
    entry = read_entry(PD, "62.25")

    assert entry.value == 62.25
    assert entry.notes == ("kept as entered; the scale is read to 0.5",)


def test_a_slip_by_ten_is_still_read_so_that_the_right_value_can_be_offered() -> None:
    assert read_entry(CIRCUMFERENCE, "56.2").value == 56.2
    assert read_entry(PD, "620").value == 620


@pytest.mark.parametrize(
    ("value", "shown"), [(62.0, "62"), (-3.5, "−3.5"), (1.5875, "1.5875"), (62.25, "62.25"), (0.0, "0")]
)
def test_a_value_is_shown_with_a_true_minus_and_no_needless_zeros(value: float, shown: str) -> None:
    assert show_value(PROJECTION, value) == shown


@pytest.mark.parametrize(("value", "words"), [(-3.5, "behind 3.5"), (3.0, "in front 3"), (0.0, "level")])
def test_a_signed_value_is_said_in_words(value: float, words: str) -> None:
    assert in_words(PROJECTION, value) == words


@pytest.mark.parametrize("measurement", MEASUREMENTS.values(), ids=lambda one: one.key)
def test_the_example_of_every_measurement_is_itself_a_usual_value(measurement: Measurement) -> None:
    entry = read_entry(measurement, example_of(measurement))

    assert measurement.adult.usual.holds(entry.value)
    assert entry.notes == ()


@given(st.data())
def test_what_is_shown_in_words_reads_back_as_the_same_value(data: st.DataObject) -> None:
    measurement = data.draw(st.sampled_from(list(MEASUREMENTS.values())))
    value = data.draw(values_of(measurement))

    assert read_entry(measurement, show_value(measurement, value)).value == value
    assert read_entry(measurement, in_words(measurement, value)).value == value


@given(whole=st.integers(0, 30), sixteenths=st.integers(0, 15))
def test_every_sixteenth_of_an_inch_is_kept_exactly(whole: int, sixteenths: int) -> None:
    entry = read_entry(CIRCUMFERENCE, f"{whole} {sixteenths}/16 in")

    exact = (whole + Fraction(sixteenths, 16)) * Fraction("25.4")
    assert Fraction(round(entry.value * 10_000), 10_000) == exact


@given(st.text(max_size=20))
def test_any_text_is_either_read_so_that_it_reads_again_the_same_or_refused_in_words(text: str) -> None:
    try:
        entry = read_entry(PROJECTION, text)
    except NotUsable as refusal:
        message = refusal.message
    else:
        assert read_entry(PROJECTION, entry.text).value == entry.value
        return
    assert message.startswith(f"{PROJECTION.label}: ")


@pytest.mark.parametrize("text", ["9" * 10_000, "1/" + "9" * 10_000, "0." + "0" * 10_000, "9 " * 5_000])
def test_a_number_of_ten_thousand_digits_is_refused_in_words(text: str) -> None:
    with pytest.raises(NotUsable, match="too long to be one number") as refusal:
        read_entry(PD, text)

    assert len(refusal.value.message) < 200


@pytest.mark.parametrize(
    ("text", "sign_word", "lacks"),
    [
        ("2", None, True),
        ("2,5 mm", "", True),
        ("2 1/4", None, True),
        ("+2", None, False),
        ("−2", None, False),
        ("2", "in front", False),
        ("behind 2", None, False),
        ("2 inset", None, False),
        ("flush", None, False),
        ("0", None, False),
        ("two", None, False),
    ],
)
def test_a_projection_with_neither_sign_nor_word_does_not_say_which_way_it_goes(
    text: str, sign_word: str | None, lacks: bool
) -> None:
    assert lacks_direction(PROJECTION, text, sign_word) is lacks


def test_a_reading_that_goes_one_way_only_lacks_no_direction() -> None:
    assert not lacks_direction(PD, "62", None)

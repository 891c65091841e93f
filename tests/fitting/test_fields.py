"""Every single-valued part of a fitting has a path, is checked in words, and comes back unchanged."""

from typing import get_args, get_type_hints

import pytest
from hypothesis import given, settings

from app.catalogue.choices import CHOICES
from app.fitting.cover_test import CoverFinding
from app.fitting.details import (
    COVER_DETAILS,
    EYE_DETAILS,
    PAIR_DETAILS,
    PRESCRIPTION_DETAILS,
    PRISM_DETAILS,
    SEGMENT_DETAILS,
    TAKEN_DETAILS,
    Detail,
)
from app.fitting.field_paths import UnknownField, label_at
from app.fitting.fields import check_field, field_kept_as, fields_of, fitting_with_fields, missing_fields
from app.fitting.fitting import Fitting, Person, Taken
from app.fitting.pair import Pair, Segment
from app.fitting.prescription import EyePrescription, Prescription, Prism
from app.fitting.reading import Reading
from tests.fitting.strategies import fittings

EMPTY = Fitting(person=Person(reference="D-1"), taken=Taken(on="2026-10-02"))


@settings(max_examples=60, deadline=None)
@given(fittings())
def test_a_fitting_put_together_from_its_fields_is_the_same_fitting(fitting: Fitting) -> None:
    fields = fields_of(fitting)

    assert fitting_with_fields(fitting, fields) == fitting
    assert missing_fields(fields) == {}
    assert {path: message for path, text in fields.items() if (message := check_field(path, text))} == {}


@pytest.mark.parametrize(
    ("declared", "holder"),
    [
        (TAKEN_DETAILS, Taken),
        (COVER_DETAILS, CoverFinding),
        (PRESCRIPTION_DETAILS, Prescription),
        (EYE_DETAILS, EyePrescription),
        (PRISM_DETAILS, Prism),
        (SEGMENT_DETAILS, Segment),
        (PAIR_DETAILS, Pair),
    ],
)
def test_every_detail_is_an_attribute_with_the_same_answers(
    declared: tuple[Detail, ...], holder: type
) -> None:
    hints = get_type_hints(holder)

    for detail in declared:
        literals = [get_args(one) for one in (hints[detail.key], *get_args(hints[detail.key]))]
        answers = {answer for one in literals for answer in one if isinstance(answer, str)}
        assert answers == set(detail.options), detail.key


@pytest.mark.parametrize(
    ("text", "power"), [("-2,25", -2.25), ("−2.25 DS", -2.25), ("plano", 0.0), ("+1.75", 1.75), ("2", 2.0)]
)
def test_a_power_is_read_as_prescriptions_write_it(text: str, power: float) -> None:
    fitting = fitting_with_fields(EMPTY, {"prescription.R.sphere": text})

    assert fitting.prescription == Prescription(right=EyePrescription(sphere=power))
    assert check_field("prescription.R.sphere", text) is None


@pytest.mark.parametrize(
    ("path", "text", "words"),
    [
        ("prescription.R.axis", "190", "Axis: it lies from 0 to 180 degrees"),
        ("prescription.R.sphere", "x", "“x” is not a number"),
        ("prescription.R.sphere", "-225", "Sphere: it lies from -50 to 50 dioptres"),
        ("prescription.written", "last year", "Date of prescription: “last year” cannot be read as a date"),
        ("prescription.written", "20-9-26", "30 May 1961"),
        ("prescription.written", "2026-02-30", "no day 30"),
        ("prescription.R.sphere", "9" * 10_000, "too long to be one number"),
        ("pair.1.choices.needed_by", "before the wedding", "Needed by: “before the wedding” cannot be read"),
        ("history.allergy", "none,nickel", "“None known” and “Nickel or other metal” contradict each other"),
        ("history.recent_changes", "headache,none", "contradict each other"),
        ("history.posture", "straight,chin_up", "contradict each other"),
        ("history.skin", "sound,tender", "contradict each other"),
        ("pair.1.choices.coating", "hard,none", "contradict each other"),
        ("prescription.L.prism.1.base", "sideways", "“sideways” is not one of in, out, up, down"),
        ("cover_test.distance.with_spectacles", "perhaps", "neither yes nor no"),
        ("pair.1.lens_width", "480", "Lens width: it lies from 15 to 100 mm"),
        ("pair.1.lens_width", "48 kg", "has words in it"),
        ("pair.2.index", "1.6 mm", "unit that does not belong here"),
        ("pair.2.segment.diameter", "28.00001", "more than four decimals"),
        ("history.hearing_aids", "both ears", "is not one of these answers"),
        ("pair.3.kind", "handmade", "no field called"),
        ("history.no_such_question", "yes", "no field called"),
    ],
)
def test_a_text_that_cannot_be_right_is_answered_in_words(path: str, text: str, words: str) -> None:
    message = check_field(path, text)

    assert message is not None
    assert words in message


@pytest.mark.parametrize("path", ["prescription.written", "pair.1.choices.needed_by"])
@pytest.mark.parametrize(
    "text", ["20-09-2026", "20/9/2026", "20 September 2026", "20 Sep 2026", "2026-09-20"]
)
def test_a_date_is_read_as_people_write_it_and_kept_with_the_year_first(path: str, text: str) -> None:
    assert check_field(path, text) is None
    assert field_kept_as(path, text) == "2026-09-20"


def test_what_is_no_date_is_kept_as_it_was_typed() -> None:
    assert field_kept_as("prescription.prescriber", "20/9/2026") == "20/9/2026"
    assert field_kept_as("prescription.written", "last year") == "last year"


def test_every_question_with_several_answers_and_a_none_knows_that_none_stands_alone() -> None:
    for choice in CHOICES.values():
        if choice.several and {"none", "sound", "straight"} & dict(choice.options).keys():
            assert choice.alone in dict(choice.options), choice.key


def test_several_answers_that_go_together_are_taken() -> None:
    assert check_field("history.allergy", "nickel,rubber") is None
    assert check_field("history.allergy", "none") is None


def test_an_emptied_field_is_cleared_without_complaint() -> None:
    assert check_field("prescription.R.sphere", "  ") is None
    assert fitting_with_fields(EMPTY, {"prescription.R.sphere": "  "}) == EMPTY


def test_a_length_given_in_inches_or_centimetres_becomes_millimetres() -> None:
    fitting = fitting_with_fields(EMPTY, {"pair.1.lens_width": "1 15/16 in", "pair.1.sheet_mm": "0.6 cm"})

    assert fitting.pairs == (Pair(pair=1, kind="handmade", lens_width=49.2125, sheet_mm=6.0),)


def test_a_cylinder_without_its_sphere_waits_and_is_named() -> None:
    fields = {"prescription.L.cylinder": "-0.75", "prescription.L.prism.1.base": "in"}

    assert fitting_with_fields(EMPTY, fields).prescription == Prescription()
    assert set(missing_fields(fields)) == {"prescription.L.sphere", "prescription.L.prism.1.amount"}


def test_a_pair_that_has_only_readings_is_there() -> None:
    reading = Reading(measurement="lens_height", value=34.0, text="34", pair=2)
    fitting = Fitting(person=EMPTY.person, taken=EMPTY.taken, readings=(reading,))

    assert fitting_with_fields(fitting, {}).pairs == (Pair(pair=2, kind="own_frame"),)


def test_what_was_said_at_the_start_stays_unless_it_is_cleared() -> None:
    fitting = Fitting(person=EMPTY.person, taken=Taken(on="2026-10-02", room_light="normal"))

    assert fitting_with_fields(fitting, {}).taken.room_light == "normal"
    assert fitting_with_fields(fitting, {"taken.room_light": ""}).taken.room_light is None


def test_an_unknown_path_is_an_error() -> None:
    with pytest.raises(UnknownField):
        fitting_with_fields(EMPTY, {"prescription.M.sphere": "1"})


def test_a_field_is_named_with_pair_and_side() -> None:
    assert label_at("pair.2.prescription.L.sphere") == "Pair 2, patient's left, Sphere"

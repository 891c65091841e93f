"""What somebody said is right is taken as true while its value stands, and is not asked about at the next visit."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.catalogue.catalogue import MEASUREMENTS
from app.fitting.working import working_values
from app.plausibility.confirmed import carried_over, confirmed_readings
from app.plausibility.finding import Severity, Subject
from app.plausibility.fingerprint import place_of, readings_in
from app.plausibility.judge import judge
from tests.plausibility.case import case
from tests.plausibility.examples_of_expected_bands import UNUSUAL

OUTSIDE = "outside-expected-band"
CIRCUMFERENCE = Subject(measurement="head_circumference")


@dataclass(frozen=True)
class Answer:
    """An answer as the records keep it."""

    check: str
    fingerprint: str
    kind: str = "right_because"
    words: str | None = "measured twice"


def said_right(answers: Sequence[Answer], **face: float) -> frozenset[Subject]:
    return confirmed_readings(answers, working_values(case(**face).fitting))


def test_a_confirmed_reading_is_noted_and_no_longer_asked_about() -> None:
    # given a head much longer round than it is wide, which is asked about
    asked = next(one for one in judge(UNUSUAL.fitting).findings if one.check == OUTSIDE)
    assert asked.severity is Severity.ASK
    # when somebody says that it is right
    answer = Answer(asked.check, asked.fingerprint)
    confirmed = confirmed_readings([answer], judge(UNUSUAL.fitting).working)
    # then it is taken as true
    assert confirmed == {CIRCUMFERENCE}
    found = [one for one in judge(UNUSUAL.fitting, confirmed=confirmed).findings if one.check == OUTSIDE]
    assert [one.severity for one in found] == [Severity.NOTE]
    assert found[0].fingerprint == asked.fingerprint
    assert "Confirmed" in found[0].message


def test_what_was_said_of_one_value_does_not_hold_for_another() -> None:
    answer = Answer("usual-range", "head_width=168")
    assert said_right([answer], head_width=168) == {Subject(measurement="head_width")}
    assert said_right([answer], head_width=169) == frozenset()


def test_a_finding_on_two_readings_confirms_both_or_none() -> None:
    answer = Answer("head-temple-width", "head_width=168;temple_width=154")
    assert len(said_right([answer], head_width=168, temple_width=154)) == 2
    assert said_right([answer], head_width=168, temple_width=150) == frozenset()


def test_measured_again_or_referred_is_no_confirmation() -> None:
    answers = [Answer("usual-range", "head_width=168", kind) for kind in ("measured_again", "referred")]
    assert said_right(answers, head_width=168) == frozenset()


@pytest.mark.parametrize(
    "fingerprint",
    [
        "lens_width.pair 2=60",
        "prescription.written=2024-01-01",
        "pd_distance.pupil_gauge=63;previous.pd_distance=60 mm",
        "history.prosthetic_eye",
        "",
    ],
)
def test_only_readings_of_the_face_are_carried_to_the_next_visit(fingerprint: str) -> None:
    assert list(carried_over([Answer("any", fingerprint)])) == []


def test_a_confirmed_reading_of_the_face_is_carried_to_the_next_visit() -> None:
    answer = Answer("usual-range", "pd_monocular.R=39")
    assert list(carried_over([answer, replace(answer, kind="measured_again")])) == [answer]


subjects = st.builds(
    Subject,
    measurement=st.sampled_from(sorted(MEASUREMENTS)),
    side=st.sampled_from([None, "R", "L"]),
    pair=st.sampled_from([None, 1, 2]),
    method=st.sampled_from([None, "rule", "pupil_gauge", "fellow_eye_covered"]),
)


@given(subjects, st.floats(-99, 999).map(lambda value: f"{value:g}"))
def test_a_place_in_a_fingerprint_is_read_back_as_it_was_written(subject: Subject, number: str) -> None:
    assert readings_in(f"{place_of(subject)}={number}") == ((subject, number),)

"""The finding that a reading does not fit the others: its words, offers, and its place among the other checks."""

from dataclasses import replace

from app.fitting.fitting import Fitting
from app.fitting.working import working_values
from app.plausibility.expectation_check import expectation_findings
from app.plausibility.facts import Facts
from app.plausibility.finding import Finding, Severity, Subject
from app.plausibility.judge import judge
from app.practice.settings import PracticeSettings
from tests.plausibility.expected_face import box, ordinary_fitting, subject

SETTINGS = PracticeSettings()
OUTSIDE = "outside-expected-band"


def found_in(fitting: Fitting, confirmed: frozenset[Subject] = frozenset()) -> list[Finding]:
    judgement = judge(fitting, SETTINGS, confirmed=confirmed)
    return [one for one in judgement.raw if one.check in (OUTSIDE, "confirmed-contradict")]


def test_the_finding_names_the_suspect_and_says_what_the_others_make_likely() -> None:
    (finding,) = found_in(ordinary_fitting({box("length_to_tangent", "R"): 120}))
    assert finding.severity is Severity.ASK
    assert finding.suspect == subject("length_to_tangent", "R")
    assert "of 120 mm does not fit" in finding.message
    assert "“Length to bend”" in finding.message
    assert "the other side" in finding.message
    assert finding.offers[0].corrections == ((subject("length_to_tangent", "R"), 102),)


def test_an_ordinary_face_raises_nothing() -> None:
    assert found_in(ordinary_fitting()) == []


def test_two_boxes_exchanged_are_one_finding_about_both() -> None:
    changed = {box("head_width"): 133.0, box("temple_width"): 143.0}
    (finding,) = found_in(ordinary_fitting(changed))
    assert {about.measurement for about in finding.about} == {"head_width", "temple_width"}


def test_a_confirmed_reading_raises_nothing_more_about_itself() -> None:
    fitting = ordinary_fitting({box("head_circumference"): 645})
    assert [one.suspect for one in found_in(fitting)] == [subject("head_circumference")]
    confirmed = frozenset({subject("head_circumference")})
    assert subject("head_circumference") not in [one.suspect for one in found_in(fitting, confirmed)]


def test_contradictory_confirmed_readings_are_said_once_as_a_note() -> None:
    fitting = ordinary_fitting({box("pd_monocular", "L"): 39})
    confirmed = frozenset(
        {
            subject("pd_monocular", "R"),
            subject("pd_monocular", "L"),
            subject("pd_distance", method="rule"),
            subject("pd_distance", method="pupil_gauge"),
        }
    )
    (finding,) = found_in(fitting, confirmed)
    assert finding.check == "confirmed-contradict"
    assert finding.severity is Severity.NOTE
    assert "contradict each other" in finding.message


def test_an_answer_holds_only_for_the_value_it_was_given_for() -> None:
    first = found_in(ordinary_fitting({box("head_width"): 165}))[0]
    same = found_in(ordinary_fitting({box("head_width"): 165, box("lid_aperture", "R"): 10}))[0]
    other = found_in(ordinary_fitting({box("head_width"): 168}))[0]
    assert first.fingerprint == same.fingerprint
    assert first.fingerprint != other.fingerprint


def test_a_practice_that_switches_it_off_hears_nothing() -> None:
    fitting = ordinary_fitting({box("head_width"): 165})
    judgement = judge(fitting, replace(SETTINGS, expected_bands=False))
    assert OUTSIDE not in [one.check for one in judgement.raw]


def test_the_findings_by_themselves_are_those_of_the_judge() -> None:
    fitting = ordinary_fitting({box("head_width"): 165})
    facts = Facts(fitting, SETTINGS, working_values(fitting))
    (alone,) = expectation_findings(facts)
    (judged,) = found_in(fitting)
    assert (alone.check, alone.suspect, alone.message) == (judged.check, judged.suspect, judged.message)

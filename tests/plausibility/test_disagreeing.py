"""Readings that do not agree never feed another check by their mean; an answered stop holds nothing back."""

from dataclasses import dataclass

import pytest

from app.fitting.fitting import Fitting
from app.plausibility.answers import open_findings
from app.plausibility.finding import Finding, Severity
from app.plausibility.judge import judge
from tests.plausibility.case import case


@dataclass(frozen=True)
class Given:
    """An answer as the records keep it."""

    check: str
    fingerprint: str
    kind: str = "right_because"
    words: str | None = "measured three times, the head moves"


def named(fitting: Fitting, check: str) -> list[Finding]:
    """What one check found and shows."""
    return [one for one in judge(fitting).findings if one.check == check]


def held(fitting: Fitting) -> dict[str, str | None]:
    """Names of what was held back, with what holds each."""
    return {one.check: one.held_back_by for one in judge(fitting).held_back}


@pytest.mark.parametrize(
    ("check", "readings"),
    [
        # means of 5.25, 9, 11.75 and 11 lie near the other eye's; the furthest readings do not
        ("pupils-unequal", {"pupil_horizontal": ([3.5, 7], 5)}),
        ("lids-unequal", {"lid_aperture": ([7.5, 10.5], 9.5)}),
        ("irises-unequal", {"iris_diameter": ([10.5, 13], 11.8)}),
        ("lash-projection-sides", {"lash_projection": ([9, 13], 11)}),
        # three that do not agree, of which the middle one lies near
        ("pupils-unequal", {"pupil_horizontal": (5, [3, 5, 7])}),
        # both eyes unsettled: the furthest apart of either
        ("pupils-unequal", {"pupil_horizontal": ([4, 5], [4.5, 5.2])}),
    ],
)
def test_a_referral_does_not_disappear_behind_the_mean_of_readings_that_disagree(
    check: str, readings: dict[str, object]
) -> None:
    (finding,) = named(case(**readings).fitting, check)
    assert finding.severity is Severity.REFER
    assert "do not agree yet" in finding.message


def test_a_pupil_with_a_lid_is_referred_by_the_worst_of_both() -> None:
    # pupils 0.5 apart at the most, lids 1.5 apart at the most: refer from 0.5 with 1 mm of the lids
    fitting = case(pupil_horizontal=(4, 4.5), lid_aperture=([9, 10.5], 9)).fitting
    (finding,) = named(fitting, "pupils-unequal")
    assert finding.severity is Severity.REFER


def test_repeats_that_agree_are_judged_by_their_mean_as_before() -> None:
    # 3.5 and 4 agree within 0.5: mean 3.75, which is 1.25 from 5 (refer) and 0.75 from 4.5 (a note)
    (finding,) = named(case(pupil_horizontal=([3.5, 4], 5)).fitting, "pupils-unequal")
    assert (finding.severity, "1.25 mm apart." in finding.message) == (Severity.REFER, True)
    (finding,) = named(case(pupil_horizontal=([3.5, 4], 4.5)).fitting, "pupils-unequal")
    assert finding.severity is Severity.NOTE


def test_a_third_reading_that_settles_it_takes_the_referral_away() -> None:
    assert named(case(pupil_horizontal=([3.5, 7, 3.5], 3.5)).fitting, "pupils-unequal") == []


def test_no_other_check_is_shown_on_the_mean_of_readings_that_disagree() -> None:
    # given a head width of 137 or 149, mean 143, beside a temple width of 145
    fitting = case(head_width=[137, 149], temple_width=145).fitting
    # then only the disagreement is shown, and what was found on the mean waits for it
    assert {one.check for one in judge(fitting).findings} & {"head-temple-width", "usual-range"} == set()
    assert held(fitting)["head-temple-width"] == "repeats-disagree"


def test_a_reading_beyond_belief_is_named_even_while_its_repeat_disagrees() -> None:
    (stop,) = named(case(pd_distance={"rule": [63, 635]}).fitting, "usual-range")
    assert stop.severity is Severity.STOP
    assert "635 mm" in stop.message


def test_readings_that_disagree_do_not_make_the_others_unexpected() -> None:
    fitting = case(
        head_width=[120, 176], temple_width=137, head_circumference=562, head_diagonal=(160, 160)
    ).fitting
    assert named(fitting, "outside-expected-band") == []


def test_once_the_disagreement_is_answered_its_mean_is_judged() -> None:
    fitting = case(head_width=[137, 149], temple_width=145).fitting
    (disagreement,) = named(fitting, "repeats-disagree")
    judgement = judge(fitting, answers=[Given(disagreement.check, disagreement.fingerprint)])
    assert "head-temple-width" in {one.check for one in judgement.findings}
    assert "head-temple-width" not in {one.check for one in judgement.held_back}


def test_what_a_stop_held_back_is_asked_once_the_stop_is_answered() -> None:
    # given a swap of the two bridge widths, entered twice, that holds back the angle they do not fit
    fitting = case(bridge_width_10=[23.5, 23.5], bridge_width_15=[19.5, 19.5], frontal_angle=(24, 24)).fitting
    (stop,) = named(fitting, "bridge-widths-order")
    assert held(fitting)["frontal-angle-widths"] == "bridge-widths-order"
    # when the practitioner says that it is right
    answers = [Given(stop.check, stop.fingerprint)]
    judgement = judge(fitting, answers=answers)
    # then the angle is asked about, and the stop itself stays on the record as answered
    assert "frontal-angle-widths" in {one.check for one in open_findings(judgement, answers)}
    assert stop.check in {one.check for one in judgement.findings}
    assert stop.check not in {one.check for one in open_findings(judgement, answers)}


def test_an_answer_to_a_stop_that_was_not_entered_again_releases_nothing() -> None:
    fitting = case(bridge_width_10=23.5, bridge_width_15=19.5, frontal_angle=(24, 24)).fitting
    (stop,) = named(fitting, "bridge-widths-order")
    judgement = judge(fitting, answers=[Given(stop.check, stop.fingerprint)])
    assert "frontal-angle-widths" in {one.check for one in judgement.held_back}


def test_a_note_does_not_say_what_it_costs_to_ignore_it() -> None:
    (note,) = named(case(head_width=148.3).fitting, "off-scale-step")
    assert "If ignored" not in note.suggest
    assert note.suggest == "Nothing needs doing; the value is kept as entered."

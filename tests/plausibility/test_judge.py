"""Root causes first: one finding for one slip, and answers that hold only for the values they were given for."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date

import pytest

from app.fitting.fitting import Fitting
from app.fitting.reading import EnteredInError, Reading
from app.optics.refusal import NotPossible
from app.plausibility.check import Seen
from app.plausibility.facts import Facts
from app.plausibility.families import CHECKS
from app.plausibility.finding import Severity, Subject
from app.plausibility.judge import about_reading, judge
from tests.plausibility.case import SQUINT_KNOWN, case, covered, eye, handmade, own_frame, prescribed

RECORD = {"missing-without-reason", "both-sides-equal"}


def checks(fitting: Fitting) -> list[str]:
    """Names of what was found, without what every small fitting lacks."""
    return [one.check for one in judge(fitting).findings if one.check not in RECORD]


def held(fitting: Fitting) -> dict[str, str | None]:
    """Names of what was held back, with the check that holds each."""
    return {one.check: one.held_back_by for one in judge(fitting).held_back}


def test_a_swapped_pair_raises_one_finding_and_not_five() -> None:
    # given bridge widths in each other's box, with the angle and radius of the face
    swapped = case(
        bridge_width_10=23.5, bridge_width_15=19.5, frontal_angle=(24, 24), apical_radius=8, crest_height=6
    ).fitting
    # then only the swap is shown, and what depends on the widths waits
    assert checks(swapped) == ["bridge-widths-order"]
    assert held(swapped) == {
        "usual-range": "bridge-widths-order",
        "frontal-angle-widths": "bridge-widths-order",
        "radius-widths": "bridge-widths-order",
        "outside-expected-band": "bridge-widths-order",
    }


def test_a_number_that_cannot_be_right_by_itself_goes_before_two_that_do_not_go_together() -> None:
    # given an iris of 1.15, a lost decimal place, so that the pupil is larger than it
    slip = case(iris_diameter=(1.15, 11.5), pupil_horizontal=(4, 4)).fitting
    # then the iris is the cause, although the pupil's check is a stop as well
    assert checks(slip) == ["usual-range"]
    assert held(slip)["pupil-iris"] == "usual-range"


def test_a_stop_leaves_alone_what_does_not_depend_on_it() -> None:
    slip = case(head_circumference=56.2, head_width=148, frontal_angle=(19, 28)).fitting
    assert checks(slip) == ["usual-range", "frontal-angle-sides"]


def test_a_near_pd_in_doubt_does_not_hide_what_the_distance_pds_say() -> None:
    slip = case(
        pd_distance={"pupil_gauge": 63}, pd_monocular=(31.5, 34.5), pd_near=64, working_distance=40
    ).fitting
    assert set(checks(slip)) == {
        "near-not-below-far",
        "single-eye-pds-sum",
        "single-eye-pds-differ",
        "outside-expected-band",
    }
    assert held(slip) == {
        "near-pd-expected": "near-not-below-far",
        "outside-expected-band": "near-not-below-far",
    }


def test_one_stray_repeat_beyond_belief_is_named_and_does_not_hold_back_the_others() -> None:
    # given 635 typed once among good repeats: the rule of two readings leaves it out, but it must be struck through
    fitting = case(pd_distance={"rule": [63, 63.5, 635]}, pd_near=64, working_distance=40).fitting
    assert set(checks(fitting)) == {"usual-range", "near-not-below-far"}


def test_a_reading_entered_in_error_is_not_judged() -> None:
    fitting = case(head_circumference=56.2).fitting
    error = EnteredInError(by="A. Practitioner", at="2026-10-02T10:00:00Z", reason="centimetres")
    struck = replace(fitting, readings=(replace(fitting.readings[0], entered_in_error=error),))
    assert checks(struck) == []


def test_what_has_to_be_seen_by_the_practitioner_comes_first() -> None:
    fitting = case(
        pupil_horizontal=(3, 4.5), head_circumference=56.2, frontal_angle=(19, 28), side_angle=(9, 11)
    ).fitting
    severities = [one.severity for one in judge(fitting).findings]
    assert severities == sorted(severities, key=["refer", "stop", "ask", "note"].index)
    assert severities[0] is Severity.REFER


def test_an_answer_is_tied_to_the_values_it_was_given_for() -> None:
    first = judge(case(frontal_angle=(19, 28)).fitting).findings
    again = judge(case(frontal_angle=(19, 28), head_width=148).fitting).findings
    other = judge(case(frontal_angle=(19, 29)).fitting).findings

    def fingerprint(findings: tuple[object, ...]) -> str:
        return next(one.fingerprint for one in findings if one.check == "frontal-angle-sides")  # type: ignore[attr-defined]

    assert fingerprint(first) == fingerprint(again)
    assert fingerprint(first) != fingerprint(other)


def test_a_finding_says_what_to_do_and_what_it_costs_to_ignore_it() -> None:
    (finding,) = [
        one
        for one in judge(case(frontal_angle=(19, 28)).fitting).findings
        if one.check == "frontal-angle-sides"
    ]
    assert finding.message == "Frontal angle right 19°, left 28°: 9° apart."
    assert "If ignored:" in finding.suggest
    assert finding.source


def test_a_box_shows_the_findings_on_its_own_side() -> None:
    judgement = judge(case(length_to_tangent=(102, 120)).fitting)
    right = {one.check for one in about_reading(judgement, "length_to_tangent", "R")}
    left = {one.check for one in about_reading(judgement, "length_to_tangent", "L")}
    assert {"length-to-tangent-sides"} == right - RECORD
    assert {"length-to-tangent-sides", "usual-range", "outside-expected-band"} == left - RECORD


def test_dates_are_judged_on_the_day_that_is_given() -> None:
    fitting = case(head_width=148).fitting
    assert "measured-long-ago" not in {one.check for one in judge(fitting).findings}
    later = judge(fitting, today=date(2027, 1, 1)).findings
    assert "measured-long-ago" in {one.check for one in later}


def test_a_planned_pair_is_judged_like_a_measured_one() -> None:
    fitting = case(pairs=(handmade(lens_width=90, distance_between_lenses=18), own_frame())).fitting
    (stop,) = [one for one in judge(fitting).findings if one.check == "usual-range"]
    assert stop.about == (Subject("lens_width", pair=1),)


def test_the_swapped_offer_puts_both_right() -> None:
    fitting = case(head_width=137, temple_width=148).fitting
    (finding,) = [one for one in judge(fitting).findings if one.check == "head-temple-width"]
    wanted = {subject.measurement: value for subject, value in finding.offers[0].corrections}
    assert wanted == {"head_width": 148, "temple_width": 137}
    corrected = tuple(
        Reading(measurement=name, value=value, text=f"{value:g}") for name, value in wanted.items()
    )
    assert checks(replace(fitting, readings=corrected)) == []


def test_in_a_squint_the_near_pd_is_not_compared_with_the_rule() -> None:
    fitting = case(
        cover=covered(SQUINT_KNOWN), pd_distance={"rule": 58, "pupil_gauge": 63}, pd_near=59
    ).fitting
    assert "near-not-below-far" not in checks(fitting)


@pytest.mark.parametrize(
    ("sphere", "tested_at_mm", "slip_mm"),
    # effectivity F / (1 - x F): at 1 = x F the light already meets the line at the eye (any optics text)
    [(-10.0, 12.0, 130), (9.5, 120.0, 13), (10.0, 112.0, 12)],
)
def test_a_vertex_distance_with_no_lens_of_the_same_effect_is_still_asked_about(
    sphere: float, tested_at_mm: float, slip_mm: float
) -> None:
    prescription = prescribed(eye(sphere), eye(sphere), tested_at_mm=tested_at_mm)
    worn = case(prescription=prescription, pairs=(own_frame(),), on_pair_2={"vertex_distance": slip_mm})
    planned = case(prescription=prescription, pairs=(handmade(vertex_mm=slip_mm),))
    for one in (worn, planned):
        (seen,) = one.seen_by("vertex-strong-lens")
        assert seen.severity is Severity.ASK
        assert "no sphere there has the same effect" in seen.message


@pytest.mark.parametrize("error", [NotPossible("no such lens"), ZeroDivisionError(), OverflowError()])
def test_a_check_that_cannot_be_worked_out_is_named_and_the_others_still_speak(
    error: Exception, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(facts: Facts) -> Iterator[Seen]:
        raise error

    monkeypatch.setitem(CHECKS, "heavy-lenses", replace(CHECKS["heavy-lenses"], find=fails))
    found = judge(case(head_circumference=56.2).fitting).findings
    (note,) = (one for one in found if one.check == "could-not-judge")
    assert note.severity is Severity.NOTE
    assert note.message == "“Strong lenses in a wide frame” could not be worked out from these numbers."
    assert "usual-range" in {one.check for one in found}


def test_an_index_that_no_lens_has_is_named_and_never_takes_the_page_down() -> None:
    pairs = (handmade(index=16, lens_width=50, distance_between_lenses=18),)
    lenses = case(prescription=prescribed(eye(-6.0), eye(-6.0)), pd_monocular=(31, 31), pairs=pairs).fitting
    notes = [one.message for one in judge(lenses).findings if one.check == "could-not-judge"]
    assert notes == ["“Edge of a minus lens” could not be worked out from these numbers."]

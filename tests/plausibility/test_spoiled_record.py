"""A record with eleven planted faults: each is found, one finding for each cause, and knock-ons wait for it.

The faults were planted in the first patient's readings; which check should catch which was written down
beforehand. The first slips' own knock-on findings are listed as held back.
"""

from collections import Counter
from dataclasses import replace

import pytest

from app.fitting.fitting import Fitting
from app.fitting.fitting_file import read_fitting
from app.plausibility.finding import Finding, Severity
from app.plausibility.judge import judge
from tests.plausibility.demo_files import demo_document

ASK, NOTE, STOP, REFER = Severity.ASK, Severity.NOTE, Severity.STOP, Severity.REFER
Found = tuple[Severity, str, str]

FOUND: list[Found] = [
    (STOP, "bridge-widths-order", "bridge_width_10"),  # 23.5 and 19.5 stand in each other's box
    (STOP, "head-temple-width", "head_width"),  # 137 and 148 too
    # 63.5 is not below the rule's 63.5 and the gauge's 63, though it is below the two eyes' 66
    (STOP, "near-not-below-far", "pd_near"),
    (ASK, "single-eye-pds-sum", "pd_distance"),  # left single-eye PD 34.5 for 31.5
    (ASK, "pd-with-pair-on", "pd_worn"),
    (NOTE, "single-eye-pds-differ", "pd_monocular"),
    (ASK, "usual-range", "length_to_tangent"),  # left 120 for 102
    (ASK, "length-to-tangent-sides", "length_to_tangent"),
    (ASK, "tangent-bend", "length_to_tangent"),
    (ASK, "segment-height-lens", "segment_height"),  # 16 and 23
    (ASK, "segment-height-lid", "segment_height"),
    (ASK, "segment-heights-differ", "segment_height"),
    (ASK, "usual-range", "bridge_projection"),  # +13 for +3
    (STOP, "usual-range", "head_circumference"),  # 56.2 for 562
    (STOP, "usual-range", "iris_diameter"),  # 1.15 for 11.5
    (STOP, "lash-room", "vertex_distance"),  # 9.5 with lashes of 9
    (REFER, "pupils-unequal", "pupil_horizontal"),  # 3.5 and 5: a real finding, not a slip
]
FOUND_BESIDES: list[Found] = [
    # +13 makes an outset of 11.5, which no sheet of 6 holds
    (ASK, "sheet-projection", "bridge_projection"),
    # 34.5 lies 1.5 outside the middle of the planned lens
    (ASK, "decentration", "lens_width"),
    # 23 is above the usual 22 besides being above the lid
    (NOTE, "usual-range", "segment_height"),
    # what all other readings together make of four of the faults, each named as the reading to take again
    (ASK, "outside-expected-band", "length_to_tangent"),
    (ASK, "outside-expected-band", "segment_height"),
    (ASK, "outside-expected-band", "pd_monocular"),
    (ASK, "outside-expected-band", "bridge_projection"),
]
HELD_BACK: dict[str, list[Found]] = {
    "bridge-widths-order": [
        (NOTE, "usual-range", "bridge_width_10"),
        (ASK, "frontal-angle-widths", "bridge_width_10"),
        (NOTE, "radius-widths", "bridge_width_10"),
        (ASK, "outside-expected-band", "bridge_width_10"),
    ],
    "head-temple-width": [
        # 120 for 102 at one ear makes 4.6 in the mean of the two diagonals
        (NOTE, "diagonal-widths-length", "head_diagonal"),
        (NOTE, "front-temple-width", "lens_width"),
        (ASK, "ordered-widths", "head_width"),
        (ASK, "outside-expected-band", "temple_width"),
    ],
    "near-not-below-far": [
        (ASK, "near-pd-expected", "pd_near"),
        (ASK, "outside-expected-band", "pd_near"),
    ],
    "lash-room": [(NOTE, "usual-range", "vertex_distance")],
    "usual-range": [
        (ASK, "circumference-head-width", "head_circumference"),
        (NOTE, "off-scale-step", "head_circumference"),
        (NOTE, "off-scale-step", "iris_diameter"),
        (STOP, "pupil-iris", "pupil_horizontal"),
        (ASK, "lids-iris", "lid_aperture"),
        # only the right iris was spoiled, so the two differ as well
        (REFER, "irises-unequal", "iris_diameter"),
        (ASK, "outside-expected-band", "head_circumference"),
        (ASK, "outside-expected-band", "iris_diameter"),
    ],
}


@pytest.fixture(scope="module")
def spoiled() -> Fitting:
    """The record with its eleven faults."""
    return read_fitting(demo_document("spoiled"))


def placed(finding: Finding) -> Found:
    """A finding by severity, check, and what it is about first."""
    return finding.severity, finding.check, finding.about[0].measurement


def test_each_planted_fault_is_found_and_nothing_besides_what_is_listed(spoiled: Fitting) -> None:
    assert Counter(map(placed, judge(spoiled).findings)) == Counter(FOUND) + Counter(FOUND_BESIDES)


def test_what_follows_from_a_fault_waits_for_it(spoiled: Fitting) -> None:
    held = judge(spoiled).held_back
    for name, expected in HELD_BACK.items():
        waiting = [placed(finding) for finding in held if finding.held_back_by == name]
        assert Counter(waiting) == Counter(expected)
    assert {finding.held_back_by for finding in held} == set(HELD_BACK)


def test_the_raw_findings_are_those_shown_and_those_that_wait(spoiled: Fitting) -> None:
    expected = FOUND + FOUND_BESIDES + [one for waiting in HELD_BACK.values() for one in waiting]
    assert Counter(map(placed, judge(spoiled).raw)) == Counter(expected)


@pytest.mark.parametrize(
    ("check", "about", "words"),
    [
        ("usual-range", "head_circumference", "Did you mean 562? (centimetres?)"),
        ("usual-range", "iris_diameter", "Did you mean 11.5?"),
        ("usual-range", "length_to_tangent", "120 or 102?"),
        ("length-to-tangent-sides", "length_to_tangent", "120 or 102?"),
        ("bridge-widths-order", "bridge_width_10", "Swapped? 19.5 mm and 23.5 mm"),
        ("head-temple-width", "head_width", "Swapped? 148 mm and 137 mm"),
    ],
)
def test_the_likely_cause_is_offered_first(spoiled: Fitting, check: str, about: str, words: str) -> None:
    findings = [one for one in judge(spoiled).findings if placed(one)[1:] == (check, about)]
    assert [one.offers[0].words for one in findings] == [words]


@pytest.mark.parametrize(
    ("check", "measurement", "side"),
    [
        ("single-eye-pds-sum", "pd_monocular", "L"),
        ("length-to-tangent-sides", "length_to_tangent", "L"),
        ("segment-heights-differ", "segment_height", "L"),
    ],
)
def test_the_reading_to_take_again_first_is_named(
    spoiled: Fitting, check: str, measurement: str, side: str
) -> None:
    (finding,) = [one for one in judge(spoiled).findings if one.check == check]
    assert finding.suspect is not None
    assert (finding.suspect.measurement, finding.suspect.side) == (measurement, side)


def test_taking_up_every_offer_leaves_only_what_has_none(spoiled: Fitting) -> None:
    """Offers are taken up one after the other, judging again after each: one slip can hide another."""
    fitting = spoiled
    for _ in range(20):
        offers = [
            offer for one in judge(fitting).findings if one.severity != NOTE for offer in one.offers[:1]
        ]
        offer = next((offer for offer in offers if offer.corrections), None)
        if offer is None:
            break
        wanted = {(subject.measurement, subject.side): value for subject, value in offer.corrections}
        fitting = replace(
            fitting,
            readings=tuple(
                replace(one, value=wanted.get((one.measurement, one.side), one.value))
                for one in fitting.readings
            ),
        )
    left = {placed(one)[1:] for one in judge(fitting).raw if one.severity is not NOTE}
    assert left == {
        ("pupils-unequal", "pupil_horizontal"),
        ("near-not-below-far", "pd_near"),
        ("near-pd-expected", "pd_near"),
        ("single-eye-pds-sum", "pd_distance"),
        ("pd-with-pair-on", "pd_worn"),
        ("decentration", "lens_width"),
        # the bands offer 1.3 for 13, a decimal point, which then fits
        ("outside-expected-band", "segment_height"),
        ("outside-expected-band", "pd_monocular"),
        ("outside-expected-band", "pd_near"),
        ("segment-height-lens", "segment_height"),
        ("segment-height-lid", "segment_height"),
        ("segment-heights-differ", "segment_height"),
        ("lash-room", "vertex_distance"),
    }

"""PDs against one another: two methods, two eyes, far and near, off the face and with the pair on."""

from collections.abc import Iterator

from app.optics.near_centration import near_pd
from app.plausibility.check import Seen, above, check, swapped
from app.plausibility.facts import GAUGE, RULE, Facts
from app.plausibility.finding import Offer, Severity, Subject
from app.plausibility.slips import exchanged_offers
from app.plausibility.value import Value, amount, rounded
from app.plausibility.wording import PRISM_COST
from app.reference.bibliography import ARENAS_2014, COMMON_PRACTICE, GANTZ_2021, MCMAHON_2012

ASK, NOTE, STOP = Severity.ASK, Severity.NOTE, Severity.STOP
FAMILY = "pupil distances"
MILLIMETRES_IN_A_CENTIMETRE = 10


@check(
    "single-eye-pds-sum",
    family=FAMILY,
    title="Single-eye PDs against the PD",
    looks_at="right and left single-eye PD added up, and the PD (pupil gauge, else the rule, "
    "but not the rule in a squint)",
    why="It is the same distance measured twice, so the two have to agree.",
    limits="note above 0.5 mm, ask above 1.0 mm",
    suggest="Measure the two eyes again from the crest mark.",
    cost=PRISM_COST,
    source=f"{COMMON_PRACTICE}; repeats of a PD lie within about 1 mm ({MCMAHON_2012})",
    severities=(NOTE, ASK),
)
def single_eye_pds_sum(facts: Facts) -> Iterator[Seen]:
    """R + L − PD."""
    total, pd = facts.single_eye_sum, facts.pd
    if total is None or pd is None or pd.subject.measurement == "pd_monocular":
        return
    apart = abs(total.number - pd.number)
    severity = above(apart, note=0.5, ask=1.0)
    if severity is not None:
        right, left = total.parts
        yield Seen(
            severity=severity,
            on=(pd, right, left),
            message=f"Single-eye PDs {right} and {left} add up to {total}, {amount(apart)} from the PD of {pd}.",
            suspect=_odd_eye(right, left, pd),
        )


def _odd_eye(right: Value, left: Value, pd: Value) -> Subject | None:
    """The eye that lies further from half of the PD, if one clearly does."""
    off_right, off_left = (abs(eye.number - pd.number / 2) for eye in (right, left))
    if abs(off_right - off_left) < 1:
        return None
    return right.subject if off_right > off_left else left.subject


@check(
    "rule-against-gauge",
    family=FAMILY,
    title="PD by rule against PD by gauge",
    looks_at="the distance PD by both methods; left out where a squint is recorded",
    why="Trained hands find the rule 0.6 mm above the gauge on average, 95 % within −0.7 to +1.9 mm.",
    limits="note above 1.0 mm, ask above 2.0 mm",
    suggest="Take a third reading, and say which of the two is used.",
    cost=PRISM_COST,
    source=str(MCMAHON_2012),
    severities=(NOTE, ASK),
)
def rule_against_gauge(facts: Facts) -> Iterator[Seen]:
    """Rule − gauge, unless a squint makes the rule wrong by design."""
    rule, gauge = facts.value("pd_distance", method=RULE), facts.value("pd_distance", method=GAUGE)
    if facts.squint or rule is None or gauge is None:
        return
    apart = abs(rule.number - gauge.number)
    severity = above(apart, note=1.0, ask=2.0)
    if severity is not None:
        yield Seen(
            severity=severity,
            on=(rule, gauge),
            message=f"The rule reads {rule} and the gauge {gauge}, {amount(apart)} apart.",
            suspect=facts.unusual_one(rule, gauge),
            offers=exchanged_offers(rule, gauge),
        )


@check(
    "near-pd-expected",
    family=FAMILY,
    title="Near PD against the PD",
    looks_at="near PD, PD and working distance",
    why="Looking near turns both eyes inward by an amount that the working distance settles: "
    "near PD = PD × distance / (distance + 27 mm).",
    limits="note above 1.0 mm, ask above 2.0 mm from what is expected",
    suggest="Check the working distance, and take the near PD again.",
    cost="A segment set in wrongly narrows the reading field.",
    source=f"similar triangles, 27 mm from lens to centre of rotation (Jalie, Ophthalmic Lenses and Dispensing); "
    f"near about 3 mm narrower ({GANTZ_2021})",
    severities=(NOTE, ASK),
)
def near_pd_expected(facts: Facts) -> Iterator[Seen]:
    """Near PD − PD · w / (w + s)."""
    near, pd, distance = facts.value("pd_near"), facts.pd, facts.value("working_distance")
    if near is None or pd is None or distance is None or distance.number <= 0:
        return
    expected = near_pd(
        distance_pd_mm=pd.number,
        object_from_lens_mm=distance.number * MILLIMETRES_IN_A_CENTIMETRE,
        lens_to_rotation_centre_mm=facts.settings.adjustments.centre_of_rotation_mm,
    )
    severity = above(abs(near.number - expected), note=1.0, ask=2.0)
    if severity is not None:
        yield Seen(
            severity=severity,
            on=(near, pd, distance),
            message=f"Near PD {near}; with a PD of {pd} about {rounded(expected)} is expected at {distance}.",
            suspect=facts.unusual_one(near, pd, distance),
        )


@check(
    "near-not-below-far",
    family=FAMILY,
    title="Near PD not below the distance PD",
    looks_at="near PD against every distance PD, off the face and with the pair on",
    why="Both eyes turn inward to look near, so the near PD is always the smaller.",
    limits="stop where a near PD is not below every distance PD, whether off the face or with a pair on; those "
    "taken with both eyes open are left out where a squint is recorded",
    suggest="See whether near and distance stand in each other's box.",
    cost="Near lenses centred for distance, or the other way round.",
    source=f"geometry; about 3 mm between them in 199 adults ({GANTZ_2021})",
    severities=(STOP,),
)
def near_not_below_far(facts: Facts) -> Iterator[Seen]:
    """Near ≥ far."""
    near = facts.value("pd_near")
    if near is not None:
        yield from _not_below(near, facts.far_pds)
    for pair in facts.pairs:
        worn_near = pair.worn_near_pd
        if worn_near is not None:
            yield from _not_below(worn_near, facts.far_pds)


def _not_below(near: Value, far: list[Value]) -> Iterator[Seen]:
    reached = [value for value in far if near.number >= value.number]
    if not reached:
        return
    single = [value for value in reached if not value.parts]
    shown = dict.fromkeys(str(value) for value in reached)
    yield Seen(
        severity=STOP,
        on=(near, *reached),
        message=f"Near PD {near} is not below the distance PD of {' and '.join(shown)}.",
        suspect=near.subject,
        offers=(
            *(swapped(near, value) for value in single[:1] if near.number > value.number),
            Offer(words="Distance PD typed in the near box?"),
        ),
        root=(near.subject,),
    )


@check(
    "single-eye-pds-differ",
    family=FAMILY,
    title="Right and left single-eye PD",
    looks_at="right against left single-eye PD",
    why="Small differences are the rule; a large one means a nose off centre, or an instrument held askew.",
    limits="note above 2 mm, ask above 4 mm, stop above 8 mm",
    suggest="Is the nose off centre? Take both again from the crest mark, or confirm.",
    cost=PRISM_COST,
    source=f"{COMMON_PRACTICE}; 79 % of 1,262 adults had some difference ({ARENAS_2014})",
    severities=(NOTE, ASK, STOP),
)
def single_eye_pds_differ(facts: Facts) -> Iterator[Seen]:
    """R − L."""
    both = facts.both("pd_monocular")
    if both is None:
        return
    right, left = both
    apart = abs(right.number - left.number)
    severity = above(apart, note=2, ask=4, stop=8)
    if severity is not None:
        suspect = _odd_eye(right, left, facts.pd) if facts.pd is not None else None
        yield Seen(
            severity=severity,
            on=both,
            message=f"Single-eye PD right {right}, left {left}: {amount(apart)} apart.",
            suspect=suspect or facts.unusual_one(right, left),
            offers=exchanged_offers(right, left),
        )


@check(
    "pd-with-pair-on",
    family=FAMILY,
    title="PD with the pair on against the single-eye PDs",
    looks_at="PD marked with the pair on, and the two single-eye PDs added up",
    why="A pair that sits sideways, or a slip, shows as a different PD.",
    limits="note above 0.5 mm, ask above 1.0 mm",
    suggest="Is the pair sitting level and central? True it, and mark again.",
    cost=PRISM_COST,
    source=COMMON_PRACTICE,
    severities=(NOTE, ASK),
)
def pd_with_pair_on(facts: Facts) -> Iterator[Seen]:
    """PD worn − (R + L)."""
    total = facts.single_eye_sum
    if total is None:
        return
    for pair in facts.pairs:
        worn = pair.worn_pd
        apart = abs(worn.number - total.number) if worn is not None else 0.0
        severity = above(apart, note=0.5, ask=1.0)
        if worn is not None and severity is not None:
            right, left = total.parts
            yield Seen(
                severity=severity,
                on=(worn, right, left),
                message=f"PD with pair {pair.number} on {worn}; "
                f"the single-eye PDs {right} and {left} add up to {total}.",
                suspect=_odd_eye(right, left, worn),
            )

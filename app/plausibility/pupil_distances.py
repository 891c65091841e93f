"""PDs against one another: two methods, two eyes, far and near, off the face and with the pair on."""

from collections.abc import Iterator

from app.plausibility import geometry
from app.plausibility.check import Seen, above, check, swapped
from app.plausibility.facts import COVERED, GAUGE, RULE, Facts
from app.plausibility.finding import Offer, Severity, Subject
from app.plausibility.slips import exchanged_offers
from app.plausibility.value import Value, amount, rounded
from app.reference.bibliography import ARENAS_2014, COMMON_PRACTICE, GANTZ_2021, MCMAHON_2012

ASK, NOTE, STOP = Severity.ASK, Severity.NOTE, Severity.STOP
FAMILY = "pupil distances"
PRISM_COST = "A lens centred wrong gives unwanted prism: strain, swim, in high powers double vision."


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
    "squint-shift",
    family=FAMILY,
    title="Rule with both eyes open in a squint",
    looks_at="the rule's PD against the single-eye PDs, and the deviation found at distance",
    why="A turned eye's pupil is carried sideways, about 0.1 mm for each prism dioptre, so the rule with both eyes "
    "open is wrong by design.",
    limits="shown as information wherever a squint is recorded and both were taken",
    suggest="Use the covered single-eye values; the rule's reading is only kept.",
    cost=PRISM_COST,
    source="geometry: a prism dioptre is 1 in 100, and the pupil turns about a centre some 10.5 mm behind it "
    "(from memory of schematic eyes)",
    severities=(NOTE,),
)
def squint_shift(facts: Facts) -> Iterator[Seen]:
    """Rule − (R + L), and what the deviation would make it."""
    rule, total = facts.value("pd_distance", method=RULE), facts.single_eye_sum
    if not facts.squint or rule is None or total is None:
        return
    found = rule.number - total.number
    message = f"The rule reads {rule}, the two single eyes add up to {total}: {amount(found)} apart."
    far = facts.fitting.cover_test.distance
    if far is not None and far.finding == "manifest" and far.size and far.direction in ("in", "out"):
        sign = 1 if far.direction == "out" else -1
        expected = sign * geometry.squint_shift_mm(deviation_prism=far.size)
        message += f" About {rounded(expected)} is expected with the squint recorded."
    yield Seen(severity=NOTE, on=(rule, *total.parts), message=message)


@check(
    "squint-not-covered",
    family=FAMILY,
    title="Single-eye PDs in a squint without covering",
    looks_at="whether each single-eye PD was taken with the other eye covered, where a squint is recorded",
    why="With both eyes open the turned eye does not look straight ahead.",
    limits="ask where a single-eye PD is not marked as taken with the other eye covered",
    suggest="Cover the other eye and take each single-eye PD again.",
    cost=PRISM_COST,
    source=COMMON_PRACTICE,
    severities=(ASK,),
)
def squint_not_covered(facts: Facts) -> Iterator[Seen]:
    """A squint, and a single-eye PD taken with both eyes open."""
    if not facts.squint:
        return
    eyes = (facts.value("pd_monocular", "R"), facts.value("pd_monocular", "L"))
    uncovered = [eye for eye in eyes if eye and COVERED not in (eye.subject.method, eye.condition)]
    if uncovered:
        shown = " and ".join(str(eye) for eye in uncovered)
        yield Seen(
            severity=ASK,
            on=tuple(uncovered),
            message=f"A squint is recorded, and the single-eye PD of {shown} is not marked “other eye covered”.",
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
    expected = geometry.near_pd_mm(
        distance_pd_mm=pd.number,
        working_distance_mm=distance.number * 10,
        centre_of_rotation_mm=facts.settings.adjustments.centre_of_rotation_mm,
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
    limits="stop where the near PD is not below a distance PD; the rule is left out where a squint is recorded",
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
        worn, worn_near = pair.worn_pd, pair.worn_near_pd
        if worn is not None and worn_near is not None:
            yield from _not_below(worn_near, [worn])


def _not_below(near: Value, far: list[Value]) -> Iterator[Seen]:
    reached = [value for value in far if near.number >= value.number]
    if not reached:
        return
    single = [value for value in reached if not value.parts]
    yield Seen(
        severity=STOP,
        on=(near, *reached),
        message=f"Near PD {near} is not below the distance PD of {', '.join(str(value) for value in reached)}.",
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


@check(
    "pd-without-method",
    family=FAMILY,
    title="A distance PD without its method in a squint",
    looks_at="distance PDs whose method was not recorded, where a squint is recorded",
    why="In a squint only a PD taken eye by eye can be used, and this one does not say how it was taken.",
    limits="note where a squint is recorded and a distance PD has no method",
    suggest="Say how it was taken; until then it is not compared with anything.",
    cost=PRISM_COST,
    source=COMMON_PRACTICE,
    severities=(NOTE,),
)
def pd_without_method(facts: Facts) -> Iterator[Seen]:
    """A PD that cannot be judged in a squint."""
    unnamed = [value for value in facts.all("pd_distance") if value.subject.method is None]
    if facts.squint and unnamed:
        yield Seen(
            severity=NOTE,
            on=tuple(unnamed),
            message=f"A squint is recorded, and the distance PD of {unnamed[0]} does not say how it was taken.",
        )

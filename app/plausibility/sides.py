"""The sides: right against left, and the facial length against that of the second pair."""

from collections.abc import Iterator

from app.catalogue.measurement import SIDE_WORDS, SIDES
from app.plausibility import geometry
from app.plausibility.check import Seen, above, check
from app.plausibility.facts import Facts, declared
from app.plausibility.finding import Severity
from app.plausibility.slips import exchanged_offers
from app.plausibility.value import amount, rounded
from app.reference.bibliography import COMMON_PRACTICE, ISO_8624

ASK, NOTE = Severity.ASK, Severity.NOTE
FAMILY = "sides"
LENGTH_COST = "A side too short pulls the front in; one too long lets it slide, and bends off the ear."


def _sides_differ(facts: Facts, measurement: str, *, note: float, ask: float) -> Iterator[Seen]:
    both = facts.both(measurement)
    if both is None:
        return
    right, left = both
    apart = abs(right.number - left.number)
    severity = above(apart, note=note, ask=ask)
    if severity is not None:
        suspect = facts.unusual_one(right, left)
        yield Seen(
            severity=severity,
            on=both,
            message=f"{declared(right).label} right {right}, left {left}: {amount(apart, right.unit)} apart.",
            suspect=suspect,
            offers=exchanged_offers(right, left, suspect),
        )


@check(
    "length-to-tangent-sides",
    family=FAMILY,
    title="Length to tangent right and left",
    looks_at="right against left length to tangent, both in or both out where a hearing aid is worn",
    why="Ears differ by a few millimetres; more is one ear set back, or a slip.",
    limits="note above 2 mm, ask above 5 mm",
    suggest="Measure both again from the same plane.",
    cost=LENGTH_COST,
    source=COMMON_PRACTICE,
    severities=(NOTE, ASK),
)
def length_to_tangent_sides(facts: Facts) -> Iterator[Seen]:
    """R − L length to tangent."""
    yield from _sides_differ(facts, "length_to_tangent", note=2, ask=5)


@check(
    "side-angle-sides",
    family=FAMILY,
    title="Angle of side right and left",
    looks_at="right against left angle of side, and the difference in ear height that it means",
    why="The lower ear needs the larger angle: 1° is about 1.75 mm at 100 mm.",
    limits="note above 1.5°, ask above 4°",
    suggest="Is one ear lower by about so much? Look from the front, head straight.",
    cost="Equal angles on unequal ears, or the reverse, and the front sits askew.",
    source=f"geometry: length × tan of the difference; limits: {COMMON_PRACTICE}",
    severities=(NOTE, ASK),
)
def side_angle_sides(facts: Facts) -> Iterator[Seen]:
    """R − L angle of side, and what it means at the ear."""
    both = facts.both("side_angle")
    if both is None:
        return
    right, left = both
    apart = abs(right.number - left.number)
    severity = above(apart, note=1.5, ask=4)
    if severity is None:
        return
    lower = SIDES[0] if right.number > left.number else SIDES[1]
    length = facts.value("length_to_tangent", lower)
    message = f"Angle of side right {right}, left {left}: {amount(apart, 'deg')} apart"
    if length is not None:
        drop = geometry.ear_height_difference_mm(length_to_tangent_mm=length.number, difference_deg=apart)
        message += f", as if the {SIDE_WORDS[lower]} ear were about {rounded(drop)} lower"
    yield Seen(severity=severity, on=both, message=message + ".", suspect=facts.unusual_one(right, left))


@check(
    "drop-angle-sides",
    family=FAMILY,
    title="Angle behind the ear right and left",
    looks_at="right against left angle of the drop",
    why="Posture, hair or a hearing aid make a difference; so does a slip.",
    limits="note above 5°, ask above 10°",
    suggest="Hair, or a hearing aid? Measure both again.",
    cost="A drop that does not follow the ear loosens the side or presses.",
    source=COMMON_PRACTICE,
    severities=(NOTE, ASK),
)
def drop_angle_sides(facts: Facts) -> Iterator[Seen]:
    """R − L drop angle."""
    yield from _sides_differ(facts, "drop_angle", note=5, ask=10)


@check(
    "tangent-bend",
    family=FAMILY,
    title="Length to tangent against length to bend",
    looks_at="facial length to tangent less the length to bend of the pair that is worn",
    why="They differ by the distance from the front to the joint, about 10 mm, if the pair fits.",
    limits="note below 6 or above 13 mm, ask below 4 or above 16 mm",
    suggest="Was the side measured from the joint and the face from the front? Does the pair fit?",
    cost=LENGTH_COST,
    source=f"{ISO_8624} takes off 10 mm from front to joint; limits: {COMMON_PRACTICE}",
    severities=(NOTE, ASK),
)
def tangent_bend(facts: Facts) -> Iterator[Seen]:
    """Length to tangent − length to bend."""
    for pair in facts.pairs:
        for side in SIDES:
            tangent = facts.value("length_to_tangent", side)
            bend = pair.reading("length_to_bend", side)
            if tangent is None or bend is None or pair.handmade:
                continue
            more = tangent.number - bend.number
            severity = above(more, note=13, ask=16) or above(-more, note=-6, ask=-4)
            if severity is not None:
                yield Seen(
                    severity=severity,
                    on=(tangent, bend),
                    message=f"Length to tangent {tangent}, length to bend of pair {pair.number} {bend}, "
                    f"{SIDE_WORDS[side]}: {amount(more)} from front to joint, 6 to 13 mm is usual.",
                    suspect=facts.unusual_one(tangent, bend),
                )


@check(
    "hearing-aid-lengths",
    family=FAMILY,
    title="Length with a hearing aid",
    looks_at="hearing aids named on the person's page, and the conditions of the lengths to tangent",
    why="A case behind the ear moves the place where the side rests.",
    limits="note where a hearing aid is worn on a side whose length was not taken with it in",
    suggest="Take the length once with the aid in and once with it out.",
    cost=LENGTH_COST,
    source=COMMON_PRACTICE,
    severities=(NOTE,),
    holds_back=False,
)
def hearing_aid_lengths(facts: Facts) -> Iterator[Seen]:
    """A hearing aid, and a length without saying whether it was in."""
    worn = facts.history("hearing_aids")
    for side in SIDES:
        lengths = facts.all("length_to_tangent", side)
        if worn not in (side, "both") or not lengths:
            continue
        if not any(value.condition == "hearing_aid_in" for value in lengths):
            yield Seen(
                severity=NOTE,
                on=tuple(lengths),
                message=f"A hearing aid is worn on the {SIDE_WORDS[side]}; the length of {lengths[0]} was not "
                "taken with it in.",
            )

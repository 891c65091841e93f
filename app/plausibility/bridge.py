"""The bridge: two widths, the angles, the radius and the projection against one another."""

from collections.abc import Iterator

from app.frame.bridge_section import apical_radius_from_width, frontal_angle_from_widths
from app.plausibility.check import Seen, above, check, exceeds, swapped
from app.plausibility.facts import Facts, declared
from app.plausibility.finding import Offer, Severity
from app.plausibility.slips import exchanged_offers
from app.plausibility.value import Value, rounded
from app.reference.bibliography import COMMON_PRACTICE, FACE_MODEL_SIMULATION, RAO_2023

ASK, NOTE, STOP = Severity.ASK, Severity.NOTE, Severity.STOP
FAMILY = "bridge"
BRIDGE_COST = (
    "A bridge cut to widths and angles that disagree bears on two points: it rocks, slips or cuts in."
)
RADIUS_NOTE_MM, RADIUS_ASK_MM = 3, 6
UPPER_LEVEL_MM = 10.0
"""The upper of the two bridge widths is taken this far below the crest: the trade's definition."""
DIAMETER_WITHIN_MM = 1.0
"""Half of the reading lies this near to the implied radius: it may be a diameter. Common practice."""
STEEPEST_FRONTAL_DEG = 80
"""Beyond this the arc between the flanks has no sense."""


@check(
    "bridge-widths-order",
    family=FAMILY,
    title="Bridge widths at 10 and 15 mm",
    looks_at="bridge width 10 mm and 15 mm below the crest",
    why="Noses widen downwards, so the lower width is the larger.",
    limits="ask where they are equal, stop where the lower is the smaller",
    suggest="See whether the two stand in each other's box; else take both again, 10 first.",
    cost="A bridge made upside down sits on the tip of its flanks.",
    source="teaching notes on facial measurement: the width at 10 must be less than the width at 15 "
    "(knowt.com/flashcards/9b6d31fb-1cf0-443b-b937-647e1ccbaab6)",
    severities=(ASK, STOP),
)
def bridge_widths_order(facts: Facts) -> Iterator[Seen]:
    """Width 15 ≤ width 10."""
    upper, lower = facts.value("bridge_width_10"), facts.value("bridge_width_15")
    if upper is None or lower is None or lower.number > upper.number:
        return
    equal = lower.number == upper.number
    yield Seen(
        severity=ASK if equal else STOP,
        on=(upper, lower),
        message=f"Bridge width is {upper} at 10 and {lower} at 15 mm below the crest; "
        "the lower is usually 2 to 7 mm more.",
        offers=() if equal else (swapped(upper, lower),),
    )


@check(
    "frontal-angle-widths",
    family=FAMILY,
    title="Frontal angle against the two widths",
    looks_at="mean frontal angle, and the angle that the two widths make: arctan((width 15 − width 10) / 10)",
    why="The two widths already settle the angle of the flanks; a whole angle, or one from the horizontal, "
    "shows here.",
    limits="note above 5°, ask above 8°",
    suggest="Is the angle from the vertical, one side only? Are the widths 10 and 15 below the crest?",
    cost=BRIDGE_COST,
    source=f"geometry of two flanks 5 mm apart in height; angles repeat to about 2° ({RAO_2023})",
    severities=(NOTE, ASK),
)
def frontal_angle_widths(facts: Facts) -> Iterator[Seen]:
    """arctan((w15 − w10) / 10) − mean frontal angle."""
    upper, lower, angle = (
        facts.value("bridge_width_10"),
        facts.value("bridge_width_15"),
        facts.mean("frontal_angle"),
    )
    if upper is None or lower is None or angle is None:
        return
    implied = frontal_angle_from_widths(upper_width_mm=upper.number, lower_width_mm=lower.number)
    severity = above(abs(implied - angle.number), note=5, ask=8)
    if severity is not None:
        yield Seen(
            severity=severity,
            on=(upper, lower, angle),
            message=f"Widths {upper} and {lower} make a frontal angle of {rounded(implied, 'deg')}; "
            f"{rounded(angle.number, 'deg')} was read.",
            suspect=None if angle.parts else facts.unusual_one(upper, lower, angle),
            offers=_whole_angle(angle, implied),
        )


def _whole_angle(angle: Value, implied: float) -> tuple[Offer, ...]:
    """The usual mistakes: both flanks together, or from the horizontal."""
    words = []
    if abs(angle.number / 2 - implied) <= 5:
        words.append("Both sides together? Half of it fits the widths")
    if abs(90 - angle.number - implied) <= 5:
        words.append("Read from the horizontal? 90° less it fits the widths")
    return tuple(Offer(words=each) for each in words)


@check(
    "radius-widths",
    family=FAMILY,
    title="Apical radius against widths and angle",
    looks_at="apical radius, and the radius of an arc that joins the two flanks: "
    "(width 10 − 20 tan f) / (2 (sec f − tan f)), f the mean frontal angle",
    why="The arc gives the size roughly: a real crest is no arc between straight flanks, so only large differences "
    "count, above all a diameter written for a radius.",
    limits="note above 3 mm; ask above 6 mm, or where the reading is above the usual range, half of it in it, and "
    "half fits",
    suggest="Radius or diameter? Lay the disc on again at the tilt of the bridge.",
    cost="A regular bridge with the wrong radius bears on the crest alone, or on the flanks alone.",
    source=f"geometry; that crest and widths are hardly related comes from a {FACE_MODEL_SIMULATION}",
    severities=(NOTE, ASK),
)
def radius_widths(facts: Facts) -> Iterator[Seen]:
    """Implied radius − radius."""
    width, angle, radius = (
        facts.value("bridge_width_10"),
        facts.mean("frontal_angle"),
        facts.value("apical_radius"),
    )
    if width is None or angle is None or radius is None or not abs(angle.number) < STEEPEST_FRONTAL_DEG:
        return
    implied = apical_radius_from_width(
        width_mm=width.number, depth_mm=UPPER_LEVEL_MM, frontal_angle_deg=angle.number
    )
    apart = abs(implied - radius.number)
    diameter = exceeds(apart, RADIUS_NOTE_MM) and _looks_like_a_diameter(facts, radius, implied)
    severity = ASK if diameter else above(apart, note=RADIUS_NOTE_MM, ask=RADIUS_ASK_MM)
    if severity is not None:
        half = radius.number / 2
        yield Seen(
            severity=severity,
            on=(width, angle, radius),
            message=f"Apical radius {radius}; width {width} with flanks at {rounded(angle.number, 'deg')} "
            f"would make about {rounded(implied)}.",
            suspect=radius.subject if diameter else None,
            offers=(
                Offer(words=f"A diameter? Radius {rounded(half)}", corrections=((radius.subject, half),)),
            )
            if diameter
            else (),
        )


def _looks_like_a_diameter(facts: Facts, radius: Value, implied_mm: float) -> bool:
    """Too large for a usual radius, while half of it is a usual one and fits.

    Half alone says nothing: an arc much smaller than the radius is found on one honest nose in seven.
    """
    usual, half = facts.limits("apical_radius").usual, radius.number / 2
    fits = abs(half - implied_mm) <= DIAMETER_WITHIN_MM
    return fits and radius.number > usual.high and usual.holds(half)


def _sides_differ(facts: Facts, measurement: str) -> Iterator[Seen]:
    both = facts.both(measurement)
    if both is None:
        return
    right, left = both
    apart = abs(right.number - left.number)
    severity = above(apart, note=4, ask=8)
    if severity is not None:
        yield Seen(
            severity=severity,
            on=both,
            message=f"{declared(right).label} right {right}, left {left}: {rounded(apart, 'deg')} apart.",
            suspect=facts.unusual_one(right, left),
            offers=exchanged_offers(right, left),
        )


@check(
    "frontal-angle-sides",
    family=FAMILY,
    title="Frontal angle right and left",
    looks_at="right against left frontal angle",
    why="A bent nose differs; so does a slip.",
    limits="note above 4°, ask above 8°",
    suggest="Was the nose injured? Measure both again; if it is so, sketch it and say what the front "
    "is centred on.",
    cost="Equal flanks on an uneven nose bear on one edge; uneven ones on an even nose do the same.",
    source=f"{COMMON_PRACTICE}; angles repeat to about 2° ({RAO_2023})",
    severities=(NOTE, ASK),
)
def frontal_angle_sides(facts: Facts) -> Iterator[Seen]:
    """R − L frontal angle."""
    yield from _sides_differ(facts, "frontal_angle")


@check(
    "splay-angle-sides",
    family=FAMILY,
    title="Splay angle right and left",
    looks_at="right against left splay angle",
    why="A bent nose differs; so does a slip.",
    limits="note above 4°, ask above 8°",
    suggest="Was the nose injured? Measure both again, looking along the flank; if it is so, sketch it.",
    cost="A splay that does not follow the flank bears on one edge and marks the skin.",
    source=f"{COMMON_PRACTICE}; angles repeat to about 2° ({RAO_2023})",
    severities=(NOTE, ASK),
)
def splay_angle_sides(facts: Facts) -> Iterator[Seen]:
    """R − L splay angle."""
    yield from _sides_differ(facts, "splay_angle")


@check(
    "projection-crest",
    family=FAMILY,
    title="Projection against crest height",
    looks_at="bridge projection and crest height",
    why="Low noses are flat and high noses project, so the two together show a wrong sign.",
    limits="ask where the crest lies behind the lashes and is more than 8 mm high, or lies more than 4 mm in front "
    "of them and is less than 2 mm high",
    suggest="Look from the side again: is the crest in front of the lashes, level with them, or behind?",
    cost="A wrong sign moves the whole front by twice the number: lashes brush, or the lenses stand far out.",
    source=COMMON_PRACTICE,
    severities=(ASK,),
)
def projection_crest(facts: Facts) -> Iterator[Seen]:
    """Projection < 0 with crest > 8, or projection > +4 with crest < 2."""
    projection, crest = facts.value("bridge_projection"), facts.mean("crest_height")
    if projection is None or crest is None:
        return
    behind_but_high = projection.number < 0 and exceeds(crest.number, 8)
    ahead_but_low = exceeds(projection.number, 4) and crest.number < 2
    if behind_but_high or ahead_but_low:
        where = "behind" if behind_but_high else "in front of"
        yield Seen(
            severity=ASK,
            on=(projection, crest),
            message=f"The crest is {rounded(abs(projection.number))} {where} the lashes and {crest} above the lid.",
            suspect=projection.subject,
            offers=(
                Offer(
                    words=f"The other sign? {rounded(-projection.number)}",
                    corrections=((projection.subject, -projection.number),),
                ),
            ),
        )

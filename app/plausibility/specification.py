"""What the choices for a pair lead to: shapes that cannot be, lenses that cannot be made, room that is missing."""

from collections.abc import Iterator

from app.catalogue.measurement import SIDE_WORDS, SIDES
from app.frame.lens_body import LensBody, NoLensBody
from app.frame.lens_position import least_lash_room, worked_out_vertex
from app.frame.nose_room import nose_room
from app.frame.ordered_bridge import bridge_fit, crest_height
from app.frame.ordered_front import boxed_centre_distance_of
from app.frame.outline_shape import SHAPES, longest_diameter_range, shape_outline
from app.plausibility.check import Seen, check, exceeds
from app.plausibility.facts import Facts
from app.plausibility.finding import Severity
from app.plausibility.made_lens import made_lens
from app.plausibility.pair_facts import PairFacts
from app.plausibility.value import Value, amount, rounded
from app.reference.bibliography import COMMON_PRACTICE, ISO_8624

ASK, NOTE = Severity.ASK, Severity.NOTE
FAMILY = "specification"
SHAPE_APART_MM = 6.0
"""A word is no tracing: only a longest diameter this far from the shape's own is worth a word. Ours."""
TOUCHES_MM = 0.5
PLAN_APART_MM = 3.0
"""What a bench can still set by bending and by the place of the groove. Common practice."""


@check(
    "longest-diameter",
    family=FAMILY,
    title="Longest diameter against the box",
    looks_at="lens width, lens height and the longest diameter of the lens",
    why="A lens touches all four sides of its box and nowhere leaves it.",
    limits="ask where the longest diameter is less than the longer side of the box or more than its diagonal",
    suggest="Measure the longest diameter again, or leave it blank: a shape by name or a tracing tells it too.",
    cost="The blank comes out wrong, and the lens cannot be cut from it.",
    source=f"geometry of the boxing system of {ISO_8624}",
    severities=(ASK,),
)
def longest_diameter(facts: Facts) -> Iterator[Seen]:
    """Outside the longer side and the diagonal."""
    for pair in facts.pairs:
        width, height, longest = pair.lens_width, pair.lens_height, _given_longest(pair)
        if width is None or height is None or longest is None:
            continue
        low, high = longest_diameter_range(width_mm=width.number, height_mm=height.number)
        if exceeds(low, longest.number) or exceeds(longest.number, high):
            yield Seen(
                severity=ASK,
                on=(longest, width, height),
                message=f"Pair {pair.number}: a lens {width} wide and {height} high has a longest diameter from "
                f"{rounded(low)} to {rounded(high)}, not {longest}.",
            )


def _given_longest(pair: PairFacts) -> Value | None:
    return pair.longest_diameter if pair.pair.longest_diameter_mm is not None else None


@check(
    "shape-longest-diameter",
    family=FAMILY,
    title="Shape by name against the longest diameter",
    looks_at="the longest diameter that was given, and that of the shape chosen by name in the same box",
    why="The two describe one lens; where they differ much, one of them is another lens.",
    limits=f"note where they are more than {SHAPE_APART_MM:g} mm apart",
    suggest="A tracing settles it; until then the drawing follows the longest diameter.",
    cost="Blank and edge are estimated for another shape than the one that is made.",
    source=COMMON_PRACTICE,
    severities=(NOTE,),
)
def shape_longest_diameter(facts: Facts) -> Iterator[Seen]:
    """Named shape and longest diameter."""
    for pair in facts.pairs:
        width, height, longest = pair.lens_width, pair.lens_height, _given_longest(pair)
        word = pair.pair.outline
        if width is None or height is None or longest is None or word not in SHAPES or word is None:
            continue
        if min(width.number, height.number) <= 0:
            continue
        plain = shape_outline(word, width_mm=width.number, height_mm=height.number)
        own = 2 * float((plain**2).sum(axis=1).max() ** 0.5)
        if exceeds(abs(own - longest.number), SHAPE_APART_MM):
            yield Seen(
                severity=NOTE,
                on=(longest, facts.stated(f"pair.{pair.number}.outline", word)),
                message=f"Pair {pair.number}: the longest diameter is given as {longest}; the shape by its name "
                f"would have about {rounded(own)}.",
            )


@check(
    "lens-not-possible",
    family=FAMILY,
    title="A lens that cannot be made so",
    looks_at="power, prism, front curve, index, outline and centration of each lens together",
    why="A curve can be too steep to reach the edge of a lens, and a lens too thick to settle.",
    limits="ask where no lens comes out",
    suggest="A flatter front curve, a higher index or a smaller lens makes it possible.",
    cost="The lens maker sends the order back.",
    source="geometry of spherical surfaces; exact sags",
    severities=(ASK,),
)
def lens_not_possible(facts: Facts) -> Iterator[Seen]:
    """Everything is there, and no lens comes out."""
    for pair in facts.pairs:
        for side in SIDES:
            if not pair.handmade and pair.pair.longest_diameter_mm is None:
                continue
            made = made_lens(facts, pair, side)
            if made.ordered and isinstance(made.body, NoLensBody):
                powers = [one for one in pair.powers() if one.subject.side == side]
                yield Seen(
                    severity=ASK,
                    on=(*powers, facts.stated(f"pair.{pair.number}.index", str(pair.pair.index))),
                    message=f"Pair {pair.number}, {SIDE_WORDS[side]}: {' '.join(made.body.missing)}",
                )


@check(
    "lens-over-nose",
    family=FAMILY,
    title="Lens shape against the nose",
    looks_at="the nasal edge of the lens as drawn, and the nose at the same level as all bridge readings have it",
    why="Where the lens comes nearer the midline than the nose there is no room for a rim.",
    limits="note where the lens as drawn would lie in the nose",
    suggest="More distance between the lenses, or a shape cut away at the nose: agree it, or trace the lens.",
    cost="The bench asks, or cuts the corner as it sees fit.",
    source="plane geometry; section of the nose fitted to its readings",
    severities=(NOTE,),
)
def lens_over_nose(facts: Facts) -> Iterator[Seen]:
    """Nasal edge of the lens inside the fitted flank."""
    for pair in facts.pairs:
        if not pair.handmade:
            continue
        made = made_lens(facts, pair, "R")
        sheet = made.sheet
        fit, boxed, crest = (
            bridge_fit(sheet),
            boxed_centre_distance_of(sheet).value,
            crest_height(sheet).ordered,
        )
        if fit is None or boxed is None or crest is None:
            continue
        shapes = ((side, made.outline.right_mm if side == "R" else made.outline.left_mm) for side in SIDES)
        found = [
            room
            for side, shape in shapes
            if shape is not None
            and (
                room := nose_room(
                    shape, side, fit, boxed_centre_distance_mm=boxed, crest_above_centre_line_mm=crest
                )
            )
        ]
        worst = min(found, key=lambda one: one.room_mm, default=None)
        between = pair.between_lenses
        if worst is not None and between is not None and exceeds(-worst.room_mm, 0):
            yield Seen(
                severity=NOTE,
                on=(between, facts.stated(f"pair.{pair.number}.outline", pair.pair.outline)),
                message=f"Pair {pair.number}: {rounded(worst.below_crest_mm)} below the crest the lens as drawn "
                f"lies {rounded(-worst.room_mm)} inside the nose (distance between lenses {between}).",
            )


@check(
    "lash-room-all-round",
    family=FAMILY,
    title="Lashes against the hollow of the lens",
    looks_at="vertex distance, sag of the back of the lens along the upper lid, and the lashes",
    why="Away from its centre the back comes nearer the face: lashes clear in the middle can touch outside.",
    limits="note below the practice's least room for the lashes, ask below 0.5 mm",
    suggest="More vertex distance, or a flatter back.",
    cost="Lashes brush the lens, and it is never clean.",
    source=f"exact sag of the back surface; {COMMON_PRACTICE} for the room",
    severities=(NOTE, ASK),
)
def lash_room_all_round(facts: Facts) -> Iterator[Seen]:
    """Vertex less sag less lashes, at the worst place along the upper lid."""
    least = facts.settings.adjustments.least_lash_room_mm
    for pair in facts.pairs:
        for side in SIDES:
            lashes, vertex = facts.value("lash_projection", side), pair.vertex
            if not pair.handmade or lashes is None or vertex is None:
                continue
            made = made_lens(facts, pair, side)
            if not isinstance(made.body, LensBody):
                continue
            room = least_lash_room(made.sheet, side, made.body)[0].value
            if room is not None and exceeds(least, room) and vertex.number - lashes.number >= least:
                yield Seen(
                    severity=ASK if room < TOUCHES_MM else NOTE,
                    on=(vertex, lashes),
                    message=f"Pair {pair.number}, {SIDE_WORDS[side]}: at the vertex distance of {vertex} the back "
                    f"of the lens leaves {rounded(room)} at the outer lashes; {amount(least)} is wanted.",
                )


@check(
    "vertex-planned",
    family=FAMILY,
    title="Planned vertex distance against the face",
    looks_at="the planned vertex distance, and the one that follows from lashes, clearance, tilt, rim and lens",
    why="The plan says where the lens shall stand; the bridge, the tilt and the lens say where it will.",
    limits=f"note where they are more than {PLAN_APART_MM:g} mm apart",
    suggest="Look at the projection, the front curve and the place of the bevel, or change the plan.",
    cost="In a strong lens the wearer has another power than the one tested.",
    source="plane geometry of bridge, tilt and lens; 3 mm: common practice",
    severities=(NOTE,),
)
def vertex_planned(facts: Facts) -> Iterator[Seen]:
    """Plan less what follows from the face."""
    for pair in facts.pairs:
        planned = pair.vertex
        if not pair.handmade or planned is None or planned.count > 0 or not pair.strong:
            continue
        for side in SIDES:
            made = made_lens(facts, pair, side)
            if not isinstance(made.body, LensBody):
                continue
            follows = worked_out_vertex(made.sheet, side, made.body).value
            if follows is not None and exceeds(abs(follows - planned.number), PLAN_APART_MM):
                yield Seen(
                    severity=NOTE,
                    on=(planned,),
                    message=f"Pair {pair.number}, {SIDE_WORDS[side]}: planned to stand at {planned}; by the face "
                    f"and the lens it would stand at about {rounded(follows)}.",
                )

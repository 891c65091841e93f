"""The bridge in three views: section across the nose, plan from above, and section along the middle.

Each view has its own origin. Section: the crest, seen from the front. Plan: the middle of the back of the
front, the face above, the front below, so that the wearer's right stays on the left. Side: the crest's level at the
back of the front, seen from the wearer's right, the front to the right. The three stand beside each other.
"""

from collections.abc import Iterator
from math import cos, degrees, pi, radians, sin, tan

from app.catalogue.measurement import SIDES, Side
from app.documents.bridge_values import BridgeValues, bridge_values
from app.documents.drawing import (
    BRIDGE,
    CENTRE_LINE,
    DIMENSIONS,
    FACE,
    TEXT_MM,
    Arc,
    CannotDraw,
    Circle,
    Dimension,
    Drawing,
    Line,
    Point,
    Polyline,
    Shape,
    Text,
)
from app.documents.drawing_place import moved
from app.documents.needed_for_drawing import missing_for_bridge
from app.fitting.entry import show_number
from app.frame.bridge_fit import BridgeFit
from app.frame.specification import PairSpecification

DEPTH_MM = 20.0
"""How far below the crest the section is drawn: a little below the lower of its two widths."""
LEVELS_MM = (10.0, 15.0)
RIM_IN_PLAN_MM = 7.0
"""How much of either rim is drawn in the plan."""
SHEET_DRAWN_MM = 6.0
"""Where the sheet is not chosen. Common practice: 4, 5, 6 or 8."""
BAR_MM = 6.0
PLAN_BELOW_MM = 40.0
SIDE_BESIDE_MM = 56.0
LINE_MM = 3.6


def bridge_of(specification: PairSpecification) -> Drawing:
    """The bridge of a frame to be made; of the patient's own frame, the nose that it sits on.

    Raises CannotDraw with the names of what is missing.
    """
    missing = missing_for_bridge(specification)
    values = bridge_values(specification)
    if missing or values is None:
        raise CannotDraw("The bridge", missing)
    to_make = "bridge" if values.ordered else "nose, as measured"
    return Drawing(
        title=f"Pair {specification.pair.pair}: {to_make}",
        describes=(
            "Section of the bridge across the nose with its widths 10 and 15 mm below the crest, plan with the"
            " splay, and section along the middle with the projection; at true size."
        ),
        shapes=(
            *_section(values),
            *moved(_plan(values), across_mm=0.0, up_mm=-PLAN_BELOW_MM),
            *moved(_side(values), across_mm=SIDE_BESIDE_MM, up_mm=0.0),
            *_notes(values),
        ),
    )


def _section(values: BridgeValues) -> Iterator[Shape]:
    """Across the nose: the arc of the crest and both flanks, with the ordered widths."""
    fit = values.fit
    yield from section_lines(fit, DEPTH_MM)
    yield Text(at=(0.0, 10.5), words="Across the nose, seen from the front", anchor="middle", height_mm=3.0)
    yield Text(at=(-20.0, 5.0), words="R", height_mm=3.4)
    yield Text(at=(20.0, 5.0), words="L", anchor="end", height_mm=3.4)
    for level, width in zip(LEVELS_MM, values.widths, strict=True):
        ends = [(-fit.half_width("R", level), -level), (fit.half_width("L", level), -level)]
        yield Dimension(start=ends[0], end=ends[1], away_mm=0.0, words=width)
    reach = fit.half_width("L", DEPTH_MM) + 6
    for place, level in enumerate(LEVELS_MM):
        x = reach + 7 * place
        yield Dimension(start=(x, -level), end=(x, 0.0), away_mm=0.0, words=show_number(level))
    yield Line((-fit.half_width("R", 10.0) - 3, 0.0), (reach + 9, 0.0), DIMENSIONS)
    yield Line((0.0, 3.0), (0.0, -4.0), CENTRE_LINE)
    yield Text(at=(1.0, 1.5), words=f"radius {values.radius}")
    yield from _centre_line(values, reach)
    for side in SIDES:
        sign = -1.0 if side == "R" else 1.0
        foot = (sign * fit.half_width(side, DEPTH_MM), -DEPTH_MM)
        words = f"{values.frontal[side]} from upright"
        yield Text(at=(foot[0], foot[1] - 3.2), words=words, anchor="end" if side == "R" else "start")


def _centre_line(values: BridgeValues, reach: float) -> Iterator[Shape]:
    """The horizontal centre line, as far below the crest as the crest lies above it."""
    if values.crest_up is None:
        return
    y, left = -values.crest_up, -reach - 4
    yield Line((left, y), (reach + 12, y), CENTRE_LINE)
    yield Text(at=(left - 1, y - 0.8), words="HCL", anchor="end")
    yield Text(at=(left - 1, y + 2.8), words=values.crest_words, anchor="end")


def section_lines(fit: BridgeFit, depth_mm: float) -> tuple[Arc | Line, ...]:
    """The crest's arc and both flanks, origin at the crest, down to a depth in mm."""
    right, left = radians(fit.right_angle_deg), radians(fit.left_angle_deg)
    radius = fit.radius_mm
    arc = Arc((0.0, -radius), radius, fit.left_angle_deg, degrees(pi - right), BRIDGE)
    touching = {
        side: (sign * radius * cos(angle), radius * sin(angle) - radius)
        for side, sign, angle in (("R", -1.0, right), ("L", 1.0, left))
    }
    feet: dict[Side, Point] = {
        "R": (-fit.half_width("R", depth_mm), -depth_mm),
        "L": (fit.half_width("L", depth_mm), -depth_mm),
    }
    return (Line(feet["R"], touching["R"], BRIDGE), arc, Line(touching["L"], feet["L"], BRIDGE))


def _plan(values: BridgeValues) -> Iterator[Shape]:
    """From above, cut 10 mm below the crest: how far each flank opens towards the face."""
    thick = values.sheet_mm or SHEET_DRAWN_MM
    yield Text(at=(0.0, 10.5), words="From above, cut 10 below the crest", anchor="middle", height_mm=3.0)
    yield Text(at=(0.0, 6.5), words="face", anchor="middle")
    yield Text(at=(0.0, -thick - 5.5), words="front", anchor="middle")
    reach = max(values.fit.half_width(side, 10.0) for side in SIDES) + RIM_IN_PLAN_MM
    yield Line((-reach - 2, 0.0), (reach + 2, 0.0), FACE)
    yield Text(at=(reach + 3, -0.8), words="back of the front")
    for side in SIDES:
        sign, half = (-1.0 if side == "R" else 1.0), values.fit.half_width(side, 10.0)
        angle = values.splay_deg[side]
        narrower = 0.0 if angle is None else min(thick * tan(radians(angle)), half)
        rim = (
            (half, 0.0),
            (half + RIM_IN_PLAN_MM, 0.0),
            (half + RIM_IN_PLAN_MM, -thick),
            (half - narrower, -thick),
        )
        yield Polyline(tuple((sign * x, y) for x, y in rim), BRIDGE, closed=True)
        words = "splay not given" if angle is None else f"{side} splay {show_number(round(angle, 1))}°"
        yield Text(
            at=(sign * (half + RIM_IN_PLAN_MM), -thick - 3.2),
            words=words,
            anchor="start" if side == "R" else "end",
        )
    yield from _crest_in_plan(values)


def _crest_in_plan(values: BridgeValues) -> Iterator[Shape]:
    """Where the crest stands before or behind the back of the front."""
    if values.projection is None:
        return
    at = (0.0, -values.projection)
    yield Circle(at, 0.5, BRIDGE)
    yield Line((-2.5, at[1]), (2.5, at[1]), BRIDGE)
    yield Text(at=(3.2, at[1] - 0.8), words="crest")


def _side(values: BridgeValues) -> Iterator[Shape]:
    """Along the middle, from the wearer's right: sheet, bar, and the bevel along the line of the nose."""
    thick = values.sheet_mm or SHEET_DRAWN_MM
    yield Text(
        at=(0.0, 10.5), words="Along the middle, from the wearer's right", anchor="middle", height_mm=3.0
    )
    for x in (0.0, thick):
        yield Line((x, 7.0), (x, -14.0), FACE)
    yield Text(at=(-1.0, -14.0), words="face", anchor="end")
    yield Text(at=(thick + 1.0, -14.0), words="front")
    yield Dimension(start=(0.0, -10.0), end=(thick, -10.0), away_mm=0.0, words=f"{show_number(thick)}")
    crest = values.projection or 0.0
    slope = tan(radians(values.crest_angle_deg or 0.0))
    fore = max(thick, crest + 2.0)
    bar = ((crest, 0.0), (fore, 0.0), (fore, BAR_MM), (crest - BAR_MM * slope, BAR_MM))
    yield Polyline(bar, BRIDGE, closed=True)
    nose = ((crest - 8.0 * slope, 8.0), (crest + 10.0 * slope, -10.0))
    yield Line(*nose, FACE)
    if values.projection:
        yield Dimension(start=(0.0, -5.0), end=(crest, -5.0), away_mm=0.0, words=show_number(abs(crest)))
    yield Text(at=(thick + 1.5, -5.8), words=values.projection_words)
    yield Text(at=(thick + 1.5, 2.0 if fore <= thick else 7.5), words=values.crest_angle_words)


def _notes(values: BridgeValues) -> Iterator[Shape]:
    for row, words in enumerate(values.notes):
        at = (-reach_of_notes(values), -PLAN_BELOW_MM - 19.0 - row * LINE_MM)
        yield Text(at=at, words=words, height_mm=TEXT_MM)


def reach_of_notes(values: BridgeValues) -> float:
    """Notes begin below the left end of the section."""
    return values.fit.half_width("R", DEPTH_MM) + 12

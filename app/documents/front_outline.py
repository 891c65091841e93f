"""The outside of a front to be made: rims, bridge and lugs as one closed outline, cut to the nose below the bridge.

The lenses, the nose and the width between the joints come from the specification. What no reading and no choice
says (how wide the rim, how deep the bridge, how high the lugs) is drawn by common practice and said to be so on the
drawing. Same axes as `app.frame.front_geometry`: the middle of the bridge on the horizontal centre line.
"""

from dataclasses import dataclass
from math import cos, pi, radians, sin

import shapely  # type: ignore[import-untyped]

from app.catalogue.measurement import SIDES
from app.documents.drawing import Point
from app.fitting.pair import Pair
from app.fitting.written_number import NotWritten, read_written_number
from app.frame.bridge_fit import BridgeFit
from app.frame.front_geometry import FrontDrawing
from app.frame.specification import PairSpecification

RIM_WIDTH_MM = 4.0
BRIDGE_DEPTH_MM = 5.0
THIN_BRIDGE_DEPTH_MM = 3.0
POSSIBLE_RIM_MM = (0.5, 15.0)
LUG_AT_RIM_MM, LUG_AT_JOINT_MM = 9.0, 6.0
FILLET_MM = 3.0
"""All common practice for acetate sheet; a saddle of metal or a thin bar is drawn thinner."""
KEYHOLE_CLEAR_MM = 3.0
"""How far the opening of a keyhole bridge clears the crest. Common practice, 2 to 4."""
COARSER_MM = 0.01
"""How far the outside may leave the exact offset of the lens outline; it is a sketch, the lens outline is not."""
KEYHOLE_WIDER = 1.15
"""The round head of the opening against the nose there. A sketch."""
PADS_CLEAR_MM = 1.5
"""How far the rims stay off the nose where pads bear. Common practice: about the thickness of a pad."""
PAD_MIDDLE_MM, PAD_LENGTH_MM, PAD_WIDTH_MM = 12.5, 12.0, 6.0
"""Pads are drawn half-way between the two levels at which the bridge is measured; a sketch unless their place is
written."""
BELOW_FRONT_MM = 12.0
THIN_STYLES = ("saddle", "inset_saddle")
PAD_STYLES = ("pad", "pads_on_arms")


@dataclass(frozen=True, slots=True, kw_only=True)
class FrontOutline:
    """The outline of the whole front, closed; pads where the style has them; the rim width it is drawn with."""

    outline: tuple[Point, ...]
    pads: tuple[tuple[Point, ...], ...]
    rim_mm: float
    rim_chosen: bool


def front_outline(
    specification: PairSpecification, geometry: FrontDrawing, fit: BridgeFit, *, crest_up_mm: float
) -> FrontOutline:
    """The outside of the front. Lengths mm; `crest_up_mm` is the crest above the horizontal centre line."""
    style = specification.pair.bridge_style or "regular"
    chosen = chosen_rim_width(specification.pair)
    rim = RIM_WIDTH_MM if chosen is None else chosen
    lenses = [shapely.Polygon(lens.outline) for lens in (geometry.right, geometry.left)]
    rims = [lens.simplify(COARSER_MM).buffer(rim, quad_segs=4) for lens in lenses]
    opening = _opening(fit, style, crest_up_mm, down_to=geometry.bottom - BELOW_FRONT_MM)
    bar = _bar(lenses, style, opening, crest_up_mm)
    whole = shapely.union_all([*rims, bar, *(_lug(joint) for joint in geometry.joints)])
    filled = whole.buffer(FILLET_MM, quad_segs=8).buffer(-FILLET_MM, quad_segs=8)
    cut = filled.difference(opening)
    largest = max(shapely.get_parts(cut), key=lambda part: part.area)
    return FrontOutline(
        outline=tuple(map(tuple, shapely.get_coordinates(largest.exterior)[:-1].tolist())),
        pads=_pads(fit, crest_up_mm) if style in PAD_STYLES else (),
        rim_mm=rim,
        rim_chosen=chosen is not None,
    )


def chosen_rim_width(pair: Pair) -> float | None:
    """The rim width chosen for a pair, mm; None where none was, or where words say it otherwise."""
    try:
        width = float(read_written_number(pair.choices.get("rim_width_mm", "")).number)
    except NotWritten:
        return None
    low, high = POSSIBLE_RIM_MM
    return width if low <= width <= high else None


def nose_line(fit: BridgeFit, *, crest_up_mm: float, depth_mm: float) -> tuple[Point, ...]:
    """The section of the nose from the wearer's right flank over the crest to the left one, down to a depth."""
    right, left = radians(fit.right_angle_deg), radians(fit.left_angle_deg)
    turns = 32
    arc = [pi - right + (left - pi + right) * step / turns for step in range(turns + 1)]
    centre = crest_up_mm - fit.radius_mm
    crest = [(fit.radius_mm * cos(turn), centre + fit.radius_mm * sin(turn)) for turn in arc]
    foot = crest_up_mm - depth_mm
    return (
        (-fit.half_width("R", depth_mm), foot),
        *crest,
        (fit.half_width("L", depth_mm), foot),
    )


def _opening(fit: BridgeFit, style: str, crest_up: float, *, down_to: float) -> shapely.Polygon:
    """What is cut away for the nose, open below."""
    nose = shapely.Polygon(nose_line(fit, crest_up_mm=crest_up, depth_mm=crest_up - down_to))
    if style in PAD_STYLES:
        return nose.buffer(PADS_CLEAR_MM, quad_segs=12)
    if style == "keyhole":
        radius = KEYHOLE_WIDER * max(fit.half_width("R", 4.0), fit.half_width("L", 4.0))
        return nose.union(
            shapely.Point(0.0, crest_up + KEYHOLE_CLEAR_MM - radius).buffer(radius, quad_segs=24)
        )
    return nose


def _bar(
    lenses: list[shapely.Polygon], style: str, opening: shapely.Polygon, crest_up: float
) -> shapely.Polygon:
    """The bar of the bridge: above the opening, from one lens to the other."""
    reach = max(abs(lens.centroid.x) for lens in lenses)
    depth = THIN_BRIDGE_DEPTH_MM if style in THIN_STYLES else BRIDGE_DEPTH_MM
    top = float(opening.bounds[3]) + depth
    bar = shapely.box(-reach, crest_up - depth, reach, top)
    # what would lie over a lens, or beyond one, is no bridge
    pieces = shapely.get_parts(bar.difference(shapely.MultiPolygon(lenses)))
    return next(piece for piece in pieces if piece.intersects(_midline(top)))


def _midline(top: float) -> shapely.LineString:
    return shapely.LineString([(0.0, top - 0.5), (0.0, top)])


def _lug(joint: tuple[Point, ...]) -> shapely.Polygon:
    (x0, y), (x1, _) = joint
    inner, outer = (x0, x1) if abs(x0) < abs(x1) else (x1, x0)
    back = inner + (-3.0 if inner > 0 else 3.0)
    return shapely.Polygon(
        [
            (back, y + LUG_AT_RIM_MM / 2),
            (outer, y + LUG_AT_JOINT_MM / 2),
            (outer, y - LUG_AT_JOINT_MM / 2),
            (back, y - LUG_AT_RIM_MM / 2),
        ]
    )


def _pads(fit: BridgeFit, crest_up: float) -> tuple[tuple[Point, ...], ...]:
    """Two pads lying against the flanks, seen from in front."""
    found = []
    for side in SIDES:
        angle = radians(fit.right_angle_deg if side == "R" else fit.left_angle_deg)
        sign = -1.0 if side == "R" else 1.0
        middle = (fit.half_width(side, PAD_MIDDLE_MM) + PAD_WIDTH_MM / 4, crest_up - PAD_MIDDLE_MM)
        points = []
        for step in range(36):
            turn = 2 * pi * step / 36
            along, across = PAD_LENGTH_MM / 2 * cos(turn), PAD_WIDTH_MM / 4 * sin(turn)
            x = middle[0] + along * sin(angle) + across * cos(angle)
            points.append((sign * x, middle[1] - along * cos(angle) + across * sin(angle)))
        found.append(tuple(points))
    return tuple(found)

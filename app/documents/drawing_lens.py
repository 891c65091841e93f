"""The lenses as a drawing: each outline in its blank, and the edge all round as a strip with its thickness.

Origin of either lens: its boxed centre, front view; the right lens stands on the left. The strip runs from the
nasal side over the top, the temporal side and the bottom back to the nasal side, at true length and thickness.
"""

from collections.abc import Iterator

import numpy as np

from app.catalogue.measurement import SIDES, Side
from app.documents.drawing import (
    BLANK,
    BOX,
    CENTRATION,
    DIMENSIONS,
    EDGE,
    LENS,
    CannotDraw,
    Circle,
    Drawing,
    Line,
    Point,
    Polyline,
    Shape,
    Text,
)
from app.documents.needed_for_drawing import missing_for_lenses
from app.fitting.entry import show_number
from app.fitting.written_number import NotWritten, read_written_number
from app.frame.edge_geometry import EdgeDrawing, edge_drawing
from app.frame.lens_body import LensBody
from app.frame.lens_order import EYES
from app.frame.specification import PairSpecification
from app.optics.eye import nasal_sign

BETWEEN_MM = 8.0
STRIP_STEP_MM = 13.0
QUARTERS = (("nasal", 0.0), ("above", 90.0), ("temporal", 180.0), ("below", 270.0))
LINE_MM = 3.6
CROSS_MM = 2.5
SHOWN_MM = 0.05
"""Less is shown as nothing: values are written to a tenth."""


def lenses_of(specification: PairSpecification) -> Drawing:
    """Both lenses of one pair. Raises CannotDraw with the names of what is missing."""
    missing = missing_for_lenses(specification)
    bodies = {side: body for side in SIDES if (body := specification.lens(side).body) is not None}
    if missing or len(bodies) < len(SIDES):
        raise CannotDraw("The lens sheet", missing)
    blanks = {side: blank_diameter(specification, body) for side, body in bodies.items()}
    shapes: list[Shape] = []
    half = max(blanks.values()) / 2 + BETWEEN_MM
    for side, body in bodies.items():
        middle = -half if side == "R" else half
        shapes += _lens(specification, side, body, middle=middle, blank_mm=blanks[side])
    top, thickest = -max(blanks.values()) / 2 - 10, _thickest(bodies)
    for row, (side, body) in enumerate(bodies.items()):
        shapes += _strip(side, body, top=top - row * (STRIP_STEP_MM + thickest) - thickest)
    foot = top - len(bodies) * (STRIP_STEP_MM + thickest)
    shapes += _notes(specification, bodies, foot)
    return Drawing(
        title=f"Pair {specification.pair.pair}: lenses, {SEEN}",
        describes=(
            "Each lens outline in its blank with box, optical centre and the thickest and thinnest place of its"
            " edge; the edge all round as a strip; at true size."
        ),
        shapes=tuple(shapes),
    )


SEEN = "seen from the front"


def blank_diameter(specification: PairSpecification, body: LensBody) -> float:
    """Diameter of the blank: the one asked for, else the smallest that covers the lens, mm."""
    try:
        asked = float(read_written_number(specification.pair.choices.get("blank_size", "")).number)
    except NotWritten:
        return body.smallest_blank.known
    return asked if asked > 0 else body.smallest_blank.known


def _thickest(bodies: dict[Side, LensBody]) -> float:
    return max(body.edge_thickest.known for body in bodies.values())


def _lens(
    specification: PairSpecification, side: Side, body: LensBody, *, middle: float, blank_mm: float
) -> Iterator[Shape]:
    outline = [(middle + x, y) for x, y in body.outline_mm.tolist()]
    across, up = [x for x, _ in outline], [y for _, y in outline]
    left, right, low, high = min(across), max(across), min(up), max(up)
    centre = (middle + body.optical_centre_mm[0], body.optical_centre_mm[1])
    yield Polyline(tuple(outline), LENS, closed=True)
    yield Polyline(((left, low), (right, low), (right, high), (left, high)), BOX, closed=True)
    yield Circle(centre, blank_mm / 2, BLANK)
    yield from _cross(centre, CENTRATION, CROSS_MM)
    yield from _cross((middle, 0.0), BOX, 1.2)
    yield from _places(body, middle)
    side_words = "wearer's right (R)" if side == "R" else "wearer's left (L)"
    top = max(blank_mm / 2 + centre[1], high)
    yield Text(at=(middle, top + 6), words=side_words, anchor="middle", height_mm=3.4)
    yield Text(at=(middle, top + 2), words=_blank_words(specification, body, blank_mm), anchor="middle")
    inner = right if side == "R" else left
    nasal = "nasal →" if side == "R" else "← nasal"
    yield Text(
        at=(inner + (-1.5 if side == "R" else 1.5), 1.2),
        words=nasal,
        anchor="end" if side == "R" else "start",
    )
    above = max(body.optical_centre_mm[1], 0.0) + CROSS_MM + 2.0
    yield Text(at=(middle, above), words=_centre_words(side, body), anchor="middle")


def _blank_words(specification: PairSpecification, body: LensBody, blank_mm: float) -> str:
    if blank_mm == body.smallest_blank.known:
        return f"smallest blank Ø {blank_mm:.1f}"
    return f"blank Ø {show_number(blank_mm)} as asked for; smallest {body.smallest_blank.known:.1f}"


def _cross(at: Point, layer: object, half: float) -> Iterator[Line]:
    x, y = at
    chosen = CENTRATION if layer is CENTRATION else BOX
    yield Line((x - half, y), (x + half, y), chosen)
    yield Line((x, y - half), (x, y + half), chosen)


def _places(body: LensBody, middle: float) -> Iterator[Shape]:
    """The thickest and the thinnest place of the edge, written inside the lens beside them."""
    for place, value, words in (
        (body.thickest_at_mm, body.edge_thickest.known, "thickest"),
        (body.thinnest_at_mm, body.edge_thinnest.known, "thinnest"),
    ):
        x, y = place
        yield Circle((middle + x, y), 0.7, EDGE)
        inward = 0.72
        yield Text(at=(middle + x * inward, y * inward - 0.8), words=f"{words} {value:.1f}", anchor="middle")


def _centre_words(side: Side, body: LensBody) -> str:
    """Where the optical centre lies from the boxed centre, and how thick the lens is there."""
    x, y = body.optical_centre_mm
    inward = x * nasal_sign(EYES[side])
    way = f"{abs(inward):.1f} {'in' if inward > 0 else 'out'}" if abs(inward) >= SHOWN_MM else "not decentred"
    height = f", {abs(y):.1f} {'up' if y > 0 else 'down'}" if abs(y) >= SHOWN_MM else ""
    return f"centre {way}{height}, {body.centre.known:.1f} thick"


def _strip(side: Side, body: LensBody, *, top: float) -> Iterator[Shape]:
    """The edge unrolled: a strip as long as the outline, as thick as the edge, from its lower line up."""
    edge = edge_drawing(body, EYES[side])
    start = -edge.length_mm / 2
    upper = [(start + way, top + thick) for way, thick in edge.unrolled]
    yield Polyline((*upper, (start + edge.length_mm, top), (start, top)), EDGE, closed=True)
    yield Text(at=(start - 2.0, top + 0.5), words=side, anchor="end", height_mm=3.4)
    for name, way, thick in _quarters(side, body, edge):
        x = start + way
        yield Line((x, top), (x, top - 1.5), DIMENSIONS)
        yield Text(at=(x, top - 4.2), words=f"{name} {thick:.1f}", anchor="middle")
    way, thick = edge.thickest
    yield Text(
        at=(start + way, top + thick + 1.0),
        words=f"thickest {thick:.1f}: {edge.thickest_words}",
        anchor="middle",
    )


def _quarters(side: Side, body: LensBody, edge: EdgeDrawing) -> Iterator[tuple[str, float, float]]:
    """Name, way round and thickness nasally, above, temporally and below, as seen from the boxed centre."""
    across, up = body.outline_mm[:, 0] * nasal_sign(EYES[side]), body.outline_mm[:, 1]
    turned = np.sort(np.degrees(np.arctan2(up, across)) % 360)
    ways = np.array([way for way, _ in edge.unrolled])
    thick = np.array([value for _, value in edge.unrolled])
    at = np.append(turned, 360.0 + turned[0])
    for name, angle in QUARTERS:
        yield name, float(np.interp(angle, at, ways)), float(np.interp(angle, at, thick))


def _notes(specification: PairSpecification, bodies: dict[Side, LensBody], top: float) -> Iterator[Shape]:
    lines = [
        "The edge all round, unrolled from the nasal side over the top; length and thickness at true size."
    ]
    for side, body in bodies.items():
        curve = "as chosen" if body.front_curve_chosen else "a usual starting value, not ordered"
        lines.append(
            f"{side}: index {show_number(body.order.index)}, front {body.order.front_power_d:+.2f} D ({curve}),"
            f" weight {_weight(body)}"
        )
    if not specification.outline.exact:
        lines.append(f"Outline: {specification.outline.known_by}; a tracing would be exact.")
    for row, words in enumerate(lines):
        yield Text(at=(0.0, top - row * LINE_MM), words=words, anchor="middle")


def _weight(body: LensBody) -> str:
    return "not known" if body.weight.value is None else f"{body.weight.value:.1f} g"

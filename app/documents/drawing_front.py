"""The front as a drawing: outlines, bridge, boxes with dimensions, pupils, centration points and segments.

Origin: where the middle of the bridge meets the horizontal centre line. Seen from in front, so the wearer's right
lens lies to the left, at negative x.
"""

from collections.abc import Iterator

import shapely  # type: ignore[import-untyped]

from app.documents.drawing import (
    BOX,
    BRIDGE,
    CENTRATION,
    CENTRE_LINE,
    LENS,
    PADS,
    PUPIL,
    RIM,
    SEGMENT,
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
from app.documents.drawing_place import mirrored
from app.documents.front_outline import FrontOutline, front_outline
from app.documents.needed_for_drawing import missing_for_front
from app.documents.notes_on_front import notes_on_front
from app.fitting.entry import show_number
from app.frame.front_geometry import FrontDrawing, LensDrawing, front_drawing
from app.frame.specification import PairSpecification

CROSS_MM = 2.0
"""Half a centration cross."""
STEP_MM = 6.0
"""From one dimension line to the next."""
CLEAR_OF_RIM_MM = 11.0
"""Dimension lines below the lenses stand clear of the rim."""
NOTE_STEP_MM = 3.6
SEEN_FROM_FRONT = "seen from the front"
SEEN_FROM_BEHIND = "BENCH VIEW, MIRRORED: seen from behind"


def front_of(specification: PairSpecification, *, bench_view: bool = False) -> Drawing:
    """The front of one pair. `bench_view` turns it left for right, as it lies face down, and says so.

    Raises CannotDraw with the names of what is missing.
    """
    missing = missing_for_front(specification)
    if missing:
        raise CannotDraw("The front", missing)
    geometry = front_drawing(specification)
    outline = _outline(specification, geometry)
    view = SEEN_FROM_BEHIND if bench_view else SEEN_FROM_FRONT
    number = specification.pair.pair
    shapes = (
        *_frame(outline, specification),
        *(shape for lens in (geometry.right, geometry.left) for shape in _lens(lens, specification)),
        *_whole(geometry, specification),
        *_captions(geometry, specification, outline, view),
    )
    drawing = Drawing(
        title=f"Pair {number}: front, {view}", describes=_described(specification), shapes=shapes
    )
    return mirrored(drawing, title=drawing.title, describes=drawing.describes) if bench_view else drawing


def _outline(specification: PairSpecification, geometry: FrontDrawing) -> FrontOutline | None:
    crest = specification.dimension("crest_height")
    if specification.bridge is None or crest is None or crest.ordered is None:
        return None
    return front_outline(specification, geometry, specification.bridge, crest_up_mm=crest.ordered)


def _described(specification: PairSpecification) -> str:
    sheet = specification.sheet
    sizes = (sheet.lens_width, sheet.lens_height, sheet.between_lenses)
    width, height, between = (show_number(one.known) for one in sizes)
    return (
        f"Both lens outlines {width} by {height} mm, {between} mm apart, with boxes, horizontal centre line,"
        " pupils and centration points; at true size."
    )


def _frame(outline: FrontOutline | None, specification: PairSpecification) -> Iterator[Shape]:
    if outline is None:
        return
    yield Polyline(outline.outline, RIM, closed=True)
    for pad in outline.pads:
        yield Polyline(pad, PADS, closed=True)
    crest = specification.dimension("crest_height")
    if crest is not None and crest.ordered is not None:
        yield Line((-2.0, crest.ordered), (2.0, crest.ordered), BRIDGE)
        where = "on" if not crest.ordered else "above" if crest.ordered > 0 else "below"
        amount = f" {show_number(abs(crest.ordered))}" if crest.ordered else ""
        low = min(0.0, crest.ordered)
        yield Text(at=(0.0, low - 4.0), words=f"crest{amount}", anchor="middle")
        yield Text(at=(0.0, low - 4.0 - NOTE_STEP_MM), words=f"{where} HCL", anchor="middle")


def _lens(lens: LensDrawing, specification: PairSpecification) -> Iterator[Shape]:
    if lens.box is None:
        return
    left, bottom, width, height = lens.box
    yield Polyline(lens.outline, LENS, closed=True)
    corners = (
        (left, bottom),
        (left + width, bottom),
        (left + width, bottom + height),
        (left, bottom + height),
    )
    yield Polyline(corners, BOX, closed=True)
    yield Dimension(
        start=(left, bottom),
        end=(left + width, bottom),
        away_mm=-CLEAR_OF_RIM_MM - STEP_MM,
        words=show_number(width),
    )
    yield from _nasal_side(lens.side, left, width)
    yield _cross((left + width / 2, 0.0), half=1.0, layer_is_box=True)
    yield _cross((left + width / 2, 0.0), half=1.0, layer_is_box=True, upright=True)
    if lens.pupil is not None:
        yield Circle((lens.pupil[0], lens.pupil[1]), lens.pupil[2] / 2, PUPIL)
    yield from (Polyline(part, SEGMENT) for part in _inside(lens.segment, lens.outline))
    yield from _centration(lens, bottom, height)
    yield from _height(lens, specification, bottom)


def _inside(line: tuple[Point, ...], outline: tuple[Point, ...]) -> Iterator[tuple[Point, ...]]:
    """The parts of a line that lie within an outline: what is cut away need not be drawn."""
    if len(line) < 2 or len(outline) < 3:
        return
    kept = shapely.LineString(line).intersection(shapely.Polygon(outline))
    for part in shapely.get_parts(shapely.line_merge(kept)):
        if part.geom_type == "LineString":
            yield tuple((float(x), float(y)) for x, y in part.coords)


def _nasal_side(side: str, left: float, width: float) -> Iterator[Shape]:
    inner = left + width if side == "R" else left
    away = -2.0 if side == "R" else 2.0
    words = "nasal →" if side == "R" else "← nasal"
    yield Text(at=(inner + away, 1.2), words=words, anchor="end" if side == "R" else "start")


def _cross(at: Point, *, half: float, layer_is_box: bool = False, upright: bool = False) -> Line:
    x, y = at
    layer = BOX if layer_is_box else CENTRATION
    return Line((x, y - half), (x, y + half), layer) if upright else Line((x - half, y), (x + half, y), layer)


def _centration(lens: LensDrawing, bottom: float, height: float) -> Iterator[Shape]:
    """The centration point, and its own way from the middle of the bridge."""
    if lens.centration is None:
        return
    x, up = lens.centration
    yield _cross((x, up), half=CROSS_MM)
    yield _cross((x, up), half=CROSS_MM, upright=True)
    top = bottom + height
    middle, outer = ((0.0, top), (x, top)) if x > 0 else ((x, top), (0.0, top))
    words = f"{lens.side} {show_number(round(abs(x), 1))}"
    yield Dimension(start=middle, end=outer, away_mm=STEP_MM + 2, words=words)


def _height(lens: LensDrawing, specification: PairSpecification, bottom: float) -> Iterator[Shape]:
    """The height that the lens form asks for, from the lower side of the box."""
    for name, words in (
        ("segment_height", "segment"),
        ("fitting_height", "cross"),
        ("centre_height", "centre"),
    ):
        line = specification.dimension(name, lens.side)
        if line is None or line.ordered is None or lens.centration is None:
            continue
        outward = 5.0 if lens.side == "L" else -5.0
        x = lens.centration[0] + outward
        end = (x, bottom + line.ordered)
        yield Line((x - 2, end[1]), (x + 2, end[1]), SEGMENT)
        yield Dimension(start=(x, bottom), end=end, away_mm=0.0, words=f"{words} {show_number(line.ordered)}")


def _whole(geometry: FrontDrawing, specification: PairSpecification) -> Iterator[Shape]:
    """Dimensions that belong to both lenses together, and the horizontal centre line."""
    right, left = geometry.right.box, geometry.left.box
    if right is None or left is None:
        return
    outer, inner, bottom, height = right[0], right[0] + right[2], right[1], right[3]
    end = _end_of_front(geometry)
    yield Line((-end - 2, 0.0), (end + 2, 0.0), CENTRE_LINE)
    between = Dimension(
        start=(inner, bottom),
        end=(-inner, bottom),
        away_mm=-CLEAR_OF_RIM_MM - STEP_MM,
        words=show_number(round(left[0] - inner, 4)),
    )
    centres = left[0] + left[2] / 2
    yield between
    yield Dimension(
        start=(-centres, bottom),
        end=(centres, bottom),
        away_mm=-CLEAR_OF_RIM_MM,
        words=f"boxed centres {show_number(round(2 * centres, 4))}",
    )
    yield Dimension(
        start=(outer, bottom),
        end=(outer, bottom + height),
        away_mm=end + outer + STEP_MM,
        words=show_number(height),
    )
    joints = specification.dimension("joint_width")
    if joints is not None and joints.ordered is not None and geometry.joints:
        half, up = joints.ordered / 2, bottom + height
        yield Dimension(
            start=(-half, up),
            end=(half, up),
            away_mm=2 * STEP_MM + 3,
            words=f"between the joints {show_number(round(joints.ordered, 1))}",
        )


def _end_of_front(geometry: FrontDrawing) -> float:
    """From the middle to the outermost point of the front, mm."""
    ends = [abs(x) for joint in geometry.joints for x, _ in joint]
    return max([*ends, -geometry.right.box[0] if geometry.right.box else 0.0])


def _captions(
    geometry: FrontDrawing, specification: PairSpecification, outline: FrontOutline | None, view: str
) -> Iterator[Shape]:
    box = geometry.right.box
    if box is None:
        return
    outer, bottom, top = box[0], box[1], box[1] + box[3]
    above = top + 3 * STEP_MM + 4
    yield Text(at=(outer, above), words="wearer's right (R)", height_mm=3.4)
    yield Text(at=(-outer, above), words="wearer's left (L)", anchor="end", height_mm=3.4)
    yield Text(at=(0.0, above + 4.5), words=view, anchor="middle", height_mm=3.4)
    yield Text(at=(_end_of_front(geometry) + 2.5, -0.8), words="HCL")
    below = bottom - CLEAR_OF_RIM_MM - STEP_MM - 6
    for row, words in enumerate(notes_on_front(specification, outline)):
        yield Text(at=(0.0, below - row * NOTE_STEP_MM), words=words, anchor="middle")

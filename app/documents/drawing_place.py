"""A drawing moved, or turned left for right."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from app.documents.drawing import Anchor, Arc, Circle, Dimension, Drawing, Line, Point, Polyline, Shape, Text
from app.documents.drawing_dimension import Plain, plain

MIRRORED_WORDS = {"nasal →": "← nasal", "← nasal": "nasal →"}
OTHER_END: dict[Anchor, Anchor] = {"start": "end", "middle": "middle", "end": "start"}


def moved(shapes: Iterable[Shape], *, across_mm: float, up_mm: float) -> Iterator[Shape]:
    """The shapes, moved."""

    def at(point: Point) -> Point:
        return point[0] + across_mm, point[1] + up_mm

    for shape in shapes:
        match shape:
            case Line(start, end) | Dimension(start=start, end=end):
                yield replace(shape, start=at(start), end=at(end))
            case Polyline(points):
                yield replace(shape, points=tuple(at(point) for point in points))
            case Text(at=place):
                yield replace(shape, at=at(place))
            case Arc(centre) | Circle(centre):
                yield replace(shape, centre=at(centre))


def mirrored(drawing: Drawing, *, title: str, describes: str) -> Drawing:
    """The drawing turned left for right about x = 0; words stay readable. The caller says so in the title."""
    return Drawing(
        title=title, describes=describes, shapes=tuple(_mirror(shape) for shape in plain(drawing.shapes))
    )


def _mirror(shape: Plain) -> Plain:
    match shape:
        case Line(start, end, layer):
            return Line(_turn(start), _turn(end), layer)
        case Polyline(points, layer, closed):
            return Polyline(tuple(_turn(point) for point in points), layer, closed)
        case Circle(centre, radius, layer):
            return Circle(_turn(centre), radius, layer)
        case Arc(centre, radius, start, end, layer):
            return Arc(_turn(centre), radius, 180.0 - end, 180.0 - start, layer)
        case Text():
            return _mirror_text(shape)


def _mirror_text(text: Text) -> Text:
    upright = abs(abs(text.turned_deg) - 90) < 1e-6
    # letters of an upright text rise to the left of its baseline: on the other side they must do so too
    x = -text.at[0] + (0.8 * text.height_mm if upright else 0.0)
    return Text(
        at=(x, text.at[1]),
        words=MIRRORED_WORDS.get(text.words, text.words),
        height_mm=text.height_mm,
        anchor=text.anchor if upright else OTHER_END[text.anchor],
        turned_deg=text.turned_deg if upright else -text.turned_deg,
        layer=text.layer,
    )


def _turn(point: Point) -> Point:
    return -point[0], point[1]

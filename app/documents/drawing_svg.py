"""A drawing as SVG at true size: the same bytes on the page and, embedded, on paper (W3C SVG 1.1)."""

from collections.abc import Iterable
from itertools import groupby
from xml.sax.saxutils import escape

from app.documents.drawing import Arc, Circle, Drawing, Layer, Line, Point, Polyline, Text
from app.documents.drawing_dimension import Plain, plain
from app.documents.drawing_extent import extent

MARGIN_MM = 3.0
"""Room round the drawing: a stroke that lay on the edge would be cut in half, and measure short."""
FONT = "Libertinus Serif, Georgia, serif"


def to_svg(drawing: Drawing) -> str:
    """The drawing as one SVG document, one user unit to a millimetre, y turned downwards, texts as text.

    Presentation attributes only, so that it can stand on a page whose content policy forbids styles. The same
    drawing gives the same bytes: coordinates to a thousandth of a millimetre.
    """
    shapes = tuple(plain(drawing.shapes))
    room = extent(shapes)
    page = _Page(left=room.left - MARGIN_MM, top=room.top + MARGIN_MM)
    width, height = (_number(size + 2 * MARGIN_MM) for size in (room.width, room.height))
    ordered = sorted(shapes, key=lambda shape: shape.layer.name)
    groups = (_group(layer, of_layer, page) for layer, of_layer in groupby(ordered, key=_layer))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm"'
        f' viewBox="0 0 {width} {height}" role="img" font-family="{FONT}">'
        f"<title>{escape(drawing.title)}</title><desc>{escape(drawing.describes)}</desc>"
        f"{''.join(groups)}</svg>\n"
    )


def drawing_size(drawing: Drawing) -> tuple[float, float]:
    """How wide and how high the document is, in mm, to a thousandth."""
    room = extent(drawing.shapes)
    return round(room.width + 2 * MARGIN_MM, 3), round(room.height + 2 * MARGIN_MM, 3)


class _Page:
    """From the drawing's axes to those of the page."""

    __slots__ = ("left", "top")

    def __init__(self, *, left: float, top: float) -> None:
        self.left, self.top = left, top

    def at(self, point: Point) -> str:
        return f"{_number(point[0] - self.left)} {_number(self.top - point[1])}"

    def both(self, point: Point, across: str, down: str) -> str:
        x, y = self.at(point).split(" ")
        return f'{across}="{x}" {down}="{y}"'


def _layer(shape: Plain) -> Layer:
    return shape.layer


def _group(layer: Layer, shapes: Iterable[Plain], page: _Page) -> str:
    drawn = tuple(shapes)
    texts = "".join(_text(shape, page) for shape in drawn if isinstance(shape, Text))
    strokes = "".join(_stroke(shape, page) for shape in drawn if not isinstance(shape, Text))
    dashes = f' stroke-dasharray="{" ".join(map(_number, layer.dashes_mm))}"' if layer.dashes_mm else ""
    lines = (
        f'<g data-layer="{layer.name}" fill="none" stroke="{layer.colour}"'
        f' stroke-width="{_number(layer.stroke_mm)}" stroke-linejoin="round"{dashes}>{strokes}</g>'
    )
    words = f'<g data-layer="{layer.name}" fill="{layer.colour}">{texts}</g>'
    return (lines if strokes else "") + (words if texts else "")


def _stroke(shape: Line | Polyline | Arc | Circle, page: _Page) -> str:
    match shape:
        case Line(start, end):
            return f'<path d="M{page.at(start)}L{page.at(end)}"/>'
        case Polyline(points, closed=closed):
            return f'<path d="M{"L".join(map(page.at, points))}{"Z" if closed else ""}"/>'
        case Circle(centre, radius):
            return f'<circle {page.both(centre, "cx", "cy")} r="{_number(radius)}"/>'
        case Arc():
            return _arc(shape, page)


def _arc(arc: Arc, page: _Page) -> str:
    """Counter-clockwise with y up is a sweep of 0 with y down."""
    large, radius = int(arc.end_deg - arc.start_deg > 180), _number(arc.radius)
    start, end = page.at(arc.at(arc.start_deg)), page.at(arc.at(arc.end_deg))
    return f'<path d="M{start}A{radius} {radius} 0 {large} 0 {end}"/>'


def _text(text: Text, page: _Page) -> str:
    turned = f' transform="rotate({_number(-text.turned_deg)} {page.at(text.at)})"' if text.turned_deg else ""
    anchor = f' text-anchor="{text.anchor}"' if text.anchor != "start" else ""
    size = _number(text.height_mm)
    return (
        f'<text {page.both(text.at, "x", "y")} font-size="{size}"{anchor}{turned}>{escape(text.words)}</text>'
    )


def _number(value: float) -> str:
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text

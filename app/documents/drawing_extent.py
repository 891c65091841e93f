"""How much room a drawing takes up."""

from collections.abc import Iterable
from dataclasses import dataclass
from math import cos, radians, sin

from app.documents.drawing import Arc, Circle, Line, Point, Polyline, Shape, Text
from app.documents.drawing_dimension import Plain, plain

WIDTH_OF_LETTER = 0.5
"""Mean advance of a letter as a part of its em, generous: only used to leave room."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Extent:
    """The room that shapes take up, in mm."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """From left to right."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """From bottom to top."""
        return self.top - self.bottom


def extent(shapes: Iterable[Shape]) -> Extent:
    """The room that the shapes take up, texts with a generous width. Raises ValueError for no shapes."""
    points = [point for shape in plain(shapes) for point in _corners(shape)]
    across, up = [x for x, _ in points], [y for _, y in points]
    return Extent(left=min(across), bottom=min(up), right=max(across), top=max(up))


def text_length(words: str, height_mm: float) -> float:
    """A generous guess at how long a text is, in mm."""
    return WIDTH_OF_LETTER * height_mm * len(words)


def _corners(shape: Plain) -> tuple[Point, ...]:
    match shape:
        case Line(start, end):
            return start, end
        case Polyline(points):
            return points
        case Circle((x, y), radius):
            return (x - radius, y - radius), (x + radius, y + radius)
        case Arc():
            between = (90.0 * turn for turn in range(-8, 9))
            reached = (angle for angle in between if shape.start_deg < angle < shape.end_deg)
            return tuple(shape.at(angle) for angle in (shape.start_deg, *reached, shape.end_deg))
        case Text():
            return _corners_of_text(shape)


def _corners_of_text(text: Text) -> tuple[Point, ...]:
    length = text_length(text.words, text.height_mm)
    start = {"start": 0.0, "middle": -length / 2, "end": -length}[text.anchor]
    turn = radians(text.turned_deg)
    box = [(x, y) for x in (start, start + length) for y in (-0.3 * text.height_mm, 0.8 * text.height_mm)]
    return tuple(
        (text.at[0] + x * cos(turn) - y * sin(turn), text.at[1] + x * sin(turn) + y * cos(turn))
        for x, y in box
    )

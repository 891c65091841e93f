"""Dimensions as the lines and words that they consist of, so that every renderer draws them alike."""

from collections.abc import Iterable, Iterator
from math import atan2, degrees, hypot

from app.documents.drawing import (
    DIMENSIONS,
    Arc,
    Circle,
    Dimension,
    Line,
    Point,
    Polyline,
    Shape,
    Text,
)

TICK_MM = 1.4
"""Length of the oblique stroke at either end."""
BEYOND_MM = 1.0
"""How far the lines that lead out run past the dimension line."""
CLEAR_MM = 0.8
"""How far words stand off the line. All three: usual drawing practice (ISO 129-1, from memory)."""

Plain = Line | Polyline | Arc | Circle | Text


def plain(shapes: Iterable[Shape]) -> Iterator[Plain]:
    """The shapes with every dimension drawn out."""
    for shape in shapes:
        if isinstance(shape, Dimension):
            yield from drawn_dimension(shape)
        else:
            yield shape


def drawn_dimension(dimension: Dimension) -> tuple[Line | Text, ...]:
    """Two lines leading out, the dimension line with an oblique stroke at either end, and the words."""
    (x0, y0), (x1, y1), away = dimension.start, dimension.end, dimension.away_mm
    length = hypot(x1 - x0, y1 - y0) or 1.0
    along = ((x1 - x0) / length, (y1 - y0) / length)
    left = (-along[1], along[0])

    def out(x: float, y: float, by: float) -> Point:
        return x + left[0] * by, y + left[1] * by

    start, end = out(x0, y0, away), out(x1, y1, away)
    past = away + (BEYOND_MM if away > 0 else -BEYOND_MM)
    leading = (
        []
        if abs(away) < BEYOND_MM
        else [
            Line((x0, y0), out(x0, y0, past), DIMENSIONS),
            Line((x1, y1), out(x1, y1, past), DIMENSIONS),
        ]
    )
    ticks = [_tick(point, along, left) for point in (start, end)]
    return (*leading, Line(start, end, DIMENSIONS), *ticks, _words(dimension, start, end))


def _tick(point: Point, along: Point, left: Point) -> Line:
    half = TICK_MM / 2 / 2**0.5
    x, y = half * (along[0] + left[0]), half * (along[1] + left[1])
    return Line((point[0] - x, point[1] - y), (point[0] + x, point[1] + y), DIMENSIONS)


def _words(dimension: Dimension, start: Point, end: Point) -> Text:
    """Words above a level line, to the left of an upright one, never upside down."""
    turn = degrees(atan2(end[1] - start[1], end[0] - start[0]))
    if turn > 90 + 1e-9 or turn <= -90 + 1e-9:
        turn += 180 if turn < 0 else -180
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    upright = abs(abs(turn) - 90) < 1e-6
    at = (middle[0] - CLEAR_MM, middle[1]) if upright else (middle[0], middle[1] + CLEAR_MM)
    return Text(at=at, words=dimension.words, anchor="middle", turned_deg=90.0 if upright else turn)

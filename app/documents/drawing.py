"""A drawing as plain geometry in millimetres, whatever renders it: lines, curves, dimensions, texts, layers.

x runs to the observer's right, y up; each builder states where its origin lies. Angles are in degrees,
counter-clockwise from the observer's right.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from math import cos, radians, sin
from typing import Literal

Point = tuple[float, float]
Anchor = Literal["start", "middle", "end"]
TEXT_MM = 2.6
"""Height of the letters' em: legible at arm's length on a bench. Common practice, about 7 point."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """How the lines of one meaning are drawn. `colour` is `#rrggbb`; `index` the colour number of a DXF layer."""

    name: str
    stroke_mm: float
    colour: str = "#000000"
    index: int = 7
    dashes_mm: tuple[float, ...] = ()


LENS = Layer(name="LENS", stroke_mm=0.3)
RIM = Layer(name="RIM", stroke_mm=0.45)
BRIDGE = Layer(name="BRIDGE", stroke_mm=0.35)
SIDE = Layer(name="SIDE", stroke_mm=0.35)
EDGE = Layer(name="EDGE", stroke_mm=0.3)
BLANK = Layer(name="BLANK", stroke_mm=0.25, dashes_mm=(3.0, 1.2), colour="#5a4a00", index=2)
BOX = Layer(name="BOX", stroke_mm=0.15, colour="#1f4e9c", index=5)
CENTRE_LINE = Layer(name="CENTRE_LINE", stroke_mm=0.15, dashes_mm=(6.0, 1.0, 1.0, 1.0), index=1)
PUPIL = Layer(name="PUPIL", stroke_mm=0.2, colour="#555555", index=8, dashes_mm=(1.0, 0.6))
CENTRATION = Layer(name="CENTRATION", stroke_mm=0.2, colour="#a0005a", index=6)
SEGMENT = Layer(name="SEGMENT", stroke_mm=0.25, colour="#1c6b2a", index=3, dashes_mm=(2.0, 0.8))
PADS = Layer(name="PADS", stroke_mm=0.25, dashes_mm=(1.5, 0.6))
FACE = Layer(name="FACE", stroke_mm=0.2, colour="#555555", index=8, dashes_mm=(1.0, 1.0))
DIMENSIONS = Layer(name="DIMENSIONS", stroke_mm=0.13, colour="#333333", index=8)
TEXT = Layer(name="TEXT", stroke_mm=0.13)
LAYERS = (
    *(LENS, RIM, BRIDGE, SIDE, EDGE, BLANK, BOX, CENTRE_LINE, PUPIL, CENTRATION, SEGMENT),
    *(PADS, FACE, DIMENSIONS, TEXT),
)


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line."""

    start: Point
    end: Point
    layer: Layer


@dataclass(frozen=True, slots=True)
class Polyline:
    """Straight pieces through points; closed ones do not repeat their first point."""

    points: tuple[Point, ...]
    layer: Layer
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Arc:
    """A part of a circle, counter-clockwise from start to end."""

    centre: Point
    radius: float
    start_deg: float
    end_deg: float
    layer: Layer

    def at(self, angle_deg: float) -> Point:
        """The point of the circle in that direction."""
        turn = radians(angle_deg)
        return self.centre[0] + self.radius * cos(turn), self.centre[1] + self.radius * sin(turn)


@dataclass(frozen=True, slots=True)
class Circle:
    """A whole circle."""

    centre: Point
    radius: float
    layer: Layer


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """Words whose baseline starts, is centred or ends at a point."""

    at: Point
    words: str
    height_mm: float = TEXT_MM
    anchor: Anchor = "start"
    turned_deg: float = 0.0
    layer: Layer = TEXT


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimension:
    """The way between two points, written beside a line that lies `away_mm` to the left of the way from start to
    end (negative: to the right)."""

    start: Point
    end: Point
    away_mm: float
    words: str


Stroke = Line | Polyline | Arc | Circle
Shape = Stroke | Text | Dimension


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """Shapes under a title. `describes` says in words what is seen, for those who do not see it."""

    title: str
    describes: str
    shapes: tuple[Shape, ...]


class CannotDraw(ValueError):
    """Raised where a drawing lacks something; `missing` names it."""

    def __init__(self, what: str, missing: Iterable[str]) -> None:
        """`what` is what was to be drawn, such as “the front”."""
        self.missing = tuple(dict.fromkeys(missing))
        super().__init__(f"{what} cannot be drawn, missing: {'; '.join(self.missing)}")

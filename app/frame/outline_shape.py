"""Lens shapes under the trade's words: few parameters each, scaled exactly to lens width and height.

A shape is made of two half superellipses |x/a|^p + |y/b|^p = 1 (G. Lamé; one exponent above, one below the widest
line, so that both meet upright), then swept, tapered and drawn down. An octagon is the same curve with the four
oblique sides added. Shapes are drawn for the right eye in front view (x to the observer's right, so nasal is +x);
the left lens is its mirror image. The parameters are ours: they draw what the trade word says and claim no maker's
shape; a tracing is exact, a word is not.
"""

from dataclasses import dataclass, replace
from functools import lru_cache
from math import exp, log

import numpy as np
from numpy.typing import NDArray

from app.optics.outline_size import Outline, centred_on_box
from app.optics.refusal import require_positive

POINTS = 144
"""Corner points of an outline: 2.5° apart, about a millimetre on a lens."""
LEAST_EXPONENT, LARGEST_EXPONENT = 1.3, 24.0
SETTLED_MM = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """Parameters of a shape, all without unit. Exponent 2 is an ellipse, larger is squarer.

    `widest` lifts the widest line (+) as a part of half the height. `sweep` lifts the temporal side. `taper` makes
    the lens wider above than below. `drawn_out` moves the lower part outwards. `corners` is 0, or how far out the
    oblique sides of an octagon stand (1 is a square's corner cut to a diamond, 2 leaves the square whole).
    """

    word: str
    above: float = 2.0
    below: float = 2.0
    widest: float = 0.0
    sweep: float = 0.0
    taper: float = 0.0
    drawn_out: float = 0.0
    corners: float = 0.0


SHAPES: dict[str, Shape] = {
    shape.word: shape
    for shape in (
        Shape(word="round"),
        Shape(word="oval", above=2.15, below=2.15),
        Shape(word="panto", above=2.6, below=2.05, widest=0.16, taper=0.05),
        Shape(word="square", above=4.0, below=3.4, taper=0.04),
        Shape(word="rectangle", above=5.0, below=4.5, taper=0.03),
        Shape(word="octagonal", above=16.0, below=16.0, corners=1.42),
        Shape(word="upswept", above=3.0, below=2.3, sweep=0.22, taper=0.1, widest=0.1),
        Shape(word="pilot", above=3.2, below=2.1, widest=0.12, taper=0.12, drawn_out=0.1),
    )
}
"""By the option of the catalogue's choice “Shape”. “As the tracing” is not here: it comes from the tracing."""
MEASURED = Shape(word="measured", above=2.0, below=2.0)
"""For a frame whose shape is known by three sizes only: the curve that has all three."""


@lru_cache(maxsize=512)
def shape_outline(
    word: str,
    *,
    width_mm: float,
    height_mm: float,
    longest_diameter_mm: float | None = None,
    points: int = POINTS,
) -> Outline:
    """Outline (n, 2) in mm of the right lens, its boxed centre at the origin, counter-clockwise.

    Boxed width and height are exact. With a longest diameter the fullness (both exponents) is chosen so that the
    shape has it too, as near as the shape can come. The array cannot be changed: it is shared.
    Raises NotPossible for sizes that are none, KeyError for a word that is not in SHAPES.
    """
    require_positive(width_mm, "The lens width in mm")
    require_positive(height_mm, "The lens height in mm")
    shape = MEASURED if word == MEASURED.word else SHAPES[word]
    if longest_diameter_mm is not None:
        fuller = _fullness_for(shape, width_mm, height_mm, longest_diameter_mm)
        shape = replace(shape, above=fuller * shape.above, below=fuller * shape.below)
    outline = np.asarray(unit_outline(shape, points) * np.array([width_mm / 2, height_mm / 2]))
    outline.flags.writeable = False
    return outline


@lru_cache(maxsize=128)
def unit_outline(shape: Shape, points: int = POINTS) -> Outline:
    """The outline (n, 2) of a shape in a box from −1 to +1 both ways; no unit."""
    turned = np.arange(points) * (2 * np.pi / points)
    across, up = np.cos(turned), np.sin(turned)
    exponent = np.where(up >= 0, shape.above, shape.below)
    reach = _reach(shape, np.abs(across), np.abs(up), exponent)
    across, up = across / reach, up / reach
    up = np.where(up >= 0, up * (1 - shape.widest), up * (1 + shape.widest)) + shape.widest
    temporal = np.clip(-across, -1.0, 1.0)
    across = across * (1 + shape.taper * up) - shape.drawn_out * np.square((1 - up) / 2)
    up = up + shape.sweep * (temporal + temporal**2) / 2
    outline = np.column_stack((across, up))
    centred = centred_on_box(outline)
    unit = centred / centred.max(axis=0)
    unit.flags.writeable = False
    return np.asarray(unit)


def longest_diameter_range(*, width_mm: float, height_mm: float) -> tuple[float, float]:
    """The longest diameters in mm that a lens of this box can have: from the longer side to the box's diagonal.

    Geometry: the box is touched on both sides, and no point of it lies outside.
    """
    return max(width_mm, height_mm), float(np.hypot(width_mm, height_mm))


def _reach(
    shape: Shape, across: NDArray[np.float64], up: NDArray[np.float64], exponent: NDArray[np.float64]
) -> NDArray[np.float64]:
    """How far a direction must be drawn back to lie on the curve: the norm whose unit circle the shape is."""
    total = across**exponent + up**exponent
    if shape.corners:
        total = total + ((across + up) / shape.corners) ** exponent
    return np.asarray(total ** (1 / exponent))


def _fullness_for(shape: Shape, width_mm: float, height_mm: float, longest_mm: float) -> float:
    """Factor on both exponents with which the longest diameter comes nearest to the wanted one.

    Regula falsi with halved end values (Illinois; Dowell and Jarratt 1971) over the logarithm of the factor.
    """

    def apart(factor: float) -> float:
        fuller = replace(shape, above=factor * shape.above, below=factor * shape.below)
        return _longest(fuller, width_mm, height_mm) - longest_mm

    low, high = LEAST_EXPONENT / min(shape.above, shape.below), LARGEST_EXPONENT / shape.above
    at_low, at_high = apart(low), apart(high)
    if at_low >= 0 or at_high <= 0:
        return low if at_low >= 0 else high
    low, high = log(low), log(high)
    for _ in range(60):
        middle = (low * at_high - high * at_low) / (at_high - at_low)
        at_middle = apart(exp(middle))
        if abs(at_middle) < SETTLED_MM:
            break
        if at_middle > 0:
            high, at_high, at_low = middle, at_middle, at_low / 2
        else:
            low, at_low, at_high = middle, at_middle, at_high / 2
    return exp(middle)


def _longest(shape: Shape, width_mm: float, height_mm: float) -> float:
    outline = unit_outline.__wrapped__(shape, POINTS) * np.array([width_mm / 2, height_mm / 2])
    return float(2 * np.hypot(outline[:, 0], outline[:, 1]).max())

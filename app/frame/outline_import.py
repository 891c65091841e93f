"""An outline that comes from outside: a tracing's polar radii, or a list of points; checked and made smooth.

The origin of a tracing is wherever the tracer had it; here it becomes the boxed centre. Points are front view of
the lens that the tracing says, x to the observer's right, y up, in mm (ISO 16284, from memory).
"""

import re
from itertools import pairwise

import numpy as np
import shapely  # type: ignore[import-untyped]
from numpy.typing import NDArray

from app.frame.outline_shape import POINTS
from app.optics.outline_size import Outline, centred_on_box, outline_from_radii
from app.optics.refusal import NotPossible

FEWEST_POINTS = 8
SMALLEST_MM, LARGEST_MM = 10.0, 90.0
"""A lens box is not smaller or larger. Ours, wide: the single-reading limits question a size much earlier."""
LARGEST_GAP = 0.35
"""Part of the outline's length that may lie between two points before the shape between them is a guess. Ours."""


def imported_outline(points_mm: NDArray[np.float64], points: int = POINTS) -> Outline:
    """A checked outline (n, 2) in mm, boxed centre at the origin, counter-clockwise, smooth through the points.

    Raises NotPossible, saying what is wrong, for too few points, a line that crosses itself, a shape that is no
    lens by its size, or a gap too large to draw across.
    """
    given = np.asarray(points_mm, dtype=float)
    if given.ndim != 2 or given.shape[1] != 2 or len(given) < FEWEST_POINTS:
        raise NotPossible(f"An outline needs at least {FEWEST_POINTS} points, each across and up in mm.")
    if not np.all(np.isfinite(given)):
        raise NotPossible("A point of the outline is not a number.")
    given = _without_repeats(given)
    polygon = _checked(given)
    if not polygon.exterior.is_ccw:
        given = given[::-1]
    smooth = _through(given, points) if len(given) < 4 * points else given
    _checked(smooth)
    return centred_on_box(smooth)


def outline_from_tracing(
    radii_mm: NDArray[np.float64], angles_deg: NDArray[np.float64] | None = None
) -> Outline:
    """A checked outline (n, 2) in mm from polar radii in mm, equally spaced unless angles (degrees) are given."""
    return imported_outline(outline_from_radii(radii_mm, angles_deg))


def outline_from_text(text: str) -> Outline:
    """A checked outline from points written out: pairs “across, up” in mm, one to a line or split by semicolons.

    The curve goes smoothly through the points, so between far-apart ones it may stand out a little further.

    >>> rounded = outline_from_text("20,0; 18,14; 0,16; -18,14; -20,0; -18,-14; 0,-16; 18,-14")
    >>> round(float(rounded[:, 0].max()), 2), round(float(rounded[:, 1].max()), 2)
    (20.12, 16.19)
    """
    pairs = [part for part in re.split(r"[;\n]+", text) if part.strip()]
    numbers = [re.split(r"[,\s]+", part.strip()) for part in pairs]
    try:
        given = np.array([[float(across), float(up)] for across, up in numbers])
    except ValueError:
        raise NotPossible("Points are written as pairs, across and up in mm: 20,0; 18,14; …") from None
    return imported_outline(given.reshape(-1, 2))


def _checked(points_mm: NDArray[np.float64]) -> shapely.Polygon:
    polygon = shapely.Polygon(points_mm)
    if not polygon.is_valid or polygon.area == 0:
        raise NotPossible("The outline crosses itself or has no area: look at the order of its points.")
    width, height = np.ptp(points_mm, axis=0)
    if not (SMALLEST_MM <= width <= LARGEST_MM and SMALLEST_MM <= height <= LARGEST_MM):
        raise NotPossible(
            f"The outline is {width:.1f} by {height:.1f} mm; "
            f"a lens is {SMALLEST_MM:g} to {LARGEST_MM:g} mm each way."
        )
    ways = np.hypot(*(np.roll(points_mm, -1, axis=0) - points_mm).T)
    if ways.max() > LARGEST_GAP * ways.sum():
        raise NotPossible("A part of the outline has no points: it cannot be drawn across that gap.")
    return polygon


def _without_repeats(points_mm: NDArray[np.float64]) -> NDArray[np.float64]:
    """Without points that repeat the one before, such as a last point that closes the curve."""
    ways = np.hypot(*(np.roll(points_mm, -1, axis=0) - points_mm).T)
    return np.asarray(points_mm[ways > 1e-6])


def _through(points_mm: NDArray[np.float64], count: int) -> NDArray[np.float64]:
    """A closed curve through all points: centripetal Catmull-Rom, which neither loops nor overshoots at corners.

    Source: Catmull and Rom 1974; Yuksel, Schaefer and Keyser 2011, doi 10.1016/j.cad.2010.08.008.
    """
    each = max(2, -(-count // len(points_mm)))
    ring = [points_mm[place % len(points_mm)] for place in range(-1, len(points_mm) + 2)]
    pieces = [
        _piece(before, start, end, after, each)
        for (before, start), (end, after) in zip(pairwise(ring), pairwise(ring[2:]), strict=False)
    ]
    return np.vstack(pieces)


def _piece(
    before: NDArray[np.float64],
    start: NDArray[np.float64],
    end: NDArray[np.float64],
    after: NDArray[np.float64],
    count: int,
) -> NDArray[np.float64]:
    """Points from `start` up to, not with, `end`, by the pyramid of Barry and Goldman (1988)."""
    ring = (before, start, end, after)
    knots = np.cumsum([0.0, *(float(np.hypot(*(b - a))) ** 0.5 for a, b in pairwise(ring))])
    at = np.linspace(knots[1], knots[2], count, endpoint=False)[:, None]

    def mixed(
        low: int, high: int, one: NDArray[np.float64], other: NDArray[np.float64]
    ) -> NDArray[np.float64]:
        return np.asarray(((knots[high] - at) * one + (at - knots[low]) * other) / (knots[high] - knots[low]))

    inner = [mixed(place, place + 1, *ring[place : place + 2]) for place in range(3)]
    outer = [mixed(place, place + 2, *inner[place : place + 2]) for place in range(2)]
    return mixed(1, 2, *outer)

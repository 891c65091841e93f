"""The bias of a maker over many orders as a plot: one point for each received pair, with mean and limits.

Chart of single values: the limits are the mean ± 2.66 times the mean moving range (W. A. Shewhart 1931; ISO
7870-2). They say what this maker's work does by itself; tolerances, drawn apart, say what was agreed.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import fmean

MOVING_RANGE_FACTOR = 2.66
"""3 / 1.128, the usual factor of the chart of single values (ISO 7870-2)."""
FEWEST_FOR_LIMITS = 5
"""With fewer points limits say nothing. Ours."""
WIDTH, HEIGHT, MARGIN = 640.0, 200.0, 24.0
WORD_HEIGHT = 11.0


@dataclass(frozen=True, slots=True, kw_only=True)
class BiasPoint:
    """One received pair: measured less ordered, the tolerance then, and words to name it."""

    difference: float
    tolerance: float | None
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PlotMark:
    """A point in the drawing's own units, with what it stands for. `beyond`: outside its tolerance."""

    x: float
    y: float
    words: str
    beyond: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class PlotLine:
    """A level line: its height in the drawing, its value, and what it is (zero, mean, limit, tolerance).

    `word_y` is where its words stand: at the line, or moved away from the words of another.
    """

    y: float
    word_y: float
    value: float
    kind: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BiasPlot:
    """Everything that is drawn, in units of a WIDTH by HEIGHT drawing, y downwards."""

    marks: tuple[PlotMark, ...]
    lines: tuple[PlotLine, ...]
    mean: float
    limits: tuple[float, float] | None
    width: float = WIDTH
    height: float = HEIGHT


def natural_limits(differences: Sequence[float]) -> tuple[float, float] | None:
    """Mean ± 2.66 times the mean moving range, in the unit of the values; None for too few.

    >>> low, high = natural_limits([0.0, 1.0, 0.0, 1.0, 0.0])
    >>> round(low, 2), round(high, 2)
    (-2.26, 3.06)
    """
    if len(differences) < FEWEST_FOR_LIMITS:
        return None
    spread = MOVING_RANGE_FACTOR * fmean(abs(after - before) for before, after in pairwise(differences))
    mean = fmean(differences)
    return mean - spread, mean + spread


def bias_plot(points: Sequence[BiasPoint]) -> BiasPlot:
    """The plot of at least one point, the oldest on the left."""
    differences = [point.difference for point in points]
    limits, mean = natural_limits(differences), fmean(differences)
    tolerance = next((point.tolerance for point in reversed(points) if point.tolerance is not None), None)
    levels = [("zero", 0.0), ("mean", mean)]
    levels += [("limit", level) for level in limits or ()]
    levels += [("tolerance", level) for level in (() if tolerance is None else (tolerance, -tolerance))]
    reach = max(0.1, *(abs(value) for value in differences), *(abs(level) for _, level in levels))
    scale = (HEIGHT / 2 - MARGIN) / reach
    step = (WIDTH - 2 * MARGIN) / max(1, len(points) - 1)
    marks = tuple(
        PlotMark(
            x=round(MARGIN + place * step, 2),
            y=round(HEIGHT / 2 - point.difference * scale, 2),
            words=point.words,
            beyond=point.tolerance is not None and abs(point.difference) > point.tolerance + 1e-9,
        )
        for place, point in enumerate(points)
    )
    heights = [round(HEIGHT / 2 - level * scale, 2) for _, level in levels]
    lines = tuple(
        PlotLine(y=y, word_y=word_y, value=level, kind=kind)
        for (kind, level), y, word_y in zip(levels, heights, _spread(heights), strict=True)
    )
    return BiasPlot(marks=marks, lines=lines, mean=mean, limits=limits)


def _spread(heights: Sequence[float]) -> list[float]:
    """Where words can stand beside lines at these heights without covering each other, from above downwards."""
    placed, below = list(heights), -WORD_HEIGHT
    for place in sorted(range(len(heights)), key=lambda one: heights[one]):
        placed[place] = below = round(max(heights[place], below + WORD_HEIGHT), 2)
    return placed

"""The outline of a pair's lenses: its tracing, its shape by name, or the curve that has the sizes measured."""

from dataclasses import dataclass
from functools import partial

from app.frame.ordered_worksheet import Worksheet
from app.frame.outline_shape import MEASURED, SHAPES, longest_diameter_range, shape_outline
from app.optics.outline_size import Outline, mirrored_outline
from app.optics.refusal import NotPossible

STEP_MM = 0.1
"""Half-step of the numerical derivative of an outline by its sizes. Ours."""
SLACK_MM = 0.05
"""A longest diameter given to the half millimetre may miss the box by this much. Ours: rounding."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LensOutline:
    """Outline of the right lens, (n, 2) in mm, boxed centre at the origin; or the names of what is missing."""

    right_mm: Outline | None
    known_by: str = ""
    """Where it comes from, in words."""
    exact: bool = False
    """True for a tracing: drawn as it is, not as a trade word has it."""
    assumed: bool = False
    """True where only three sizes are known: the blank is then taken by the rule, which is never too small."""
    missing: tuple[str, ...] = ()
    by_width: Outline | None = None
    by_height: Outline | None = None
    """How each point moves with lens width and lens height, (n, 2), where those were measured and are uncertain."""

    @property
    def left_mm(self) -> Outline | None:
        """The left lens: the mirror image."""
        return None if self.right_mm is None else mirrored_outline(self.right_mm)


def lens_outline(sheet: Worksheet, traced_mm: Outline | None = None) -> LensOutline:
    """The outline of this pair's lenses.

    A tracing is taken as it is. A shape by name is scaled to lens width and height, and to the longest diameter
    where that was given. A frame of which only the three sizes were measured is drawn as the smooth curve that has
    all three. Without the sizes, or without anything that tells the shape, it names what is missing.
    """
    if traced_mm is not None:
        return LensOutline(right_mm=traced_mm, known_by="tracing", exact=True)
    sizes = (sheet.lens_width, sheet.lens_height)
    absent = tuple(one.name for one in sizes if one.value is None)
    longest, word = sheet.pair.longest_diameter_mm, sheet.pair.outline
    named = word in SHAPES
    if not named and longest is None:
        absent = (*absent, f"Lens shape or longest diameter, pair {sheet.pair.pair}")
    if absent:
        return LensOutline(right_mm=None, missing=absent)
    width, height = (one.known for one in sizes)
    if longest is not None and not _possible(longest, width, height):
        low, high = longest_diameter_range(width_mm=width, height_mm=height)
        named_so = f"Longest diameter between {low:.1f} and {high:.1f} mm, pair {sheet.pair.pair}"
        return LensOutline(right_mm=None, missing=(named_so,))
    drawn = partial(
        shape_outline,
        word if named and word is not None else MEASURED.word,
        longest_diameter_mm=longest,
    )
    try:
        right = drawn(width_mm=width, height_mm=height)
    except NotPossible as refusal:
        return LensOutline(right_mm=None, missing=(str(refusal),))
    wider = taller = None
    if any(one.shares for one in sizes) and min(width, height) > 2 * STEP_MM:
        wider = (
            drawn(width_mm=width + STEP_MM, height_mm=height)
            - drawn(width_mm=width - STEP_MM, height_mm=height)
        ) / (2 * STEP_MM)
        taller = (
            drawn(width_mm=width, height_mm=height + STEP_MM)
            - drawn(width_mm=width, height_mm=height - STEP_MM)
        ) / (2 * STEP_MM)
    known_by = "shape by name" if named else "curve through width, height and longest diameter"
    return LensOutline(right_mm=right, known_by=known_by, assumed=not named, by_width=wider, by_height=taller)


def _possible(longest_mm: float, width_mm: float, height_mm: float) -> bool:
    low, high = longest_diameter_range(width_mm=width_mm, height_mm=height_mm)
    return low - SLACK_MM <= longest_mm <= high + SLACK_MM

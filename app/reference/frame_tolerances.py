"""Dimensional tolerances of frames after ISO 12870, used for bespoke fronts as an agreed bench tolerance.

The 2016 edition excludes complete custom-made frames; the 2024 edition applies to them in part (its 3.1.3
and table 1; overview at singaporestandardseshop.sg). So these are agreed figures for bespoke work, not a
legal test. Check the current edition.
"""

from dataclasses import dataclass

ISO_12870_MEMORY = (
    "ISO 12870, from memory; an agreed bench tolerance for bespoke work. Check the current edition."
)


@dataclass(frozen=True, slots=True)
class FrameTolerance:
    """Allowed difference in mm, more or less, of one frame dimension, with its source."""

    dimension: str
    tolerance_mm: float
    source: str = ISO_12870_MEMORY


LENS_WIDTH = FrameTolerance("boxed lens width", 0.5)
DISTANCE_BETWEEN_LENSES = FrameTolerance("distance between lenses", 0.5)
SIDE_LENGTH = FrameTolerance("overall length of side", 2.0)
FRAME_TOLERANCES = (LENS_WIDTH, DISTANCE_BETWEEN_LENSES, SIDE_LENGTH)

HEATED_TIPS_APART_MM = 6.0  # tips may move apart by this at elevated temperature; ISO 12870, from memory
HEATED_TIPS_TOGETHER_MM = 12.0  # and together by this; ISO 12870, from memory


def frame_tolerance(dimension: str) -> FrameTolerance:
    """The tolerance (mm) for a dimension named in words of ISO 8624, older or newer.

    >>> frame_tolerance("overall length of side").tolerance_mm
    2.0
    >>> frame_tolerance("horizontal boxed lens size").tolerance_mm
    0.5
    """
    words = dimension.lower()
    if "side" in words or "temple length" in words:
        return SIDE_LENGTH
    if "between" in words or words in ("dbl", "bridge"):
        return DISTANCE_BETWEEN_LENSES
    if "lens" in words or "boxed" in words or "eye size" in words:
        return LENS_WIDTH
    raise KeyError(f"ISO 12870 gives no tolerance known here for: {dimension}.")

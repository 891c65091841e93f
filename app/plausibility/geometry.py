"""Formulas of eye and head that only the checks need; those of lens and frame stand in optics and frame."""

from math import hypot, radians, tan

SQUINT_SHIFT_MM = 0.1
"""Sideways shift of a turned eye's pupil for each prism dioptre. Common practice; a prism dioptre is 1 in 100 and
the pupil turns about a centre some 10.5 mm behind it (from memory of schematic eyes), which makes about as much."""
TEMPLE_LEVEL_MM = 25.0
"""Temple width is taken this far behind the back of the front: the trade's definition."""


def squint_shift_mm(*, deviation_prism: float) -> float:
    """How far a turned eye's pupil is carried sideways: 0.1 mm × deviation in prism dioptres.

    Source: common practice.

    >>> squint_shift_mm(deviation_prism=35)
    3.5
    """
    return SQUINT_SHIFT_MM * deviation_prism


def diagonal_mm(*, temple_width_mm: float, head_width_mm: float, length_to_tangent_mm: float) -> float:
    """Diagonal of the trapezium from a temple point to the other side's ear point.

    √(((temple width + head width) / 2)² + (length to tangent − 25)²). Source: geometry.

    >>> round(diagonal_mm(temple_width_mm=120, head_width_mm=120, length_to_tangent_mm=75))
    130
    """
    across = (temple_width_mm + head_width_mm) / 2
    return hypot(across, length_to_tangent_mm - TEMPLE_LEVEL_MM)


def ear_height_difference_mm(*, length_to_tangent_mm: float, difference_deg: float) -> float:
    """How much lower one ear lies where the angles of side differ: length × tan(difference). Source: geometry.

    >>> round(ear_height_difference_mm(length_to_tangent_mm=100, difference_deg=1), 2)
    1.75
    """
    return length_to_tangent_mm * tan(radians(difference_deg))

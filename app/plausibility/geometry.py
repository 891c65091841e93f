"""Formulas of eye and head that only the checks need; those of lens and frame stand in optics and frame."""

from math import hypot, radians, tan

PUPIL_BEHIND_MM = 10.5
"""The pupil turns about the eye's centre, about this far behind it; from memory of schematic eyes (Gullstrand)."""
TEMPLE_LEVEL_MM = 25.0
"""Temple width is taken this far behind the back of the front: the trade's definition."""


def squint_shift_mm(*, deviation_prism: float) -> float:
    """How far a turned eye's pupil is carried sideways: 10.5 mm × deviation in prism dioptres / 100.

    Source: a prism dioptre is 1 in 100; the pupil turns about the eye's centre.

    >>> round(squint_shift_mm(deviation_prism=35), 2)
    3.67
    """
    return PUPIL_BEHIND_MM * deviation_prism / 100


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

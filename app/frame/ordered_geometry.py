"""Plane geometry of front and sides: width between the joints, and how far an open side is let back."""

from math import atan, degrees

from app.optics.refusal import require_positive

PERPENDICULAR_DEG = 90.0


def joint_width(*, lens_width_mm: float, distance_between_lenses_mm: float, lug_mm: float) -> float:
    """Width of a front between its joints, in mm: 2 a + DBL + 2 lugs, the joints at the ends of the lugs.

    Source: boxed system of ISO 8624 for a and DBL; the lug is common practice.

    >>> joint_width(lens_width_mm=43, distance_between_lenses_mm=18, lug_mm=8)
    120
    """
    return 2 * lens_width_mm + distance_between_lenses_mm + 2 * lug_mm


def let_back(*, head_width_mm: float, joint_width_mm: float, length_to_bend_mm: float) -> float:
    """Angle of an open side to the back of the front, in degrees: 90 + arctan((HW − JW) / 2 / LTB).

    `head_width_mm` is the ordered width at the bends. More than 90 where the sides open outwards.
    Source: plane geometry of a straight side from joint to bend. Raises NotPossible for a length that is none.

    >>> round(let_back(head_width_mm=139, joint_width_mm=120, length_to_bend_mm=90), 1)
    96.0
    """
    require_positive(length_to_bend_mm, "The length to bend in mm")
    return PERPENDICULAR_DEG + degrees(atan((head_width_mm - joint_width_mm) / 2 / length_to_bend_mm))

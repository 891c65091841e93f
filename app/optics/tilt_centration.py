"""Centration that keeps the optical axis of a tilted or decentred lens through the eye's centre of rotation.

Not for progressive fitting crosses, nor for lenses already compensated for the position of wear. The height
must be that of the pupil with the head erect and the front at its as-worn tilt (common practice).
"""

from math import asin, degrees, radians, sin, tan

from app.optics.near_centration import LENS_TO_CENTRE_OF_ROTATION_MM
from app.optics.refusal import NotPossible, require_positive

DROP_MM_PER_DEG = 0.5  # 1 mm for 2 degrees; https://www.optiboard.com/forums/showthread.php/56552
WRAP_DEG_PER_MM = 2.0  # horizontal twin of the same rule


def optical_centre_drop_by_rule(pantoscopic_deg: float) -> float:
    """How far below the pupil the optical centre belongs, in mm: 0.5 mm for each degree of tilt.

    Source: https://www.optiboard.com/forums/showthread.php/56552-Centre-of-Rotation-Tilt-compensation.

    >>> optical_centre_drop_by_rule(12)
    6.0
    """
    return DROP_MM_PER_DEG * pantoscopic_deg


def tilt_for_drop_by_rule(drop_mm: float) -> float:
    """Pantoscopic tilt in degrees that goes with a drop of the optical centre in mm: the rule turned round.

    Source: https://stuvia.com/doc/6494545 (5 mm below the pupil: 10 degrees).

    >>> tilt_for_drop_by_rule(5)
    10.0
    """
    return drop_mm / DROP_MM_PER_DEG


def optical_centre_drop(
    pantoscopic_deg: float, lens_to_rotation_centre_mm: float = LENS_TO_CENTRE_OF_ROTATION_MM
) -> float:
    """Exact drop in mm along the lens plane, s measured along the horizontal line of sight: s sin p.

    Foot of the perpendicular from the centre of rotation to the tilted lens plane (geometry).

    >>> round(optical_centre_drop(10), 2)
    4.69
    """
    return lens_to_rotation_centre_mm * sin(radians(pantoscopic_deg))


def optical_centre_drop_from_perpendicular(
    pantoscopic_deg: float, lens_to_rotation_centre_mm: float = LENS_TO_CENTRE_OF_ROTATION_MM
) -> float:
    """Exact drop in mm along the lens plane, s measured square to the lens plane: s tan p (geometry).

    >>> round(optical_centre_drop_from_perpendicular(10), 2)
    4.76
    """
    return lens_to_rotation_centre_mm * tan(radians(pantoscopic_deg))


def height_to_order(*, pupil_height_mm: float, drop_mm: float) -> float:
    """Optical centre height in mm for a pupil height and a drop: pupil height - drop.

    >>> height_to_order(pupil_height_mm=26, drop_mm=optical_centre_drop_by_rule(12))
    20.0
    """
    return pupil_height_mm - drop_mm


def wrap_for_decentration(
    decentration_mm: float, lens_to_rotation_centre_mm: float = LENS_TO_CENTRE_OF_ROTATION_MM
) -> float:
    """Wrap in degrees that lets the axis of a lens decentred in (mm, + in) pass the centre of rotation.

    asin(d / s), geometry.

    >>> round(wrap_for_decentration(4), 2)
    8.52
    """
    require_positive(lens_to_rotation_centre_mm, "The distance from lens to centre of rotation in mm")
    if abs(decentration_mm) >= lens_to_rotation_centre_mm:
        raise NotPossible(
            f"A decentration of {decentration_mm:g} mm is more than the way to the centre of rotation."
        )
    return degrees(asin(decentration_mm / lens_to_rotation_centre_mm))


def wrap_for_decentration_by_rule(decentration_mm: float) -> float:
    """The same in degrees by the rule of 2 degrees for each mm.

    >>> wrap_for_decentration_by_rule(4)
    8.0
    """
    return WRAP_DEG_PER_MM * decentration_mm

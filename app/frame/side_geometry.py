"""Geometry of a side: let-back, joint width, length to bend, as-worn tilt, drop, curl.

z runs backwards from the back plane of the front, y up, x outwards, in mm; angles in degrees. The relations
are plane and solid geometry, derived here; terms follow ISO 8624 and BS 3521 (from memory).
"""

from dataclasses import dataclass
from math import atan, atan2, cos, degrees, radians, sin, sqrt, tan

from app.optics.refusal import NotPossible

TEMPLE_WIDTH_LEVEL_MM = (
    25.0  # behind the back plane of the front; student notes, knowt.com 9b6d31fb and 1430b550
)
TEACHING_CLINIC_GRIP_MM = 10.0  # "order 10 mm less than measured": one clinic's rule, knowt.com 9b6d31fb


@dataclass(frozen=True, slots=True)
class DropComponents:
    """Where the end of the drop lies from the bend, in mm: down, back and in."""

    fall_mm: float
    rearward_mm: float
    inward_mm: float


def side_angle(
    *,
    head_width_mm: float,
    temple_width_mm: float,
    front_to_ear_mm: float,
    temple_level_mm: float = TEMPLE_WIDTH_LEVEL_MM,
) -> float:
    """Angle in degrees of a straight side to the normal of the front: tan b = ((HW - TW) / 2) / (L - level).

    The side passes the temple point and the ear point; L is the way from the front back to the ear point.

    >>> round(side_angle(head_width_mm=150, temple_width_mm=140, front_to_ear_mm=95), 2)
    4.09
    """
    if front_to_ear_mm <= temple_level_mm:
        raise NotPossible(f"The ear point must lie more than {temple_level_mm:g} mm behind the front.")
    return degrees(atan((head_width_mm - temple_width_mm) / 2 / (front_to_ear_mm - temple_level_mm)))


def joint_half_width(
    *, temple_width_mm: float, side_angle_deg: float, temple_level_mm: float = TEMPLE_WIDTH_LEVEL_MM
) -> float:
    """Distance in mm from the midline to the side at the back plane of the front: TW / 2 - level tan b.

    >>> round(joint_half_width(temple_width_mm=140, side_angle_deg=4.085617), 2)
    68.21
    """
    return temple_width_mm / 2 - temple_level_mm * tan(radians(side_angle_deg))


def let_back_angle(side_angle_deg: float) -> float:
    """Let-back angle in degrees between side and front: 90 + angle of the side to the front's normal.

    >>> let_back_angle(4.0)
    94.0
    """
    return 90 + side_angle_deg


def temple_width_fits_head(*, temple_width_mm: float, head_width_mm: float) -> bool:
    """True when the temple width (mm) is less than the head width, as on any head.

    Source: student notes, https://knowt.com/flashcards/9b6d31fb-1cf0-443b-b937-647e1ccbaab6.

    >>> temple_width_fits_head(temple_width_mm=152, head_width_mm=148)
    False
    """
    return temple_width_mm < head_width_mm


def head_width_to_order(*, measured_mm: float, grip_mm: float) -> float:
    """Head width in mm to order so that the sides grip: measured - grip (a setting of the practice).

    >>> head_width_to_order(measured_mm=150, grip_mm=TEACHING_CLINIC_GRIP_MM)
    140.0
    """
    return measured_mm - grip_mm


def length_to_bend(*, outward_mm: float, upward_mm: float, rearward_mm: float) -> float:
    """Length in mm from the joint to the ear point: sqrt(dx^2 + dy^2 + dz^2).

    >>> round(length_to_bend(outward_mm=4, upward_mm=-3, rearward_mm=92), 2)
    92.14
    """
    return sqrt(outward_mm**2 + upward_mm**2 + rearward_mm**2)


def front_to_bend(*, rearward_mm: float, joint_set_back_mm: float) -> float:
    """Distance in mm from the front back to the bend: way behind the joint + set-back of the joint.

    >>> front_to_bend(rearward_mm=92, joint_set_back_mm=3)
    95
    """
    return rearward_mm + joint_set_back_mm


def as_worn_tilt(*, angle_of_side_deg: float, upward_mm: float, rearward_mm: float) -> float:
    """Pantoscopic tilt in degrees on the head.

    It is the angle of side + atan(dy / dz), dy + when the ear is above the joint.

    >>> round(as_worn_tilt(angle_of_side_deg=8, upward_mm=-3, rearward_mm=92), 2)
    6.13
    """
    return angle_of_side_deg + degrees(atan2(upward_mm, rearward_mm))


def drop_components(
    *, drop_length_mm: float, downward_angle_deg: float, inward_angle_deg: float
) -> DropComponents:
    """End of the drop in mm: fall D sin d cos i, rearward D cos d cos i, inward D sin i.

    The inward angle is measured out of the vertical plane of the side.

    >>> end = drop_components(drop_length_mm=35, downward_angle_deg=45, inward_angle_deg=10)
    >>> round(end.fall_mm, 2), round(end.rearward_mm, 2), round(end.inward_mm, 2)
    (24.37, 24.37, 6.08)
    """
    down, inward = radians(downward_angle_deg), radians(inward_angle_deg)
    return DropComponents(
        fall_mm=drop_length_mm * sin(down) * cos(inward),
        rearward_mm=drop_length_mm * cos(down) * cos(inward),
        inward_mm=drop_length_mm * sin(inward),
    )


def arc_start_before_bend(*, bend_radius_mm: float, drop_angle_deg: float) -> float:
    """How far before the bend point the curve begins, in mm: tangent length r tan(d / 2).

    The bend point is where the two straight lines meet.

    >>> round(arc_start_before_bend(bend_radius_mm=10, drop_angle_deg=45), 2)
    4.14
    """
    return bend_radius_mm * tan(radians(drop_angle_deg) / 2)


def curl_length_to_tangent(*, curl_start_mm: float, curl_inner_radius_mm: float) -> float:
    """Length to tangent in mm of a curl side: start of the curl + its inner radius.

    The vertical tangent of a round curl lies one radius behind the start of the arc.

    >>> curl_length_to_tangent(curl_start_mm=88, curl_inner_radius_mm=12)
    100
    """
    return curl_start_mm + curl_inner_radius_mm


def overall_side_length(*, length_to_bend_mm: float, drop_length_mm: float) -> float:
    """Overall length of side in mm with the drop straightened (ISO 8624): length to bend + drop.

    >>> overall_side_length(length_to_bend_mm=98, drop_length_mm=35)
    133
    """
    return length_to_bend_mm + drop_length_mm

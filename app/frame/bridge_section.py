"""Plane geometry of the bridge: widths, frontal angle, apical radius, splay, and where the bridge stands.

The section is an arc (the crest) tangent to two straight flanks. Depths are measured downwards from the
crest, the frontal angle from the vertical and for one flank. A real crest is not quite an arc, so the
radius implied by the widths is a check and not a measurement. The relations are derived from that picture;
tests compare them with the tangent construction. Terms: BS 3521 and ISO 13666, from memory.
"""

from math import acos, atan, cos, degrees, radians, sin, sqrt, tan

from app.optics.refusal import NotPossible, require_positive


def half_width_at(*, depth_mm: float, apical_radius_mm: float, frontal_angle_deg: float) -> float:
    """Distance in mm from the midline to one flank, `depth_mm` below the crest.

    On the flank, h >= R (1 - sin phi): R (sec phi - tan phi) + h tan phi; within the arc: sqrt(R^2 - (R -
    h)^2).

    >>> round(half_width_at(depth_mm=10, apical_radius_mm=7, frontal_angle_deg=25), 2)
    9.12
    """
    require_positive(apical_radius_mm, "The apical radius in mm")
    if depth_mm < 0 or not 0 <= frontal_angle_deg < 90:
        raise NotPossible(
            "The depth below the crest cannot be negative; the frontal angle lies from 0 to below 90."
        )
    angle = radians(frontal_angle_deg)
    if depth_mm < apical_radius_mm * (1 - sin(angle)):
        return sqrt(apical_radius_mm**2 - (apical_radius_mm - depth_mm) ** 2)
    return apical_radius_mm * (1 / cos(angle) - tan(angle)) + depth_mm * tan(angle)


def bridge_width_at(*, depth_mm: float, apical_radius_mm: float, frontal_angle_deg: float) -> float:
    """Distance between rims in mm, `depth_mm` below the crest, of a symmetric bridge: twice the half width.

    >>> [round(bridge_width_at(depth_mm=h, apical_radius_mm=8, frontal_angle_deg=15), 2) for h in (5, 10, 15)]
    [14.83, 17.64, 20.32]
    """
    return 2 * half_width_at(
        depth_mm=depth_mm, apical_radius_mm=apical_radius_mm, frontal_angle_deg=frontal_angle_deg
    )


def frontal_angle_from_widths(
    *, upper_width_mm: float, lower_width_mm: float, depth_between_mm: float = 5.0
) -> float:
    """Frontal angle in degrees implied by two bridge widths: tan phi = (lower - upper) / (2 x depth between).

    Widths at 10 and 15 mm below the crest lie 5 mm apart, hence the default. Negative when the widths shrink.

    >>> round(frontal_angle_from_widths(upper_width_mm=18, lower_width_mm=22), 1)
    21.8
    """
    require_positive(depth_between_mm, "The depth between the two widths in mm")
    return degrees(atan((lower_width_mm - upper_width_mm) / (2 * depth_between_mm)))


def frontal_angle_per_mm(*, frontal_angle_deg: float, depth_between_mm: float = 5.0) -> float:
    """Degrees by which 1 mm in one width moves the implied frontal angle: cos^2 phi / (2 x depth between).

    >>> round(0.5 * frontal_angle_per_mm(frontal_angle_deg=22), 1)
    2.5
    """
    return degrees(cos(radians(frontal_angle_deg)) ** 2 / (2 * depth_between_mm))


def apical_radius_from_width(*, width_mm: float, depth_mm: float, frontal_angle_deg: float) -> float:
    """Apical radius in mm implied by a width on the straight flank.

    R = (DBR - 2 h tan phi) / (2 (sec phi - tan phi)).
    Negative or small when the flanks meet above the crest: the readings do not describe one section.

    >>> round(apical_radius_from_width(width_mm=18, depth_mm=10, frontal_angle_deg=21.801409), 2)
    7.39
    """
    angle = radians(frontal_angle_deg)
    return (width_mm - 2 * depth_mm * tan(angle)) / (2 * (1 / cos(angle) - tan(angle)))


def widths_grow_downwards(*, upper_width_mm: float, lower_width_mm: float) -> bool:
    """True when the lower bridge width (mm) is the larger, as on any ordinary nose.

    >>> widths_grow_downwards(upper_width_mm=20, lower_width_mm=18)
    False
    """
    return lower_width_mm > upper_width_mm


def opening_difference_from_splay(*, rim_thickness_mm: float, splay_angle_deg: float) -> float:
    """How much wider the bridge opens at the back than at the front of the rim, in mm: 2 T tan(splay).

    >>> round(opening_difference_from_splay(rim_thickness_mm=4, splay_angle_deg=25), 2)
    3.73
    """
    return 2 * rim_thickness_mm * tan(radians(splay_angle_deg))


def flank_normal_to_midline(*, frontal_angle_deg: float, splay_angle_deg: float) -> float:
    """Angle in degrees between the normal of the flank plane and the left-right axis.

    The flank is the plane x = x0 + tan(phi) down + tan(splay) back: acos(1 / sqrt(1 + tan^2 phi + tan^2
    splay)).

    >>> round(flank_normal_to_midline(frontal_angle_deg=25, splay_angle_deg=20), 1)
    30.6
    """
    down, back = tan(radians(frontal_angle_deg)), tan(radians(splay_angle_deg))
    return degrees(acos(1 / sqrt(1 + down**2 + back**2)))


def bridge_height_above_centre_line(
    *, crest_height_mm: float, centre_line_above_lower_lid_mm: float
) -> float:
    """Height of the crest above the horizontal centre line in mm.

    It is the crest height - the height of the line above the lid.
    Both are measured from the lower-lid tangent. A teaching-clinic convention puts the line 5 mm below the
    lid ("crest height + 5"; student notes at
    https://knowt.com/flashcards/9b6d31fb-1cf0-443b-b937-647e1ccbaab6).

    >>> bridge_height_above_centre_line(crest_height_mm=6, centre_line_above_lower_lid_mm=-5)
    11
    """
    return crest_height_mm - centre_line_above_lower_lid_mm


def smallest_distance_between_lenses(*, narrowest_width_mm: float, rim_to_groove_mm: float) -> float:
    """Smallest boxed distance between lenses in mm: the narrowest bridge width + 2 x rim down to the groove.

    >>> smallest_distance_between_lenses(narrowest_width_mm=16, rim_to_groove_mm=1.5)
    19.0
    """
    return narrowest_width_mm + 2 * rim_to_groove_mm

"""The few formulas that the checks need: similar triangles of the eye, the bridge, the head and the lens."""

from math import atan, cos, degrees, hypot, radians, sin, tan

PUPIL_BEHIND_MM = 10.5
"""The pupil turns about the eye's centre, about this far behind it; from memory of schematic eyes (Gullstrand)."""
LEVELS_APART_MM = 5.0
"""The two bridge widths are taken 10 and 15 mm below the crest."""
UPPER_LEVEL_MM = 10.0
TEMPLE_LEVEL_MM = 25.0
"""Temple width is taken this far behind the back of the front: the trade's definition."""


def near_pd_mm(*, distance_pd_mm: float, working_distance_mm: float, centre_of_rotation_mm: float) -> float:
    """Near PD in the spectacle plane: PD × w / (w + s), s from lens to the eye's centre of rotation.

    Source: similar triangles; s of 27 mm is the usual lump figure (Jalie, Ophthalmic Lenses and Dispensing).

    >>> round(near_pd_mm(distance_pd_mm=67, working_distance_mm=400, centre_of_rotation_mm=27), 3)
    62.763
    """
    return distance_pd_mm * working_distance_mm / (working_distance_mm + centre_of_rotation_mm)


def squint_shift_mm(*, deviation_prism: float) -> float:
    """How far a turned eye's pupil is carried sideways: 10.5 mm × deviation in prism dioptres / 100.

    Source: a prism dioptre is 1 in 100; the pupil turns about the eye's centre.
    """
    return PUPIL_BEHIND_MM * deviation_prism / 100


def frontal_angle_deg(*, width_10_mm: float, width_15_mm: float) -> float:
    """Frontal angle that two bridge widths make: arctan((width 15 − width 10) / 10), negative where they narrow.

    Source: geometry; both flanks open over 5 mm of height.

    >>> round(frontal_angle_deg(width_10_mm=18, width_15_mm=22), 6)
    21.801409
    """
    return degrees(atan((width_15_mm - width_10_mm) / (2 * LEVELS_APART_MM)))


def implied_radius_mm(*, width_10_mm: float, frontal_deg: float) -> float:
    """Radius of the arc that joins two straight flanks: (width 10 / 2 − 10 tan f) cos f / (1 − sin f).

    Source: geometry of an arc tangent to both flanks, the crest at its top. Needs f below 90 degrees.

    >>> round(implied_radius_mm(width_10_mm=18, frontal_deg=21.801409), 4)
    7.3852
    """
    angle = radians(frontal_deg)
    return (width_10_mm / 2 - UPPER_LEVEL_MM * tan(angle)) * cos(angle) / (1 - sin(angle))


def diagonal_mm(*, temple_width_mm: float, head_width_mm: float, length_to_tangent_mm: float) -> float:
    """Diagonal of the trapezium from a temple point to the other side's ear point.

    √(((temple width + head width) / 2)² + (length to tangent − 25)²). Source: geometry.
    """
    across = (temple_width_mm + head_width_mm) / 2
    return hypot(across, length_to_tangent_mm - TEMPLE_LEVEL_MM)


def ear_height_difference_mm(*, length_to_tangent_mm: float, difference_deg: float) -> float:
    """How much lower one ear lies where the angles of side differ: length × tan(difference). Source: geometry."""
    return length_to_tangent_mm * tan(radians(difference_deg))


def joint_width_mm(*, lens_width_mm: float, between_lenses_mm: float, lug_mm: float) -> float:
    """Width of a front between its joints: two lens widths, the distance between lenses and two lugs."""
    return 2 * lens_width_mm + between_lenses_mm + 2 * lug_mm


def let_back_deg(*, head_width_mm: float, joint_width_mm: float, length_to_bend_mm: float) -> float:
    """Angle of the open side to the back of the front: 90 + arctan((head width − joint width) / 2 / length).

    Source: geometry of a straight side from the joint to the bend.
    """
    return 90 + degrees(atan((head_width_mm - joint_width_mm) / 2 / length_to_bend_mm))


def decentration_in_mm(*, box_width_mm: float, between_lenses_mm: float, centration_mm: float) -> float:
    """Decentration inward: half the distance between boxed centres less the single-eye centration; − is outward.

    Source: boxing system of ISO 8624.

    >>> decentration_in_mm(box_width_mm=54, between_lenses_mm=16, centration_mm=31)
    4.0
    """
    return (box_width_mm + between_lenses_mm) / 2 - centration_mm


def smallest_blank_mm(*, longest_diameter_mm: float, decentration_mm: float, edging_mm: float) -> float:
    """Smallest uncut diameter: longest diameter + 2 × decentration + edging allowance. Source: common practice."""
    return longest_diameter_mm + 2 * abs(decentration_mm) + edging_mm


def minus_edge_mm(*, power_d: float, index: float, semi_diameter_mm: float, centre_mm: float) -> float:
    """Edge of a minus lens, about: centre + r² |F| / (2000 (n − 1)).

    Source: approximate sag (Jalie, Ophthalmic Lenses and Dispensing). Power negative.

    >>> round(minus_edge_mm(power_d=-8, index=1.67, semi_diameter_mm=26, centre_mm=1.3), 3)
    5.336
    """
    return centre_mm + semi_diameter_mm**2 * abs(power_d) / (2000 * (index - 1))


def power_at_vertex_d(*, power_d: float, further_mm: float) -> float:
    """Power with the same effect when the lens is worn further from the eye: F / (1 + d F), d in metres.

    `further_mm` is the new vertex distance less the tested one. Source: effectivity, any optics text.

    >>> round(power_at_vertex_d(power_d=-12, further_mm=4), 2)
    -12.61
    """
    return power_d / (1 + further_mm / 1000 * power_d)


def vertical_power_d(*, sphere_d: float, cylinder_d: float, axis_deg: float) -> float:
    """Power in the vertical meridian: S + C cos² axis. Source: the power matrix's vertical term.

    >>> round(vertical_power_d(sphere_d=2.75, cylinder_d=-1, axis_deg=135), 2)
    2.25
    """
    return sphere_d + cylinder_d * cos(radians(axis_deg)) ** 2

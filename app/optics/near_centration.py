"""Near centration: how far in each eye looks through the lens when reading, and the near PD.

s is the distance from the lens to the eye's centre of rotation: vertex distance + about 13.5 mm; 27 mm is
the usual lump figure (common practice). Insets are for one eye, + in.
"""

from app.optics.refusal import NotPossible, require_positive

LENS_TO_CENTRE_OF_ROTATION_MM = 27.0  # common practice
VERTEX_TO_CENTRE_OF_ROTATION_MM = 13.5  # from memory of Jalie, The Principles of Ophthalmic Lenses
THREE_QUARTER_RULE_MM_PER_D = 0.75  # Gerstman's rule, from memory of Brooks & Borish


def near_pd(
    *,
    distance_pd_mm: float,
    object_from_lens_mm: float,
    lens_to_rotation_centre_mm: float = LENS_TO_CENTRE_OF_ROTATION_MM,
) -> float:
    """Distance between the lines of sight in the lens plane when reading, in mm, lens power left out.

    NPD = DPD L / (L + s), L the object's distance from the lens plane (similar triangles).
    Source: formula with s = 27 at
    http://www.optiboard.com/forums/showthread.php/29253-Distance-PD-vs-Near-Pd. 63 at 40 cm gives 59 in
    https://groups.google.com/g/sci.med.vision/c/gBzB2WcezUw:

    >>> round(near_pd(distance_pd_mm=63, object_from_lens_mm=400), 1)
    59.0
    """
    require_positive(object_from_lens_mm, "The reading distance in mm")
    return distance_pd_mm * object_from_lens_mm / (object_from_lens_mm + lens_to_rotation_centre_mm)


def near_pd_from_rotation_centre(
    *, distance_pd_mm: float, fixation_from_rotation_centre_mm: float, lens_to_rotation_centre_mm: float
) -> float:
    """Near PD in mm when the fixation distance L' is measured from the eye's centre of rotation.

    NPD = DPD (L' - s) / L'.
    Source: formula (there with s = 28.5) in the forum of optometria.info.pl, author 246.

    >>> round(near_pd_from_rotation_centre(distance_pd_mm=64, fixation_from_rotation_centre_mm=400,
    ...                                    lens_to_rotation_centre_mm=28.5), 2)
    59.44
    """
    require_positive(fixation_from_rotation_centre_mm, "The fixation distance in mm")
    way = fixation_from_rotation_centre_mm
    return distance_pd_mm * (way - lens_to_rotation_centre_mm) / way


def near_inset(
    *,
    single_eye_pd_mm: float,
    object_from_lens_mm: float,
    horizontal_power_d: float = 0.0,
    lens_to_rotation_centre_mm: float = LENS_TO_CENTRE_OF_ROTATION_MM,
) -> float:
    """Inset of one eye's line of sight in the lens plane at near, in mm, + in, with the power of the lens.

    i = p / (1 + l (1/s - F)), l and s in metres, F the distance power along the horizontal in dioptres: the
    ray from the centre of rotation meets the lens at i, is deviated by F i and must reach the object
    on the midline. A plus lens needs more inset, a minus lens less.
    Source: form of Ellerbrock and of Weinhold, from memory; derived again here. An exact ray trace through
    a thin lens gives 2.281 for +5.00 and 1.587 for -10.00 (31.5 mm, 400 mm, 27 mm).

    >>> round(near_inset(single_eye_pd_mm=31.5, object_from_lens_mm=400, horizontal_power_d=5), 2)
    2.28
    >>> round(near_inset(single_eye_pd_mm=31.5, object_from_lens_mm=400, horizontal_power_d=-10), 2)
    1.59
    """
    require_positive(object_from_lens_mm, "The reading distance in mm")
    require_positive(lens_to_rotation_centre_mm, "The distance from lens to centre of rotation in mm")
    vergence_d = 1000 / lens_to_rotation_centre_mm - horizontal_power_d
    divisor = 1 + object_from_lens_mm / 1000 * vergence_d
    if divisor <= 0:
        raise NotPossible(f"No inset exists for {horizontal_power_d:+.2f} D at this reading distance.")
    return single_eye_pd_mm / divisor


def near_pd_with_power(
    *,
    distance_pd_mm: float,
    object_from_lens_mm: float,
    power_d: float,
    lens_to_rotation_centre_mm: float = LENS_TO_CENTRE_OF_ROTATION_MM,
) -> float:
    """Near PD in mm with the same horizontal power (dioptres) before both eyes.

    NPD = DPD - DPD / (1 + W (1/s - F/1000)).
    Source: https://groups.google.com/g/sci.med.vision/c/gBzB2WcezUw (63 at 40 cm with -9.00 gives 59.8).

    >>> round(near_pd_with_power(distance_pd_mm=63, object_from_lens_mm=400, power_d=-9), 1)
    59.8
    """
    inset_of_both_mm = near_inset(
        single_eye_pd_mm=distance_pd_mm,
        object_from_lens_mm=object_from_lens_mm,
        horizontal_power_d=power_d,
        lens_to_rotation_centre_mm=lens_to_rotation_centre_mm,
    )
    return distance_pd_mm - inset_of_both_mm


def inset_by_three_quarter_rule(working_distance_mm: float) -> float:
    """Inset of each lens in mm by the three-quarter rule: 0.75 mm for each dioptre of 1 / working distance.

    Good for a PD of about 60 at 40 cm; 0.1 mm low at 63.
    Source: Gerstman's rule, from memory of Brooks & Borish, System for Ophthalmic Dispensing.

    >>> inset_by_three_quarter_rule(400)
    1.875
    """
    require_positive(working_distance_mm, "The working distance in mm")
    return THREE_QUARTER_RULE_MM_PER_D * 1000 / working_distance_mm


def pd_read_with_rule(
    *,
    true_pd_mm: float,
    examiner_pd_mm: float,
    pupil_to_rule_mm: float,
    pupil_to_examiner_eye_mm: float,
) -> float:
    """PD in mm that a rule shows, held in front of the pupils.

    One eye is read after the other, each with the examiner's facing eye.
    PD - (PD - examiner's PD) v / D (similar triangles): an examiner with a smaller PD reads a little less.

    >>> read = pd_read_with_rule(
    ...     true_pd_mm=64, examiner_pd_mm=60, pupil_to_rule_mm=15, pupil_to_examiner_eye_mm=400
    ... )
    >>> round(read, 2)
    63.85
    """
    require_positive(pupil_to_examiner_eye_mm, "The examiner's distance in mm")
    return true_pd_mm - (true_pd_mm - examiner_pd_mm) * pupil_to_rule_mm / pupil_to_examiner_eye_mm

"""Pupil diameter to expect for an age and a light, and what a difference between the pupils calls for.

Luminance in cd/m2 (a wall of reflectance r at E lux gives E r / pi), field area in square degrees,
diameters in mm. A measured pupil is never judged by these formulas alone, and nothing here is a diagnosis.
"""

from math import exp, log10, pi, pow
from typing import Literal

from app.optics.refusal import NotPossible, require_positive

REFERENCE_AGE_Y = 28.58  # Watson & Yellott (2012)
OLDEST_Y = 83.0  # Watson & Yellott (2012); Winn et al. (1994)
ADULT_FROM_Y = 20.0  # Watson & Yellott (2012): the unified formula holds from here
YOUNGEST_Y = 1.0  # Watson & Yellott (2012): the extension for the young
EYE_FACTOR = {1: 0.1, 2: 1.0}  # Watson & Yellott (2012): one or both eyes adapted
WINN_LUMINANCE_CD_PER_M2 = (9.0, 4400.0)  # Winn et al. (1994): range measured

AnisocoriaClass = Literal["within_limit", "note", "question", "refer_or_query"]
NOTE_FROM_MM = 0.4  # Lam et al. (1987), Am J Ophthalmol 104:69; Steck et al. (2018), doi 10.2147/OPTH.S147019
MEASURE_AGAIN_FROM_MM = 0.6  # Steck et al. (2018): in every light almost nobody
REFER_ABOVE_MM = 1.0  # physiologic up to 1 mm: Stanford neuro-ophthalmology teaching page, December 2016


def wall_luminance(*, illuminance_lux: float, reflectance: float) -> float:
    """Luminance in cd/m2 of a matt wall: E r / pi, E in lux.

    >>> round(wall_luminance(illuminance_lux=500, reflectance=0.8))
    127
    """
    return illuminance_lux * reflectance / pi


def disc_area_deg2(diameter_deg: float) -> float:
    """Area in square degrees of a round field of the given diameter in degrees: pi (d / 2)^2."""
    return pi * (diameter_deg / 2) ** 2


def stanley_davies_diameter(flux_cd_per_m2_deg2: float) -> float:
    """Pupil diameter in mm for a corneal flux density F in cd/m2 deg2.

    D = 7.75 - 5.75 x / (x + 2), x = (F/846)^0.41.
    Source: Stanley & Davies (1995), Ophthalmic Physiol Opt 15:601, as quoted by Watson & Yellott (2012).

    >>> round(stanley_davies_diameter(846), 3)
    5.833
    """
    require_positive(flux_cd_per_m2_deg2, "Luminance times field area")
    ratio = pow(flux_cd_per_m2_deg2 / 846, 0.41)
    return 7.75 - 5.75 * ratio / (ratio + 2)


def equivalent_adult_age(age_y: float) -> float:
    """Age in years to put into the unified formula.

    The age itself from 20, below it 19.4167 + 37.593 exp(-0.208269 age).
    Pupils grow up to about 20 and shrink afterwards, so a child counts as an older adult.
    Source: extension for the young in Watson & Yellott (2012), appendix; continuous at 20.

    >>> equivalent_adult_age(20), round(equivalent_adult_age(10), 1)
    (20, 24.1)
    """
    if not YOUNGEST_Y <= age_y <= OLDEST_Y:
        raise NotPossible(f"Pupil sizes are known for ages from 1 to 83 years, not for {age_y:g}.")
    return age_y if age_y >= ADULT_FROM_Y else 19.4167 + 37.593 * exp(-0.208269 * age_y)


def expected_pupil_diameter(
    *, luminance_cd_per_m2: float, field_area_deg2: float, age_y: float, eyes: int = 2
) -> float:
    """Pupil diameter in mm to expect by the unified formula, ages 1 to 83 years.

    One or both eyes see the light.
    F = L a M(eyes); D = D_SD + (y - 28.58)(0.02132 - 0.009562 D_SD), y the equivalent adult age.
    Central fixation, no accommodation. Source: Watson & Yellott (2012), J Vis 12(10):12, doi
    10.1167/12.10.12.

    >>> round(expected_pupil_diameter(luminance_cd_per_m2=1, field_area_deg2=900, age_y=45), 2)
    5.24
    """
    if eyes not in EYE_FACTOR:
        raise NotPossible("The light is seen by one eye or by two.")
    base = stanley_davies_diameter(luminance_cd_per_m2 * field_area_deg2 * EYE_FACTOR[eyes])
    return base + (equivalent_adult_age(age_y) - REFERENCE_AGE_Y) * (0.02132 - 0.009562 * base)


def winn_slope(luminance_cd_per_m2: float) -> float:
    """Change of the pupil in mm for each year of age at a luminance in cd/m2 (10-degree field).

    Cubic in l = log10 L, L held within 9 to 4400. Source: Winn et al. (1994), Invest Ophthalmol Vis Sci
    35:1132, https://pubmed.ncbi.nlm.nih.gov/8125724 (0.043 mm/year at the lowest level, 0.015 at the
    highest); coefficients as fitted by Watson & Yellott (2012), the sign of the cubic term restored so that
    those slopes come out.

    >>> round(winn_slope(9), 3), round(winn_slope(4400), 3)
    (-0.043, -0.015)
    """
    light = _log_luminance(luminance_cd_per_m2)
    return -0.024501 - 0.0368073 * light + 0.0210892 * light**2 - 0.00281557 * light**3


def winn_diameter(*, luminance_cd_per_m2: float, age_y: float) -> float:
    """Pupil diameter in mm for an age in years (17 to 83) and a luminance in cd/m2, 10-degree field.

    It is linear in age.
    Intercept cubic in log10 L; source as for `winn_slope`.

    >>> round(winn_diameter(luminance_cd_per_m2=1100, age_y=25), 2)
    4.38
    """
    light = _log_luminance(luminance_cd_per_m2)
    intercept = 6.9039 + 2.7765 * light - 1.909 * light**2 + 0.25599 * light**3
    return winn_slope(luminance_cd_per_m2) * age_y + intercept


def _log_luminance(luminance_cd_per_m2: float) -> float:
    """log10 of a luminance held within the range that Winn et al. measured."""
    require_positive(luminance_cd_per_m2, "The luminance in cd/m2")
    low, high = WINN_LUMINANCE_CD_PER_M2
    return log10(min(max(luminance_cd_per_m2, low), high))


def anisocoria_class(pupil_difference_mm: float) -> AnisocoriaClass:
    """What a difference between the pupils in mm calls for; the sign does not matter. Not a diagnosis.

    Below 0.4 within_limit; from 0.4 note; from 0.6 question in the same light; above 1.0 refer_or_query:
    the registered practitioner should see it. Sources: beside the limits above.

    >>> [anisocoria_class(d) for d in (0.3, 0.5, 0.8, 1.1)]
    ['within_limit', 'note', 'question', 'refer_or_query']
    """
    size = abs(pupil_difference_mm)
    if size > REFER_ABOVE_MM:
        return "refer_or_query"
    if size >= MEASURE_AGAIN_FROM_MM:
        return "question"
    return "note" if size >= NOTE_FROM_MM else "within_limit"

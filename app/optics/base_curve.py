"""Starting values for the front curve: a first curve to reckon with, until the lens maker's chart decides."""

from app.optics.prescription_algebra import Power, spherical_equivalent

CURVE_CHANGE_TO_FLAG_D = 2.0  # from the old pair; common practice, from memory
USUAL_FRONT_CURVES_D = (0.5, 2.0, 4.0, 6.0, 8.0)  # semi-finished series; common practice, from memory


def vogel_base_curve_plus(spherical_equivalent_d: float) -> float:
    """Vogel's rule for plus lenses, dioptres: spherical equivalent + 6. Source: questionai.com, tW5Qv1hAEj.

    >>> vogel_base_curve_plus(spherical_equivalent(Power(3.00, -1.00)))
    8.5
    """
    return spherical_equivalent_d + 6


def vogel_base_curve_minus(spherical_equivalent_d: float) -> float:
    """Vogel's rule for minus lenses, dioptres: half the spherical equivalent + 6. From memory.

    >>> vogel_base_curve_minus(-4.00)
    4.0
    """
    return spherical_equivalent_d / 2 + 6


def boddy_base_curve_minus(spherical_equivalent_d: float, addition_d: float = 0.0) -> float:
    """Boddy's rule for free-form backs, minus, dioptres: 4.25 + (spherical equivalent + addition) / 2.

    Source: https://studylib.net/doc/6913275/the-boddy-formula.

    >>> boddy_base_curve_minus(-4.00, 2.00)
    3.25
    """
    return 4.25 + (spherical_equivalent_d + addition_d) / 2


def boddy_base_curve_plus(spherical_equivalent_d: float, addition_d: float = 0.0) -> float:
    """Boddy's rule for free-form backs, plus, dioptres: 3.50 + addition / 2 + spherical equivalent.

    Source: https://studylib.net/doc/6913275/the-boddy-formula.

    >>> boddy_base_curve_plus(2.00, 2.00)
    6.5
    """
    return 3.50 + addition_d / 2 + spherical_equivalent_d


def starting_front_curve(power: Power) -> float:
    """Front curve in dioptres to start from: Vogel's rule for the sign, then the nearest usual curve.

    >>> starting_front_curve(Power(3.00, -1.00)), starting_front_curve(Power(-4.00))
    (8.0, 4.0)
    """
    mean = spherical_equivalent(power)
    wanted = vogel_base_curve_plus(mean) if mean >= 0 else vogel_base_curve_minus(mean)
    return min(USUAL_FRONT_CURVES_D, key=lambda curve: abs(curve - wanted))


def curve_change_to_flag(*, old_front_d: float, new_front_d: float) -> bool:
    """True when the new front curve (dioptres) is so far from the old pair's that the wearer may notice.

    >>> curve_change_to_flag(old_front_d=6, new_front_d=4)
    True
    """
    return abs(new_front_d - old_front_d) >= CURVE_CHANGE_TO_FLAG_D

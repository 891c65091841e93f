"""Tolerances of mounted lenses by ANSI Z80.1-2015. Check the current edition before relying on one.

Powers in dioptres, prism in prism dioptres, axis in degrees, positions in mm. The figures and their
editions stand in `app.reference.lens_tolerances`.
"""

from collections.abc import Sequence

from app.optics.lens_tolerance import Design, Direction, Tolerance, bracketed
from app.optics.refusal import NotPossible
from app.reference.lens_tolerances import (
    ANSI_1999_PAGE,
    ANSI_2015_GUIDE,
    ANSI_ADDITION_D,
    ANSI_AXIS_DEG,
    ANSI_HORIZONTAL_IMBALANCE,
    ANSI_HORIZONTAL_PD_MM,
    ANSI_PROGRESSIVE_CYLINDER,
    ANSI_PROGRESSIVE_HORIZONTAL_IMBALANCE,
    ANSI_PROGRESSIVE_MERIDIAN,
    ANSI_PROGRESSIVE_VERTICAL_IMBALANCE,
    ANSI_REFERENCE_POINT_MM,
    ANSI_REFERENCE_POINT_PRISM,
    ANSI_SINGLE_VISION_CYLINDER,
    ANSI_SINGLE_VISION_MERIDIAN,
    ANSI_VERTICAL_HEIGHTS_MM,
    ANSI_VERTICAL_IMBALANCE,
    RelativePowerBracket,
)

SINGLE_VISION: Design = "single vision or multifocal"


def _relative(brackets: Sequence[RelativePowerBracket], value_d: float) -> float:
    """Fixed or proportional tolerance in dioptres of the first bracket that reaches the value (dioptres)."""
    bracket = next(bracket for bracket in brackets if abs(value_d) <= bracket.up_to_d)
    return bracket.fixed_d or bracket.share * abs(value_d)


def meridian_tolerance(power_d: float, design: Design = SINGLE_VISION) -> Tolerance:
    """Tolerance in dioptres of the meridian of highest power (dioptres).

    Single vision 0.13 to 6.50, beyond 2 %; progressive 0.16.
    Source: ANSI Z80.1-2015 quick reference guide; check the current edition.

    >>> meridian_tolerance(4.00).amount, meridian_tolerance(-8.00).amount
    (0.13, 0.16)
    """
    table = ANSI_SINGLE_VISION_MERIDIAN if design == SINGLE_VISION else ANSI_PROGRESSIVE_MERIDIAN
    return Tolerance(_relative(table, power_d), ANSI_2015_GUIDE)


def cylinder_tolerance(cylinder_d: float, design: Design = SINGLE_VISION) -> Tolerance:
    """Tolerance in dioptres of a cylinder (dioptres).

    Source: ANSI Z80.1-2015 guide; check the current edition.

    >>> cylinder_tolerance(1.50).amount, cylinder_tolerance(-3.00, "power variation").amount
    (0.13, 0.18)
    """
    table = ANSI_SINGLE_VISION_CYLINDER if design == SINGLE_VISION else ANSI_PROGRESSIVE_CYLINDER
    return Tolerance(_relative(table, cylinder_d), ANSI_2015_GUIDE)


def axis_tolerance(cylinder_d: float) -> Tolerance:
    """Tolerance of the axis in degrees for a cylinder (dioptres).

    Source: ANSI Z80.1-2015 guide; check the edition.

    >>> axis_tolerance(0.25).amount, axis_tolerance(-1.75).amount
    (14.0, 2.0)
    """
    if cylinder_d == 0:
        raise NotPossible("A lens without cylinder has no axis to check.")
    return Tolerance(bracketed(ANSI_AXIS_DEG, cylinder_d), ANSI_2015_GUIDE)


def addition_tolerance(addition_d: float) -> Tolerance:
    """Tolerance of an addition in dioptres. Source: ANSI Z80.1-2015 guide; check the current edition.

    >>> addition_tolerance(2.50).amount
    0.12
    """
    return Tolerance(bracketed(ANSI_ADDITION_D, addition_d), ANSI_2015_GUIDE)


def reference_point_prism_tolerance() -> Tolerance:
    """Tolerance in prism dioptres at the prism reference point (0.33), or the point within 1.0 mm.

    Source: ANSI Z80.1-2015.
    """
    return Tolerance(ANSI_REFERENCE_POINT_PRISM, ANSI_2015_GUIDE)


def reference_point_position_tolerance() -> Tolerance:
    """Tolerance in mm of the prism reference point's position. Source: ANSI Z80.1-2015 guide."""
    return Tolerance(ANSI_REFERENCE_POINT_MM, ANSI_2015_GUIDE)


def imbalance_tolerance(*, direction: Direction, power_d: float, design: Design = SINGLE_VISION) -> Tolerance:
    """Tolerance in prism dioptres of the imbalance of a mounted pair, by power (dioptres).

    Single vision and multifocal: vertical 0.33 to 3.375 D, beyond the effect of 1.0 mm; horizontal 0.67 to
    2.75 D, beyond the effect of 2.5 mm. Progressive (1999 edition): beyond 3.375 and 3.75 D the effect of
    1.0 mm.
    Source: ANSI Z80.1-2015 quick reference guide; check the current edition.

    >>> imbalance_tolerance(direction="horizontal", power_d=2).amount
    0.67
    >>> imbalance_tolerance(direction="vertical", power_d=-6).amount
    0.6
    """
    progressive = design != SINGLE_VISION
    if direction == "horizontal":
        bracket = ANSI_PROGRESSIVE_HORIZONTAL_IMBALANCE if progressive else ANSI_HORIZONTAL_IMBALANCE
        slip_mm = ANSI_REFERENCE_POINT_MM if progressive else ANSI_HORIZONTAL_PD_MM
    else:
        bracket = ANSI_PROGRESSIVE_VERTICAL_IMBALANCE if progressive else ANSI_VERTICAL_IMBALANCE
        slip_mm = ANSI_VERTICAL_HEIGHTS_MM
    source = ANSI_1999_PAGE if progressive else ANSI_2015_GUIDE
    if abs(power_d) <= bracket.up_to:
        return Tolerance(bracket.tolerance, source)
    return Tolerance(abs(power_d) * slip_mm / 10, source)

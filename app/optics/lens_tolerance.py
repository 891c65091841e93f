"""Tolerances of mounted lenses by ISO 21987 (and uncut by ISO 8980-1).

Check the current edition before relying on one.
Powers in dioptres, prism in prism dioptres, axis in degrees, positions in mm. The figures and their
editions stand in `app.reference.lens_tolerances`.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import asin, degrees
from typing import Literal

from app.optics.prescription_algebra import Power, highest_principal_power
from app.optics.refusal import NotPossible
from app.reference.lens_tolerances import (
    ISO_8980_1_MEMORY,
    ISO_21987_MEMORY,
    ISO_21987_NOTES,
    ISO_ADDITION_D,
    ISO_AXIS_DEG,
    ISO_HORIZONTAL_IMBALANCE,
    ISO_POSITION_MM,
    ISO_POWER_VARIATION_POWER,
    ISO_SINGLE_VISION_POWER,
    ISO_TILT_DEG,
    ISO_UNCUT_PRISM_BASE,
    ISO_UNCUT_PRISM_HORIZONTAL_PER_D,
    ISO_UNCUT_PRISM_VERTICAL_PER_D,
    ISO_VERTICAL_IMBALANCE,
    Bracket,
)

Design = Literal["single vision or multifocal", "power variation"]
Direction = Literal["horizontal", "vertical"]


@dataclass(frozen=True, slots=True)
class Tolerance:
    """An allowed difference, more or less, in the unit of the quantity, and the edition that gives it."""

    amount: float
    source: str


@dataclass(frozen=True, slots=True)
class PowerTolerance:
    """Allowed differences in dioptres of each principal power and of the cylinder, with their edition."""

    meridian_d: float
    cylinder_d: float
    source: str


@dataclass(frozen=True, slots=True)
class PositionTolerance:
    """Allowed differences of a segment or fitting point: mm, degrees, and the edition that gives them."""

    position_mm: float
    tilt_deg: float
    source: str


def bracketed(brackets: Sequence[Bracket], value: float) -> float:
    """The tolerance of the first bracket whose limit is not below the size of the value (unit of the table).

    >>> bracketed(ISO_AXIS_DEG, -1.50)
    4.0
    """
    return next(bracket.tolerance for bracket in brackets if abs(value) <= bracket.up_to)


def power_tolerance(
    *, highest_power_d: float, cylinder_d: float, design: Design = "single vision or multifocal"
) -> PowerTolerance:
    """Tolerance of the meridians and of the cylinder (dioptres) by the largest principal power (dioptres).

    Source: ISO 21987:2009 with the tables of ISO 8980-1 and -2:2004, from memory; check the current edition.

    >>> found = power_tolerance(highest_power_d=7, cylinder_d=2)
    >>> found.meridian_d, found.cylinder_d
    (0.12, 0.18)
    """
    table = ISO_POWER_VARIATION_POWER if design == "power variation" else ISO_SINGLE_VISION_POWER
    row = next(row for row in table if abs(highest_power_d) <= row.up_to_power_d)
    return PowerTolerance(row.meridian_d, bracketed(row.cylinder, cylinder_d), ISO_21987_MEMORY)


def power_tolerance_for(power: Power, design: Design = "single vision or multifocal") -> PowerTolerance:
    """The same for a prescribed power (dioptres)."""
    return power_tolerance(
        highest_power_d=highest_principal_power(power), cylinder_d=power.cylinder_d, design=design
    )


def axis_tolerance(cylinder_d: float) -> Tolerance:
    """Tolerance of the cylinder axis in degrees for a cylinder in dioptres.

    Source: ISO 21987 as in student notes (see the reference table); check the current edition. No axis is
    asked of a cylinder of no amount.

    >>> axis_tolerance(0.50).amount
    9.0
    """
    if cylinder_d == 0:
        raise NotPossible("A lens without cylinder has no axis to check.")
    return Tolerance(bracketed(ISO_AXIS_DEG, cylinder_d), ISO_21987_NOTES)


def addition_tolerance(addition_d: float) -> Tolerance:
    """Tolerance of an addition in dioptres. Source: ISO 21987, from memory; check the current edition.

    >>> addition_tolerance(2.50).amount
    0.12
    """
    return Tolerance(bracketed(ISO_ADDITION_D, addition_d), ISO_21987_MEMORY)


def prism_imbalance_tolerance(
    *, direction: Direction, power_d: float, prescribed_prism_dioptres: float
) -> Tolerance:
    """Tolerance of the relative prism error of a mounted pair, prism dioptres.

    It depends on the power in dioptres and on the prescribed prism.
    Horizontal 0.67 to 3.25 D, beyond the effect of 2.0 mm; vertical 0.50 to 5.00 D, beyond the effect of
    1.0 mm, each with more for prescribed prism. Which lens of an unequal pair supplies the power is not
    settled here: give the weaker one for the stricter answer. Source: ISO 21987, from memory (medium
    confidence); check the current edition.

    >>> prism_imbalance_tolerance(direction="vertical", power_d=8, prescribed_prism_dioptres=0).amount
    0.8
    """
    table = ISO_HORIZONTAL_IMBALANCE if direction == "horizontal" else ISO_VERTICAL_IMBALANCE
    row = next(row for row in table if abs(prescribed_prism_dioptres) <= row.up_to_prism_dioptres)
    if abs(power_d) <= row.fixed_up_to_power_d:
        return Tolerance(row.fixed_prism_dioptres, ISO_21987_MEMORY)
    effect = row.slip_mm / 10 * abs(power_d)
    return Tolerance(row.offset_prism_dioptres + effect, ISO_21987_MEMORY)


def position_tolerance() -> PositionTolerance:
    """Tolerance of segment, fitting point and centre positions (mm) and of a segment's tilt (degrees).

    Source: ISO 21987 as in student notes; check the current edition.
    """
    return PositionTolerance(ISO_POSITION_MM, ISO_TILT_DEG, ISO_21987_NOTES)


def uncut_prism_tolerance(
    *, direction: Direction, highest_power_d: float, prescribed_prism_dioptres: float
) -> Tolerance:
    """Tolerance in prism dioptres at the reference point of an uncut lens.

    A base value + 0.1 or 0.05 x the largest power.
    Source: ISO 8980-1:2004, from memory; check the current edition. Example +0.50/-2.50 x 20:

    >>> across = uncut_prism_tolerance(
    ...     direction="horizontal", highest_power_d=-2.00, prescribed_prism_dioptres=0
    ... )
    >>> round(across.amount, 2)
    0.45
    """
    per_dioptre = (
        ISO_UNCUT_PRISM_HORIZONTAL_PER_D if direction == "horizontal" else ISO_UNCUT_PRISM_VERTICAL_PER_D
    )
    base = bracketed(ISO_UNCUT_PRISM_BASE, prescribed_prism_dioptres)
    return Tolerance(base + per_dioptre * abs(highest_power_d), ISO_8980_1_MEMORY)


def axis_error_for_cylinder_error(*, allowed_error_d: float, cylinder_d: float) -> float:
    """Axis error in degrees whose residual cylinder is the allowed one: asin(allowed / (2 C)), dioptres.

    Source: OLA white paper on ANSI Z80.1-2005 (online.documentine.com): 0.12 on 0.25 D is 13.9 degrees.

    >>> round(axis_error_for_cylinder_error(allowed_error_d=0.12, cylinder_d=0.25), 1)
    13.9
    """
    if cylinder_d == 0 or abs(allowed_error_d) > 2 * abs(cylinder_d):
        raise NotPossible("The allowed error is more than any turn of this cylinder can make.")
    return degrees(asin(abs(allowed_error_d) / (2 * abs(cylinder_d))))

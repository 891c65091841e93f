"""The power of a lens as sphere, cylinder and axis: transposition, meridians, toric surfaces, addition."""

from dataclasses import dataclass
from math import cos, isfinite, radians, sin

from app.optics.eye import axis_in_range, mirrored_axis
from app.optics.refusal import NotPossible


@dataclass(frozen=True, slots=True)
class Power:
    """Sphere and cylinder in dioptres, axis in degrees above 0 and up to 180 (ISO 8429).

    Any axis is brought into that range. Raises NotPossible for a value that is not a number.

    >>> Power(-1.0, -0.5, 217)
    Power(sphere_d=-1.0, cylinder_d=-0.5, axis_deg=37.0)
    """

    sphere_d: float
    cylinder_d: float = 0.0
    axis_deg: float = 180.0

    def __post_init__(self) -> None:
        if not all(isfinite(value) for value in (self.sphere_d, self.cylinder_d, self.axis_deg)):
            raise NotPossible("Sphere, cylinder and axis must be numbers.")
        object.__setattr__(self, "axis_deg", axis_in_range(self.axis_deg))


@dataclass(frozen=True, slots=True)
class ToricForm:
    """A lens written as one spherical surface and one toric surface: curves in dioptres, axes in degrees."""

    sphere_curve_d: float
    base_curve_d: float
    base_axis_deg: float
    cross_curve_d: float
    cross_axis_deg: float


def transposed(power: Power) -> Power:
    """The same power (dioptres, degrees) with the cylinder of the other sign: S + C, -C, axis + 90.

    Source: textbook identity; example checked at http://grafana.stuvia.com/doc/6536242.

    >>> transposed(Power(-1.00, -0.50, 37))
    Power(sphere_d=-1.5, cylinder_d=0.5, axis_deg=127.0)
    """
    return Power(power.sphere_d + power.cylinder_d, -power.cylinder_d, power.axis_deg + 90)


def with_minus_cylinder(power: Power) -> Power:
    """The same power in dioptres written with a minus (or no) cylinder."""
    return transposed(power) if power.cylinder_d > 0 else power


def with_plus_cylinder(power: Power) -> Power:
    """The same power in dioptres written with a plus (or no) cylinder."""
    return transposed(power) if power.cylinder_d < 0 else power


def spherical_equivalent(power: Power) -> float:
    """Mean power in dioptres: S + C / 2.

    >>> spherical_equivalent(Power(3.00, -1.00, 180))
    2.5
    """
    return power.sphere_d + power.cylinder_d / 2


def power_in_meridian(power: Power, meridian_deg: float) -> float:
    """Power in dioptres along a meridian in degrees: S + C sin^2(meridian - axis). Textbook identity.

    >>> round(power_in_meridian(Power(2.75, -1.00, 135), 90), 4)
    2.25
    """
    return power.sphere_d + power.cylinder_d * sin(radians(meridian_deg - power.axis_deg)) ** 2


def horizontal_power(power: Power) -> float:
    """Power in dioptres along the horizontal: S + C sin^2(axis)."""
    return power_in_meridian(power, 180)


def vertical_power(power: Power) -> float:
    """Power in dioptres along the vertical: S + C cos^2(axis).

    Source: P. McCarthy, Back to basics in dispensing (CET), https://scribd.com/document/296771432/b2b.

    >>> vertical_power(Power(2.00, -1.75, 180))
    0.25
    """
    return power.sphere_d + power.cylinder_d * cos(radians(power.axis_deg)) ** 2


def principal_powers(power: Power) -> tuple[float, float]:
    """The two principal powers in dioptres: along the axis (S) and across it (S + C)."""
    return power.sphere_d, power.sphere_d + power.cylinder_d


def highest_principal_power(power: Power) -> float:
    """The principal power in dioptres that is largest in size, with its sign."""
    return max(principal_powers(power), key=abs)


def difference_of_powers(first_d: float, second_d: float) -> float:
    """Second minus first, in dioptres: an addition is near minus distance.

    Source: https://jeopardylabs.com/play/153-midterm-review-2 (distance -3.00, near -0.50: addition 2.50).

    >>> difference_of_powers(-3.00, -0.50)
    2.5
    """
    return second_d - first_d


def with_addition(power: Power, addition_d: float) -> Power:
    """Near power in dioptres and degrees: the addition goes onto the sphere.

    >>> with_addition(Power(-3.00, -0.50, 90), 2.50)
    Power(sphere_d=-0.5, cylinder_d=-0.5, axis_deg=90.0)
    """
    return Power(power.sphere_d + addition_d, power.cylinder_d, power.axis_deg)


def toric_transposition(power: Power, base_curve_d: float) -> ToricForm:
    """A thin lens as one spherical and one toric surface (dioptres, degrees) with the given base curve.

    Bring the cylinder to the sign of the base curve; sphere curve = S - base, cross curve = base + C. The
    base curve acts across the axis of the cylinder written so, the cross curve carries its axis.
    Source: http://mrcophth.com/mock/mock10/stationthree.html (-2.00/+1.50 x 90 on a -6.00 base).

    >>> form = toric_transposition(Power(-2.00, 1.50, 90), -6.00)
    >>> form.sphere_curve_d, form.base_curve_d, form.base_axis_deg, form.cross_curve_d, form.cross_axis_deg
    (5.5, -6.0, 90.0, -7.5, 180.0)
    """
    if base_curve_d == 0:
        raise NotPossible("A toric surface needs a base curve that is not plano.")
    written = with_minus_cylinder(power) if base_curve_d < 0 else with_plus_cylinder(power)
    return ToricForm(
        sphere_curve_d=written.sphere_d - base_curve_d,
        base_curve_d=base_curve_d,
        base_axis_deg=axis_in_range(written.axis_deg + 90),
        cross_curve_d=base_curve_d + written.cylinder_d,
        cross_axis_deg=written.axis_deg,
    )


def mirrored(power: Power) -> Power:
    """The power (dioptres, degrees) as it stands before the fellow eye in a mirror."""
    return Power(power.sphere_d, power.cylinder_d, mirrored_axis(power.axis_deg))

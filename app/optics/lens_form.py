"""Form of a lens: curves, sags and powers.

Surface powers, sags, vertex powers, nominal curves, lens measure and curve variation factor.
Surface powers in dioptres with the package's sign (front of a meniscus +, back -). n is the index for the
helium d line unless stated. Lengths in mm.
"""

from dataclasses import dataclass
from math import sqrt

from app.optics.prescription_algebra import Power
from app.optics.refusal import NotPossible, require_positive

CROWN_INDEX = 1.523  # spectacle crown, the reference of the curve variation factor; from memory of Jalie
TOOL_INDEX = 1.530  # index in which lens measures and tools are marked; common practice


@dataclass(frozen=True, slots=True)
class VertexPowers:
    """Powers of a thick lens in dioptres: nominal F1 + F2, front vertex, back vertex, equivalent."""

    nominal_d: float
    front_vertex_d: float
    back_vertex_d: float
    equivalent_d: float


def surface_radius(*, surface_power_d: float, index: float) -> float:
    """Radius in mm of a surface, size only: r = 1000 (n - 1) / |F|; infinite for a plane. Textbook formula.

    >>> round(surface_radius(surface_power_d=-6, index=1.498), 1)
    83.0
    """
    require_above_one(index)
    return float("inf") if surface_power_d == 0 else 1000 * (index - 1) / abs(surface_power_d)


def surface_power(*, radius_mm: float, index: float) -> float:
    """Power in dioptres of a convex front surface of the given radius.

    F = 1000 (n - 1) / r. Textbook formula.

    >>> surface_power(radius_mm=100, index=1.5)
    5.0
    """
    require_positive(abs(radius_mm), "The radius in mm")
    return 1000 * (index - 1) / radius_mm


def sag_of_curvature(*, curvature_per_mm: float, height_mm: float) -> float:
    """Sag in mm of a sphere of curvature c at a height: c y^2 / (1 + sqrt(1 - c^2 y^2)), with the sign of c.

    Exact, and without loss of digits for flat curves (r - sqrt(r^2 - y^2) has it).
    Source of the example: https://www.johnloomis.org/eop601/notes2011/sag/html/sag_example.html.

    >>> front = sag_of_curvature(curvature_per_mm=0.0104227, height_mm=9)
    >>> back = sag_of_curvature(curvature_per_mm=-0.0406946, height_mm=9)
    >>> round(3.0486 - front + back, 4)
    0.9181
    """
    inside = 1 - (curvature_per_mm * height_mm) ** 2
    if inside < 0:
        raise NotPossible(
            f"A curve of radius {1 / abs(curvature_per_mm):.1f} mm "
            f"does not reach a height of {height_mm:.1f} mm."
        )
    return curvature_per_mm * height_mm**2 / (1 + sqrt(inside))


def front_sag(*, front_power_d: float, index: float, height_mm: float) -> float:
    """Exact sag in mm of a front surface, + towards the eye, at a height: + for a convex front.

    Source of the example: plano-convex +10.00, n 1.523, diameter 40: 3.98 (M. Jalie, Lens Design,
    https://www.tionet.in/Mags/2023/May-June%202023/files/basic-html/page112.html).

    >>> round(front_sag(front_power_d=10, index=1.523, height_mm=20), 2)
    3.98
    """
    require_above_one(index)
    return sag_of_curvature(curvature_per_mm=front_power_d / (1000 * (index - 1)), height_mm=height_mm)


def back_sag(*, back_power_d: float, index: float, height_mm: float) -> float:
    """Exact sag in mm of a back surface, + towards the eye, at a height: + for the hollow back of a meniscus.

    >>> round(back_sag(back_power_d=-6, index=1.498, height_mm=25), 2)
    3.85
    """
    return front_sag(front_power_d=-back_power_d, index=index, height_mm=height_mm)


def approximate_sag(*, surface_power_d: float, index: float, height_mm: float) -> float:
    """Parabolic sag in mm: y^2 F / (2000 (n - 1)), with the sign of F. Textbook approximation.

    >>> approximate_sag(surface_power_d=4, index=1.5, height_mm=30)
    3.6
    """
    require_above_one(index)
    return height_mm**2 * surface_power_d / (2000 * (index - 1))


def require_above_one(index: float) -> None:
    """Refuse a refractive index that no lens material has."""
    if not 1 < index < 3:
        raise NotPossible(
            f"A refractive index of {index:g} is not that of a lens; it lies between 1.4 and 1.9."
        )


def vertex_powers(
    *, front_power_d: float, back_power_d: float, thickness_mm: float, index: float
) -> VertexPowers:
    """Exact (paraxial) powers of a thick lens in dioptres, t/n the reduced thickness in metres.

    Back vertex F1 / (1 - (t/n) F1) + F2; front vertex F2 / (1 - (t/n) F2) + F1; equivalent F1 + F2 - (t/n)
    F1 F2.
    Source: practice answers at http://www.nfos.org/degree/opt11/practice_answers_11a.html.

    >>> powers = vertex_powers(front_power_d=3.00, back_power_d=-8.50, thickness_mm=2.2, index=1.498)
    >>> [round(p, 2) for p in (powers.nominal_d, powers.front_vertex_d, powers.back_vertex_d)]
    [-5.5, -5.4, -5.49]
    """
    reduced_m = thickness_mm / 1000 / index
    return VertexPowers(
        nominal_d=front_power_d + back_power_d,
        front_vertex_d=through_thickness(back_power_d, reduced_m) + front_power_d,
        back_vertex_d=through_thickness(front_power_d, reduced_m) + back_power_d,
        equivalent_d=front_power_d + back_power_d - reduced_m * front_power_d * back_power_d,
    )


def through_thickness(power_d: float, reduced_thickness_m: float) -> float:
    """Vergence in dioptres after a reduced thickness (metres).

    It is F / (1 - (t/n) F). Textbook step-along formula.
    """
    divisor = 1 - reduced_thickness_m * power_d
    if divisor <= 0:
        raise NotPossible(f"Light from a surface of {power_d:+.2f} D crosses over inside a lens this thick.")
    return power_d / divisor


def back_surface_for(
    *, back_vertex_d: float, front_power_d: float, thickness_mm: float, index: float
) -> float:
    """Back surface power in dioptres for a wanted back vertex power: F2 = F'v - F1 / (1 - (t/n) F1).

    >>> round(back_surface_for(back_vertex_d=-6, front_power_d=2, thickness_mm=1.5, index=1.6), 3)
    -8.004
    """
    return back_vertex_d - through_thickness(front_power_d, thickness_mm / 1000 / index)


def nominal_back_surface(power: Power, front_power_d: float) -> Power:
    """Back surface of a thin lens with a spherical front (dioptres, degrees): S - F1, cylinder and axis kept.

    Source: http://grafana.stuvia.com/doc/6536242 (-2.00/-1.00 x 45 on +6.25: -8.25/-1.00).

    >>> nominal_back_surface(Power(-2.00, -1.00, 45), 6.25)
    Power(sphere_d=-8.25, cylinder_d=-1.0, axis_deg=45.0)
    """
    return Power(power.sphere_d - front_power_d, power.cylinder_d, power.axis_deg)


def curve_variation_factor(*, index: float, reference_index: float = CROWN_INDEX) -> float:
    """Factor by which curves flatten against the reference material: (n_ref - 1) / (n - 1).

    Source: M. Jalie, http://www.precision-optical.co.uk/Resources/Jalie/Lens_Data.html (1.700: 0.75).

    >>> round(curve_variation_factor(index=1.700), 2)
    0.75
    """
    require_above_one(index)
    return (reference_index - 1) / (index - 1)


def surface_power_from_lens_measure(
    *, reading_d: float, index: float, measure_index: float = TOOL_INDEX
) -> float:
    """True surface power in dioptres from a lens measure marked for another index: R (n - 1) / (n_m - 1).

    Source: formula at freezingblue.com, card set 266585.

    >>> round(surface_power_from_lens_measure(reading_d=6.00, index=1.586), 2)
    6.63
    """
    require_above_one(measure_index)
    return reading_d * (index - 1) / (measure_index - 1)


def index_class(index: float) -> str:
    """Class of a refractive index: normal, mid, high or very high, from 1.48, 1.54, 1.64 and 1.74.

    Source: BS 7394-2, as quoted by M. Jalie,
    http://www.precision-optical.co.uk/Resources/Jalie/Lens_Data.html.

    >>> [index_class(n) for n in (1.498, 1.586, 1.67, 1.74)]
    ['normal', 'mid', 'high', 'very high']
    """
    require_above_one(index)
    for limit, name in ((1.54, "normal"), (1.64, "mid"), (1.74, "high")):
        if index < limit:
            return name
    return "very high"


def transverse_chromatic_aberration(*, prism_dioptres: float, abbe_number: float) -> float:
    """Colour fringe in prism dioptres at a point of the lens: prism / Abbe number.

    0.1 is the usual threshold.
    Source: Jalie, The Principles of Ophthalmic Lenses, from memory.

    >>> round(transverse_chromatic_aberration(prism_dioptres=6, abbe_number=30), 2)
    0.2
    """
    require_positive(abbe_number, "The Abbe number")
    return abs(prism_dioptres) / abbe_number

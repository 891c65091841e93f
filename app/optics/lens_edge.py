"""Thickness of a lens all round a real outline, with its thickest and thinnest point.

The front is spherical, the back may be toric, and prism may be worked.
Points are front view (x to the observer's right, y up) in mm from the optical centre. In each meridian the
back has the surface power S + C sin^2(meridian - axis); for a sphere the thickness is exact, for a torus
within hundredths of a millimetre at the edge.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from app.optics.lens_form import back_surface_for, require_above_one
from app.optics.outline_size import Outline
from app.optics.prescription_algebra import Power
from app.optics.prism import NO_PRISM, Prism
from app.optics.refusal import NotPossible, require_positive

PASSES = 50
SETTLED_MM = 1e-9


@dataclass(frozen=True, slots=True)
class Lens:
    """A lens ready to be cut: curves in dioptres, centre thickness in mm, index, worked prism.
    `back` holds the surface powers of the back (minus-cylinder or plus-cylinder form, degrees);
    `worked_prism` in prism dioptres is what surfacing adds at the optical centre, base towards the thicker
    side.
    """

    front_power_d: float
    back: Power
    centre_thickness_mm: float
    index: float
    worked_prism: Prism = NO_PRISM


@dataclass(frozen=True, slots=True)
class EdgeProfile:
    """Thickness in mm at each corner point of an outline, and where it is greatest and least (x, y in mm)."""

    thickness_mm: NDArray[np.float64]
    thickest_mm: float
    thickest_at_mm: tuple[float, float]
    thinnest_mm: float
    thinnest_at_mm: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Minimum:
    """Least thickness in mm that the material and the mount allow: at the optical centre and at the edge."""

    centre_mm: float
    edge_mm: float


def lens_of_power(
    power: Power,
    *,
    front_power_d: float,
    centre_thickness_mm: float,
    index: float,
    worked_prism: Prism = NO_PRISM,
) -> Lens:
    """The lens (mm, dioptres) of a back vertex power with a given front and centre, by meridians.

    Source: F2 = F'v - F1 / (1 - (t/n) F1), textbook; the cylinder is on the back.

    >>> lens = lens_of_power(Power(-6.0, -1.0, 90), front_power_d=2, centre_thickness_mm=1.5, index=1.6)
    >>> round(lens.back.sphere_d, 3), lens.back.cylinder_d
    (-8.004, -1.0)
    """
    require_above_one(index)
    sphere = back_surface_for(
        back_vertex_d=power.sphere_d,
        front_power_d=front_power_d,
        thickness_mm=centre_thickness_mm,
        index=index,
    )
    back = Power(sphere, power.cylinder_d, power.axis_deg)
    return Lens(front_power_d, back, centre_thickness_mm, index, worked_prism)


def sags(
    curvature_per_mm: NDArray[np.float64] | float, height_mm: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Exact sags in mm for arrays of curvatures (1/mm) and heights (mm): c y^2 / (1 + sqrt(1 - c^2 y^2))."""
    inside = 1 - np.square(curvature_per_mm * height_mm)
    if np.any(inside < 0):
        raise NotPossible(
            "A curve this steep does not reach the edge of a lens this large; choose a flatter form."
        )
    return np.asarray(curvature_per_mm * np.square(height_mm) / (1 + np.sqrt(inside)), dtype=float)


def thickness_at_points(lens: Lens, points_mm: NDArray[np.float64]) -> NDArray[np.float64]:
    """Thickness in mm, shape (n,), at points (n, 2) in mm from the optical centre: t - z1 + z2 + prism wedge.

    Negative where the surfaces have crossed. Wedge: P . r / (100 (n - 1)), thicker towards the base.

    >>> lens = Lens(4.0, Power(-14.0), 1.0, 1.523)
    >>> thickness_at_points(lens, np.array([[22.0, 0.0], [0.0, 22.0]])).round(3).tolist()
    [6.301, 6.301]
    """
    require_above_one(lens.index)
    right, up = points_mm[:, 0], points_mm[:, 1]
    height = np.hypot(right, up)
    per_dioptre = 1 / (1000 * (lens.index - 1))
    meridian = np.arctan2(up, right) - np.radians(lens.back.axis_deg)
    back_power = lens.back.sphere_d + lens.back.cylinder_d * np.square(np.sin(meridian))
    prism = lens.worked_prism
    wedge = (prism.right_prism_dioptres * right + prism.up_prism_dioptres * up) / (100 * (lens.index - 1))
    front = sags(lens.front_power_d * per_dioptre, height)
    return np.asarray(lens.centre_thickness_mm - front + sags(-back_power * per_dioptre, height) + wedge)


def edge_profile(lens: Lens, outline_mm: Outline, optical_centre_mm: tuple[float, float]) -> EdgeProfile:
    """Edge thickness (mm) all round an outline (n, 2); the optical centre (x, y) is in the outline's axes.

    The thickness between two corner points is not sampled: give an outline with points a millimetre or two
    apart.
    """
    from_centre = outline_mm - np.asarray(optical_centre_mm)
    thickness = thickness_at_points(lens, from_centre)
    thickest, thinnest = int(np.argmax(thickness)), int(np.argmin(thickness))
    return EdgeProfile(
        thickness_mm=thickness,
        thickest_mm=float(thickness[thickest]),
        thickest_at_mm=(float(outline_mm[thickest, 0]), float(outline_mm[thickest, 1])),
        thinnest_mm=float(thickness[thinnest]),
        thinnest_at_mm=(float(outline_mm[thinnest, 0]), float(outline_mm[thinnest, 1])),
    )


def thinnest_lens(
    power: Power,
    *,
    front_power_d: float,
    index: float,
    outline_mm: Outline,
    optical_centre_mm: tuple[float, float],
    minimum: Minimum,
    worked_prism: Prism = NO_PRISM,
) -> Lens:
    """The thinnest lens for an outline (n, 2) in mm that keeps the least centre and the least edge thickness.

    Centre and back surface depend on each other: start with the least centre, add what the thinnest edge
    lacks, and repeat until nothing is lacking (3 to 5 passes for 0.01 mm).

    >>> circle = 30 * np.column_stack((np.cos(np.arange(0, 6.28, 0.01)), np.sin(np.arange(0, 6.28, 0.01))))
    >>> lens = thinnest_lens(Power(4), front_power_d=8, index=1.498, outline_mm=circle,
    ...                      optical_centre_mm=(0, 0), minimum=Minimum(centre_mm=1.0, edge_mm=1.0))
    >>> round(lens.centre_thickness_mm, 3)
    4.836
    """
    require_positive(minimum.centre_mm, "The least centre thickness in mm")
    from_centre = outline_mm - np.asarray(optical_centre_mm)
    centre = minimum.centre_mm
    for _ in range(PASSES):
        lens = lens_of_power(
            power,
            front_power_d=front_power_d,
            centre_thickness_mm=centre,
            index=index,
            worked_prism=worked_prism,
        )
        lacking = minimum.edge_mm - float(thickness_at_points(lens, from_centre).min())
        following = max(minimum.centre_mm, centre + lacking)
        if abs(following - centre) < SETTLED_MM:
            return lens
        centre = following
    raise NotPossible(
        f"No thickness settles for {power.sphere_d:+.2f} D on a front of {front_power_d:+.2f} D."
    )

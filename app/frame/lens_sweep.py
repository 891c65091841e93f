"""One lens over many outlines or centrations at once: centre, edge all round, weight. Arrays instead of loops.

The same formulas as `app.optics.lens_edge` and `app.optics.lens_weight`, which work on one lens and against which
tests hold this one; here the first axis of every array counts the cases (k), the second the points (n).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from app.optics.lens_edge import Minimum, sags
from app.optics.lens_form import through_thickness
from app.optics.prescription_algebra import Power
from app.optics.prism import NO_PRISM, Prism
from app.optics.refusal import NotPossible

PASSES = 40
SETTLED_MM = 1e-7
ALONG, ALONG_WEIGHT = np.polynomial.legendre.leggauss(4)
ACROSS, ACROSS_WEIGHT = np.polynomial.legendre.leggauss(2)

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class LensOrder:
    """What a lens is to be: powers in dioptres, worked prism, front curve, index, least thicknesses in mm."""

    power: Power
    front_power_d: float
    index: float
    minimum: Minimum
    worked_prism: Prism = NO_PRISM


@dataclass(frozen=True, slots=True, kw_only=True)
class LensSweep:
    """Lenses as they come out, case by case: thicknesses in mm, places (x, y) in mm in the outline's axes."""

    centre_mm: Array
    back_sphere_d: Array
    edge_mm: Array
    """Shape (k, n): at every corner point."""
    outlines_mm: Array
    centres_mm: Array

    @property
    def thickest_mm(self) -> Array:
        """Greatest edge thickness, shape (k,)."""
        return np.asarray(self.edge_mm.max(axis=1))

    @property
    def thinnest_mm(self) -> Array:
        """Least edge thickness, shape (k,)."""
        return np.asarray(self.edge_mm.min(axis=1))

    def only(self, cases: list[int]) -> "LensSweep":
        """Some of the cases."""
        return LensSweep(
            centre_mm=self.centre_mm[cases],
            back_sphere_d=self.back_sphere_d[cases],
            edge_mm=self.edge_mm[cases],
            outlines_mm=self.outlines_mm[cases],
            centres_mm=self.centres_mm[cases],
        )

    def place(self, case: int, *, thickest: bool) -> tuple[float, float]:
        """Where the edge is thickest or thinnest, (x, y) in mm from the boxed centre."""
        edge = self.edge_mm[case]
        found = self.outlines_mm[case, int(edge.argmax() if thickest else edge.argmin())]
        return float(found[0]), float(found[1])


def sweep(order: LensOrder, outlines_mm: Array, centres_mm: Array) -> LensSweep:
    """The thinnest lens for each outline (k, n, 2) and optical centre (k, 2), all in mm.

    The centre is the least one, or as much more as the thinnest edge needs; the back surface follows it.
    Raises NotPossible where a curve does not reach the edge, or no thickness settles.
    """
    from_centre = outlines_mm - centres_mm[:, None, :]
    centre = np.full(len(from_centre), order.minimum.centre_mm)
    fixed = _fixed_part(order, from_centre)
    for _ in range(PASSES):
        back = _back_sphere(order, centre)
        edge = centre[:, None] + fixed + _back_sags(order, back, from_centre)
        following = np.maximum(order.minimum.centre_mm, centre + order.minimum.edge_mm - edge.min(axis=1))
        if float(np.abs(following - centre).max()) < SETTLED_MM:
            return LensSweep(
                centre_mm=centre,
                back_sphere_d=back,
                edge_mm=edge,
                outlines_mm=outlines_mm,
                centres_mm=centres_mm,
            )
        centre = following
    raise NotPossible(
        f"No thickness settles for {order.power.sphere_d:+.2f} D on a front of {order.front_power_d:+.2f} D."
    )


def volumes(order: LensOrder, lenses: LensSweep) -> Array:
    """Volume in mm3 of each cut lens, shape (k,): thickness integrated over a fan of triangles from the centre.

    Gauss-Legendre, 4 points by 2 in each triangle; textbook.
    """
    start = lenses.outlines_mm - lenses.centres_mm[:, None, :]
    step = np.roll(start, -1, axis=1) - start
    doubled_area = start[..., 0] * step[..., 1] - start[..., 1] * step[..., 0]
    along, across = (ALONG + 1) / 2, (ACROSS + 1) / 2
    points = along[:, None, None, None, None] * (start + across[:, None, None, None] * step)
    weights = (ALONG_WEIGHT / 2 * along)[:, None, None, None] * (ACROSS_WEIGHT / 2)[:, None, None]
    cases = len(start)
    flat = np.moveaxis(points, 2, 0).reshape(cases, -1, 2)
    thickness = (
        lenses.centre_mm[:, None] + _fixed_part(order, flat) + _back_sags(order, lenses.back_sphere_d, flat)
    )
    shaped = np.moveaxis(thickness.reshape(cases, len(along), len(across), -1), 0, 2)
    return np.asarray(np.abs((weights * doubled_area * shaped).sum(axis=(0, 1, 3))))


def _back_sphere(order: LensOrder, centre_mm: Array) -> Array:
    """Back surface power in dioptres of each case: F2 = F'v - F1 / (1 - (t/n) F1)."""
    if float(centre_mm.max()) * order.front_power_d >= 1000 * order.index:
        through_thickness(order.front_power_d, float(centre_mm.max()) / 1000 / order.index)
    front = order.front_power_d
    return np.asarray(order.power.sphere_d - front / (1 - centre_mm / 1000 / order.index * front))


def _fixed_part(order: LensOrder, points_mm: Array) -> Array:
    """What the front and a worked prism do to the thickness at each point, shape (k, n): - z1 + wedge."""
    height = np.hypot(points_mm[..., 0], points_mm[..., 1])
    front = sags(order.front_power_d / (1000 * (order.index - 1)), height)
    prism = order.worked_prism
    if not (prism.right_prism_dioptres or prism.up_prism_dioptres):
        return np.asarray(-front)
    wedge = prism.right_prism_dioptres * points_mm[..., 0] + prism.up_prism_dioptres * points_mm[..., 1]
    return np.asarray(wedge / (100 * (order.index - 1)) - front)


def _back_sags(order: LensOrder, back_sphere_d: Array, points_mm: Array) -> Array:
    """Sag of the back at each point, shape (k, n), with the surface power S + C sin^2 of that meridian."""
    right, up = points_mm[..., 0], points_mm[..., 1]
    squared = right * right + up * up
    axis = np.radians(order.power.axis_deg)
    # sin^2 of the angle to the axis without an arctangent: the part of the way that lies across the axis
    across = np.square(up * np.cos(axis) - right * np.sin(axis)) / np.maximum(squared, 1e-300)
    power = back_sphere_d[:, None] + order.power.cylinder_d * across
    return sags(-power / (1000 * (order.index - 1)), np.sqrt(squared))

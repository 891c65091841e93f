"""Prism by decentration: Prentice's rule with the whole power matrix, and its inverse.

Positions are front-view (x to the observer's right, y up) in mm; a plus lens moves the base with the
optical centre, a minus lens against it.
"""

import numpy as np
from numpy.typing import NDArray

from app.optics.power_matrix import power_matrix
from app.optics.prescription_algebra import Power
from app.optics.prism import Prism
from app.optics.refusal import NotPossible

NO_POWER_D = 1e-6  # a meridian weaker than this makes no prism that could be worked


def prism_by_decentration(power_d: float, decentration_mm: float) -> float:
    """Prism in prism dioptres of a decentration in mm, with the sign of the product: P = c F, c in cm.

    + means base in the direction of the decentration. Source: C. F. Prentice (1890); +5.00 by 10 mm: 5.0 at
    http://www.mrcophth.com/iia.html.

    >>> prism_by_decentration(5.00, 10)
    5.0
    """
    return decentration_mm / 10 * power_d


def decentration_for_prism(power_d: float, prism_dioptres: float) -> float:
    """Decentration in mm that makes a prism (prism dioptres): 10 P / F; + towards the base, - away from it.

    >>> decentration_for_prism(4.00, 2.0), decentration_for_prism(-4.00, 2.0)
    (5.0, -5.0)
    """
    if abs(power_d) < NO_POWER_D:
        raise NotPossible("A lens without power makes no prism by decentration; it has to be worked.")
    return 10 * prism_dioptres / power_d


def prism_at_point(
    power: Power,
    *,
    optical_centre_mm: tuple[float, float] = (0.0, 0.0),
    point_mm: tuple[float, float],
) -> Prism:
    """Prism in prism dioptres that the eye meets at a point of the lens: P = F d, d = (centre - point) in cm.

    Both points are (x, y) in mm, front view. A real lens differs by under 2 % up to 10 mm and 5 D.
    Source: power-matrix form of Prentice's rule; M. Jalie, right +6.00/-3.00 x 140, point 11 below and 2.5
    in: 5.03 up and 2.81 out (https://www.tionet.in/Mags/2024/Nov-Dec%202024/files/basic-html/page139.html).

    >>> prism = prism_at_point(Power(6, -3, 140), point_mm=(2.5, -11))
    >>> round(prism.up_prism_dioptres, 3), round(prism.right_prism_dioptres, 3)
    (5.033, -2.815)
    """
    centre_from_point_cm = np.subtract(optical_centre_mm, point_mm) / 10
    right, up = power_matrix(power) @ centre_from_point_cm
    return Prism(float(right), float(up))


def optical_centre_for_prism(
    power: Power, prism: Prism, *, point_mm: tuple[float, float] = (0.0, 0.0)
) -> tuple[float, float]:
    """Optical centre (x, y) in mm that gives a prism (prism dioptres) at a point.

    d = F^-1 P, the inverse of Prentice.
    Raises NotPossible when a principal meridian has no power: then prism must be worked, not decentred.
    Source: inverse of the matrix form; component form M. Jalie, as in `prism_at_point`, page 140.

    >>> centre = optical_centre_for_prism(Power(6, -3, 140), Prism(-2.81505, 5.032783))
    >>> round(centre[0], 2), round(centre[1], 2)
    (-2.5, 11.0)
    """
    if min(abs(power.sphere_d), abs(power.sphere_d + power.cylinder_d)) < NO_POWER_D:
        raise NotPossible(
            "One meridian has no power: this prism cannot be made by moving the optical centre."
        )
    wanted = np.array([prism.right_prism_dioptres, prism.up_prism_dioptres])
    shift_mm = 10 * np.linalg.solve(power_matrix(power), wanted)
    return float(point_mm[0] + shift_mm[0]), float(point_mm[1] + shift_mm[1])


def prism_over_points(power: Power, centre_from_point_mm: NDArray[np.float64]) -> NDArray[np.float64]:
    """Prism components (n, 2) in prism dioptres for an array (n, 2) of centre-minus-point vectors in mm."""
    return np.asarray(centre_from_point_mm / 10 @ power_matrix(power).T, dtype=float)

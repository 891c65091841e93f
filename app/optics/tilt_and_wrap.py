"""Power of a tilted and wrapped lens: worn from ordered, and ordered from wanted.
Thin lens, line of sight through the optical centre. Pantoscopic tilt + with the lower rim towards the face,
wrap + with the temporal side towards the face, degrees. Real thick, curved lenses differ by a few
hundredths of a dioptre at 10 degrees; `tests/optics/test_against_ray_tracer.py` tabulates by how much.
"""

from dataclasses import dataclass
from math import atan, cos, degrees, radians, sin, sqrt, tan
from typing import Literal

import numpy as np

from app.optics.eye import Eye, nasal_sign
from app.optics.power_matrix import Matrix, power_from_matrix, power_matrix
from app.optics.prescription_algebra import Power
from app.optics.refusal import NotPossible

LARGEST_TILT_DEG = 45.0  # no spectacle lens is worn beyond; the thin-lens series has lost its meaning there


@dataclass(frozen=True, slots=True)
class Wear:
    """How a lens sits before its eye: pantoscopic tilt and wrap in degrees, refractive index of the lens."""

    eye: Eye
    pantoscopic_deg: float
    wrap_deg: float
    index: float


def require_wearable(angle_deg: float) -> None:
    """Refuse a tilt in degrees beyond what any spectacle front has."""
    if not -LARGEST_TILT_DEG <= angle_deg <= LARGEST_TILT_DEG:
        raise NotPossible(
            f"A tilt of {angle_deg:g} degrees is outside -45 to 45; is it measured from the vertical?"
        )


def martin_power(
    *, sphere_d: float, tilt_deg: float, index: float, axis_of_rotation: Literal["horizontal", "vertical"]
) -> Power:
    """Power (dioptres) of a tilted sphere by Martin's formula: S' = S (1 + sin^2 t / 2n), C = S' tan^2 t.

    The cylinder has the sign of S, its axis is the axis of rotation: 180 for pantoscopic tilt (horizontal),
    90 for wrap (vertical). Source: L. C. Martin's formula, example with 2n = 3 at
    http://courses.durhamtech.edu/opticianry/oph142/NFOS-12/lens_tilt.html.

    >>> worn = martin_power(sphere_d=15, tilt_deg=10, index=1.5, axis_of_rotation="horizontal")
    >>> round(worn.sphere_d, 2), round(worn.cylinder_d, 2), worn.axis_deg
    (15.15, 0.47, 180.0)
    """
    require_wearable(tilt_deg)
    sphere = sphere_d * sagittal_factor(tilt_deg=tilt_deg, index=index)
    cylinder = sphere * tan(radians(tilt_deg)) ** 2
    return Power(sphere, cylinder, 180 if axis_of_rotation == "horizontal" else 90)


def sagittal_factor(*, tilt_deg: float, index: float) -> float:
    """Factor on the power along the axis of rotation: 1 + sin^2 t / (2 n), t in degrees (Martin)."""
    return 1 + sin(radians(tilt_deg)) ** 2 / (2 * index)


def oblique_power_exactly(*, sphere_d: float, tilt_deg: float, index: float) -> tuple[float, float]:
    """Sagittal and tangential power in dioptres of a tilted thin lens, exactly (Coddington).

    K = (n cos t' - cos t) / (n - 1), sin t' = sin t / n: K S and K S / cos^2 t. Source: Coddington's
    equations, textbook.

    >>> [round(p, 3) for p in oblique_power_exactly(sphere_d=6, tilt_deg=20, index=1.586)]
    [6.235, 7.061]
    """
    require_wearable(tilt_deg)
    cosine = cos(radians(tilt_deg))
    cosine_inside = sqrt(1 - (sin(radians(tilt_deg)) / index) ** 2)
    sagittal = sphere_d * (index * cosine_inside - cosine) / (index - 1)
    return sagittal, sagittal / cosine**2


def effective_tilt(*, pantoscopic_deg: float, wrap_deg: float) -> float:
    """One tilt in degrees that stands for tilt and wrap together: tan t = sqrt(sin^2 w + tan^2 p) / cos w.

    It is the angle of the lens normal to the line of sight. Source: formula after Keating and Blendowske at
    https://www.optiboard.com/forums/showthread.php/62122.

    >>> round(effective_tilt(pantoscopic_deg=9, wrap_deg=6), 2)
    10.8
    """
    require_wearable(pantoscopic_deg)
    require_wearable(wrap_deg)
    wrap = radians(wrap_deg)
    return degrees(atan(sqrt(sin(wrap) ** 2 + tan(radians(pantoscopic_deg)) ** 2) / cos(wrap)))


def lens_to_face(wear: Wear) -> Matrix:
    """Upper-left (2, 2) block of the rotation that carries lens coordinates to the wearer's: R_y(w) R_x(p).

    With z towards the observer, a temporal side that goes to the face turns a right lens by -w about y, a
    left lens by +w; a lower rim that goes to the face turns both by +p about x. No unit.
    """
    pantoscopic = radians(wear.pantoscopic_deg)
    wrap = -nasal_sign(wear.eye) * radians(wear.wrap_deg)
    return np.array([[cos(wrap), sin(wrap) * sin(pantoscopic)], [0.0, cos(pantoscopic)]])


def worn_power(ordered: Power, wear: Wear) -> Power:
    """Power before the eye (dioptres, minus cylinder, degrees) of an ordered lens as worn.

    F' = k A^-T F A^-1.
    A is `lens_to_face`, k = 1 + sin^2 t / (2 n) with the effective tilt t.
    Source: Keating (1995) and Blendowske (2002) in the matrix form of Harris (2002), from memory; effective
    tilt at https://www.optiboard.com/forums/showthread.php/62122. Agrees with an exact trace of tilted thin
    toric lenses within 0.01 D and 0.1 degree up to 18 degrees.

    >>> worn = worn_power(Power(-4.00, -2.00, 30), Wear("right", pantoscopic_deg=9, wrap_deg=6, index=1.6))
    >>> round(worn.sphere_d, 2), round(worn.cylinder_d, 2), round(worn.axis_deg, 1)
    (-4.16, -1.95, 28.3)
    """
    inverse = np.linalg.inv(lens_to_face(wear))
    return power_from_matrix(_factor(wear) * inverse.T @ power_matrix(ordered) @ inverse)


def power_to_order(wanted: Power, wear: Wear) -> Power:
    """Lens to order (dioptres, minus cylinder, degrees) so that the wanted power acts as worn.

    F = A^T F' A / k.
    The exact inverse of `worn_power`; do not apply it to a lens that its maker already compensates for wear.
    Source: as for `worn_power`.

    >>> wear = Wear("right", pantoscopic_deg=8, wrap_deg=6, index=1.5)
    >>> order = power_to_order(worn_power(Power(1.50, -0.75, 165), wear), wear)
    >>> round(order.sphere_d, 6), round(order.cylinder_d, 6), round(order.axis_deg, 6)
    (1.5, -0.75, 165.0)
    """
    turn = lens_to_face(wear)
    return power_from_matrix(turn.T @ power_matrix(wanted) @ turn / _factor(wear))


def _factor(wear: Wear) -> float:
    """Martin's factor for the effective tilt of a lens as worn."""
    tilt = effective_tilt(pantoscopic_deg=wear.pantoscopic_deg, wrap_deg=wear.wrap_deg)
    return sagittal_factor(tilt_deg=tilt, index=wear.index)

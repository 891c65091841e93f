"""The power of a lens as a 2 x 2 matrix and as a power vector, and the sum of lenses in contact.

The matrix is in dioptres, rows and columns (x, y) of the front view.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from math import atan2, cos, degrees, hypot, radians, sin, sqrt

import numpy as np
from numpy.typing import NDArray

from app.optics.prescription_algebra import Power

Matrix = NDArray[np.float64]
NO_CYLINDER_D = 1e-9  # below this a computed cylinder is rounding error, and the axis means nothing


@dataclass(frozen=True, slots=True)
class PowerVector:
    """Thibos' power vector in dioptres.

    Its parts are the mean sphere and the two crossed-cylinder components at 0/90 and 45/135.
    """

    mean_d: float
    straight_d: float
    oblique_d: float


def power_matrix(power: Power) -> Matrix:
    """Dioptric power matrix, shape (2, 2), in dioptres.

    F = [[S + C sin^2 A, -C sin A cos A], [-C sin A cos A, S + C cos^2 A]].
    Source: W. E. Humphrey and W. F. Long; M. P. Keating (1980), Am J Optom Physiol Opt 57, from memory.

    >>> power_matrix(Power(2.0, -1.0, 45)).round(6).tolist()
    [[1.5, 0.5], [0.5, 1.5]]
    """
    sine, cosine = sin(radians(power.axis_deg)), cos(radians(power.axis_deg))
    across = -power.cylinder_d * sine * cosine
    return np.array(
        [
            [power.sphere_d + power.cylinder_d * sine**2, across],
            [across, power.sphere_d + power.cylinder_d * cosine**2],
        ]
    )


def power_from_matrix(matrix_d: Matrix) -> Power:
    """Sphere, minus cylinder (dioptres) and axis (degrees) of a symmetric (2, 2) power matrix in dioptres.

    C = -sqrt(trace^2 - 4 det), S = (trace - C) / 2, tan 2A = 2 F12 / (F11 - F22); a slight asymmetry is
    averaged out.
    Source: textbook eigenvalue identity, as in Keating (1980), from memory.

    >>> power_from_matrix(power_matrix(Power(-2.0, -1.5, 30)))
    Power(sphere_d=-2.0, cylinder_d=-1.5, axis_deg=30.0)
    """
    right, up = float(matrix_d[0, 0]), float(matrix_d[1, 1])
    across = float(matrix_d[0, 1] + matrix_d[1, 0]) / 2
    cylinder = -hypot(right - up, 2 * across)
    if -cylinder < NO_CYLINDER_D:
        return Power((right + up) / 2)
    axis = degrees(atan2(2 * across, right - up)) / 2
    return Power(_settled((right + up - cylinder) / 2), _settled(cylinder), _settled(axis))


def _settled(value: float) -> float:
    """Rounding error of the last binary digits removed.

    Twelve decimals stay, so that an axis of 180 does not read 0.
    """
    return round(value, 12)


def power_vector(power: Power) -> PowerVector:
    """Power vector in dioptres: M = S + C/2, J0 = -(C/2) cos 2A, J45 = -(C/2) sin 2A.

    Source: Thibos, Wheeler & Horner (1997), Optom Vis Sci 74:367, from memory.

    >>> vector = power_vector(Power(2.50, -1.25, 105))
    >>> vector.mean_d, round(vector.straight_d, 6), round(vector.oblique_d, 4)
    (1.875, -0.541266, -0.3125)
    """
    double_axis = radians(2 * power.axis_deg)
    half = -power.cylinder_d / 2
    return PowerVector(
        power.sphere_d + power.cylinder_d / 2, half * cos(double_axis), half * sin(double_axis)
    )


def power_from_vector(vector: PowerVector) -> Power:
    """Sphere, minus cylinder (dioptres) and axis (degrees) of a power vector.

    C = -2 sqrt(J0^2 + J45^2), S = M - C/2, A = atan2 / 2.
    Source: Thibos, Wheeler & Horner (1997), from memory.
    """
    half = hypot(vector.straight_d, vector.oblique_d)
    if half < NO_CYLINDER_D:
        return Power(vector.mean_d)
    axis = degrees(atan2(vector.oblique_d, vector.straight_d)) / 2
    return Power(_settled(vector.mean_d + half), _settled(-2 * half), _settled(axis))


def blur_strength(power: Power) -> float:
    """Length of the power vector in dioptres: sqrt(M^2 + J0^2 + J45^2).

    Source: Thibos, Wheeler & Horner (1997).

    >>> round(blur_strength(Power(2.50, -1.25, 105)), 4)
    1.9764
    """
    vector = power_vector(power)
    return sqrt(vector.mean_d**2 + vector.straight_d**2 + vector.oblique_d**2)


def sum_in_contact(powers: Iterable[Power]) -> Power:
    """Minus-cylinder power (dioptres, degrees) of thin lenses in contact: their matrices add.

    Source of the example: +2.62/-2.24 x 122 at
    https://brainscape.com/flashcards/82-obliquely-crossed-cylinders-9441856.

    >>> total = sum_in_contact([Power(0, 1.00, 180), Power(0, 2.00, 45)])
    >>> round(total.sphere_d, 2), round(total.cylinder_d, 2), round(total.axis_deg)
    (2.62, -2.24, 122)
    """
    return power_from_matrix(sum((power_matrix(power) for power in powers), start=np.zeros((2, 2))))

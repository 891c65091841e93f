"""Effect of vertex distance: the power needed when the lens is worn nearer to or farther from the eye."""

import numpy as np

from app.optics.power_matrix import power_from_matrix, power_matrix
from app.optics.prescription_algebra import Power, highest_principal_power
from app.optics.refusal import NotPossible

TESTED_VERTEX_NEEDED_FROM_D = 5.0  # from memory of BS 2738-3: state the vertex distance from 5.00 D


def moved_power(power_d: float, *, tested_vertex_mm: float, worn_vertex_mm: float) -> float:
    """Power in dioptres that at the worn vertex distance does what `power_d` did at the tested one.

    F' = F / (1 - x F), x the way towards the eye in metres: x = (tested - worn) / 1000.
    Source: https://brainscape.com/flashcards/week-106-spectacle-mag-17752956 (-12.00, 10 to 14 mm: -12.61).

    >>> round(moved_power(-12, tested_vertex_mm=10, worn_vertex_mm=14), 2)
    -12.61
    """
    towards_eye_m = (tested_vertex_mm - worn_vertex_mm) / 1000
    divisor = 1 - towards_eye_m * power_d
    if divisor <= 0:
        raise NotPossible(f"A lens of {power_d:+.2f} D cannot be moved by {towards_eye_m * 1000:g} mm.")
    return power_d / divisor


def moved_prescription(power: Power, *, tested_vertex_mm: float, worn_vertex_mm: float) -> Power:
    """Sphere, cylinder (dioptres) and axis (degrees) needed at the worn vertex distance (mm).

    Effectivity along each principal meridian; the axis and the sign of the cylinder stay.
    Source: textbook identity; -4.25/-0.75 x 90 from 14 to 0 mm at
    https://www.optiboard.com/forums/showthread.php/70987-Toric-Vertex-Compensation.

    >>> moved = moved_prescription(Power(-4.25, -0.75, 90), tested_vertex_mm=14, worn_vertex_mm=0)
    >>> round(moved.sphere_d, 2), round(moved.cylinder_d, 2), moved.axis_deg
    (-4.01, -0.66, 90.0)
    """
    along = moved_power(power.sphere_d, tested_vertex_mm=tested_vertex_mm, worn_vertex_mm=worn_vertex_mm)
    across = moved_power(
        power.sphere_d + power.cylinder_d, tested_vertex_mm=tested_vertex_mm, worn_vertex_mm=worn_vertex_mm
    )
    return Power(along, across - along, power.axis_deg)


def moved_prescription_by_matrix(power: Power, *, tested_vertex_mm: float, worn_vertex_mm: float) -> Power:
    """The same by matrices, F' = F (I - x F)^-1 (dioptres, metres), in minus-cylinder form: the second route.

    Source: Keating (1981), power-matrix effectivity, from memory.
    """
    towards_eye_m = (tested_vertex_mm - worn_vertex_mm) / 1000
    matrix = power_matrix(power)
    return power_from_matrix(matrix @ np.linalg.inv(np.eye(2) - towards_eye_m * matrix))


def needs_tested_vertex(power: Power) -> bool:
    """True when the prescription should state the vertex distance at which it was found.

    That is from 5.00 D in any meridian.
    Source: UK practice after BS 2738-3, from memory.

    >>> needs_tested_vertex(Power(-3.00, -2.00, 90)), needs_tested_vertex(Power(-3.00, -1.75, 90))
    (True, False)
    """
    return abs(highest_principal_power(power)) >= TESTED_VERTEX_NEEDED_FROM_D

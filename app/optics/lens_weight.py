"""Volume and weight of a lens: round and uncut in closed form, cut to an outline by integration.

Volumes in mm3, density in g/cm3, weights in g. A bevel, a groove or drilled holes are left out.
"""

from math import pi

import numpy as np

from app.optics.lens_edge import Lens, thickness_at_points
from app.optics.lens_form import back_sag, front_sag
from app.optics.lens_thickness import SphericalLens, thickness_at
from app.optics.outline_size import Outline
from app.optics.refusal import require_positive

# Five points by two in each triangle: within 2 parts in 100 000 for -8.00/-3.00 in a 50 x 36 rectangle.
ALONG, ALONG_WEIGHT = np.polynomial.legendre.leggauss(5)
ACROSS, ACROSS_WEIGHT = np.polynomial.legendre.leggauss(2)


def weight(*, volume_mm3: float, density_g_per_cm3: float) -> float:
    """Weight in g of a volume in mm3: V density / 1000.

    >>> round(weight(volume_mm3=18234.7, density_g_per_cm3=1.32), 2)
    24.07
    """
    return volume_mm3 * density_g_per_cm3 / 1000


def cap_volume(*, sag_mm: float, half_chord_mm: float) -> float:
    """Volume in mm3 of a spherical cap, with the sign of its sag: pi z (3 y^2 + z^2) / 6.

    The same as pi z^2 (3 r - z) / 3 with r = (y^2 + z^2) / 2z, but it also holds for a plane. Textbook
    geometry.

    >>> round(cap_volume(sag_mm=5, half_chord_mm=5), 3) == round(2 / 3 * pi * 125, 3)
    True
    """
    return pi * sag_mm * (3 * half_chord_mm**2 + sag_mm**2) / 6


def round_lens_volume(lens: SphericalLens, diameter_mm: float) -> float:
    """Volume in mm3 of a round lens about its optical centre: cylinder pi y^2 e + front cap - back cap.

    >>> from app.optics.lens_thickness import lens_with_centre
    >>> uncut = lens_with_centre(back_vertex_d=-4, front_power_d=4, centre_thickness_mm=2, index=1.498)
    >>> round(round_lens_volume(uncut, 70), 1)
    18234.7
    """
    require_positive(diameter_mm, "The diameter in mm")
    height = diameter_mm / 2
    front = front_sag(front_power_d=lens.front_power_d, index=lens.index, height_mm=height)
    back = back_sag(back_power_d=lens.back_power_d, index=lens.index, height_mm=height)
    return (
        pi * height**2 * thickness_at(lens, height)
        + cap_volume(sag_mm=front, half_chord_mm=height)
        - cap_volume(sag_mm=back, half_chord_mm=height)
    )


def cut_lens_volume(lens: Lens, outline_mm: Outline, optical_centre_mm: tuple[float, float]) -> float:
    """Volume in mm3 of a lens cut to an outline (n, 2) in mm: the thickness integrated over the shape.

    The shape is a fan of triangles from the optical centre (x, y, in the outline's axes); each is
    integrated by Gauss-Legendre quadrature, with its sign, so the centre may lie outside the shape.

    >>> from app.optics.prescription_algebra import Power
    >>> turn = np.arange(720) * np.pi / 360
    >>> circle = 35 * np.column_stack((np.cos(turn), np.sin(turn)))
    >>> from app.optics.lens_edge import lens_of_power
    >>> lens = lens_of_power(Power(-4), front_power_d=4, centre_thickness_mm=2, index=1.498)
    >>> round(cut_lens_volume(lens, circle, (0, 0)) / 18234.7, 3)
    1.0
    """
    start = outline_mm - np.asarray(optical_centre_mm)
    step = np.roll(start, -1, axis=0) - start
    doubled_area = start[:, 0] * step[:, 1] - start[:, 1] * step[:, 0]
    along, across = (ALONG + 1) / 2, (ACROSS + 1) / 2
    points = along[:, None, None, None] * (start + across[:, None, None] * step)
    weights = (ALONG_WEIGHT / 2 * along)[:, None, None] * (ACROSS_WEIGHT / 2)[:, None] * doubled_area
    thickness = thickness_at_points(lens, points.reshape(-1, 2)).reshape(weights.shape)
    return abs(float(np.sum(weights * thickness)))


def cut_lens_weight(
    lens: Lens, outline_mm: Outline, optical_centre_mm: tuple[float, float], density_g_per_cm3: float
) -> float:
    """Weight in g of a lens cut to an outline (mm), from its volume (mm3) and the density (g/cm3)."""
    volume = cut_lens_volume(lens, outline_mm, optical_centre_mm)
    return weight(volume_mm3=volume, density_g_per_cm3=density_g_per_cm3)

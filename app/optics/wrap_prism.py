"""Prism that a wrapped lens makes along the line of sight, even without power.

It is given by the usual rule and by an exact trace.
Prism dioptres, + base out, for a wrap that is + with the temporal side towards the face; the compensating
prism is base in. The same for both eyes.
"""

from math import atan2, cos, radians, sin, tan
from typing import Literal

from app.optics.lens_thickness import lens_with_centre
from app.optics.ray_through_lens import Ray, ray_behind_lens
from app.optics.tilt_and_wrap import require_wearable


def wrap_prism_by_rule(
    *, front_power_d: float, centre_thickness_mm: float, index: float, wrap_deg: float
) -> float:
    """Prism in prism dioptres, + base out: 100 (t/n) F1 sin w, t in metres.

    5 to 15 % below the exact trace. Source: https://www.2020mag.com/article/know-the-angles-rxpertise.

    >>> round(wrap_prism_by_rule(front_power_d=8, centre_thickness_mm=2, index=1.5, wrap_deg=20), 3)
    0.365
    """
    return 100 * centre_thickness_mm / 1000 / index * front_power_d * sin(radians(wrap_deg))


def wrap_prism_exactly(
    *, front_power_d: float, back_vertex_d: float, centre_thickness_mm: float, index: float, wrap_deg: float
) -> float:
    """Prism in prism dioptres, + base out, of a ray aimed at the front vertex along the line of sight.

    Snell's law at both surfaces, which are spherical; powers in dioptres, thickness in mm, wrap in degrees.

    >>> round(wrap_prism_exactly(
    ...     front_power_d=8, back_vertex_d=0, centre_thickness_mm=2, index=1.5, wrap_deg=20), 3)
    0.422
    """
    require_wearable(wrap_deg)
    wrap = radians(wrap_deg)
    lens = lens_with_centre(
        back_vertex_d=back_vertex_d,
        front_power_d=front_power_d,
        centre_thickness_mm=centre_thickness_mm,
        index=index,
    )
    towards_eye = (sin(wrap), 0.0, cos(wrap))
    before = Ray((-20 * towards_eye[0], 0.0, -20 * towards_eye[2]), towards_eye)
    behind = ray_behind_lens(lens, before).direction
    return 100 * tan(atan2(behind[0], behind[2]) - wrap)


def wrap_prism_base(prism_dioptres: float) -> Literal["in", "out"]:
    """Base of the prism that the wrap makes: out when the signed amount (prism dioptres) is not negative.

    >>> wrap_prism_base(0.4), wrap_prism_base(-0.1)
    ('out', 'in')
    """
    return "out" if prism_dioptres >= 0 else "in"

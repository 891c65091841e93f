"""Vertical prism that the two lenses make at one reading level, and the difference that the eyes must bear.

Vertical prism is + base up, - base down, in prism dioptres. Levels are measured downwards from the distance
optical centre, in mm.
"""

from dataclasses import dataclass

import numpy as np

from app.optics.power_matrix import power_matrix
from app.optics.prescription_algebra import Power, vertical_power
from app.optics.segment import Segment

READING_LEVEL_MM = 10.0  # below the distance centre; common practice, some schools take 8


@dataclass(frozen=True, slots=True)
class NearImbalance:
    """Vertical prism of each lens at the reading level, + base up, and right minus left, prism dioptres."""

    right_prism_dioptres: float
    left_prism_dioptres: float
    difference_prism_dioptres: float


@dataclass(frozen=True, slots=True)
class NearPortion:
    """A segment with its addition (dioptres) and its top's depth below the distance optical centre (mm)."""

    segment: Segment
    addition_d: float
    top_below_centre_mm: float


def vertical_prism_below_centre(power: Power, *, level_mm: float, inward_x_mm: float = 0.0) -> float:
    """Vertical prism in prism dioptres, + base up, at a point `level_mm` below the optical centre.

    Prentice with the power matrix, P = F d: level / 10 x vertical power, plus the share of an oblique
    cylinder when the point also lies `inward_x_mm` along x (front view, + to the observer's right).
    Source: P. McCarthy, Back to basics in dispensing (CET), https://scribd.com/document/296771432/b2b.

    >>> vertical_prism_below_centre(Power(2.00, -1.75, 180), level_mm=10)
    0.25
    """
    if inward_x_mm == 0:
        return vertical_power(power) * level_mm / 10
    centre_from_point_cm = np.array([-inward_x_mm, level_mm]) / 10
    return float((power_matrix(power) @ centre_from_point_cm)[1])


def segment_prism_at(portion: NearPortion, *, level_mm: float) -> float:
    """Vertical prism (prism dioptres, + base up) that the segment alone adds `level_mm` below the centre.

    Addition x how far the point lies below the segment's own optical centre, in cm; above it the base is
    down.
    """
    centre_mm = portion.top_below_centre_mm + portion.segment.optical_centre_below_top_mm
    return portion.addition_d * (level_mm - centre_mm) / 10


def near_imbalance(
    *,
    right: Power,
    left: Power,
    level_mm: float = READING_LEVEL_MM,
    right_portion: NearPortion | None = None,
    left_portion: NearPortion | None = None,
) -> NearImbalance:
    """Vertical prism of both lenses (prism dioptres, + up) at one reading level in mm, segments included.

    Sources: level / 10 x difference of the vertical powers, McCarthy (CET),
    https://scribd.com/document/296771432/b2b; with unequal segments
    http://courses.durhamtech.edu/opticianry/oph142/NFOS-12/module_09d.html: R +5.00 add 3.00, L +2.00 add
    1.00, round 22, tops 3 below, level 8: 2.2 and 1.0 base up.

    >>> from app.optics.segment import round_segment
    >>> both = near_imbalance(
    ...     right=Power(5),
    ...     left=Power(2),
    ...     level_mm=8,
    ...     right_portion=NearPortion(round_segment(22), addition_d=3, top_below_centre_mm=3),
    ...     left_portion=NearPortion(round_segment(22), addition_d=1, top_below_centre_mm=3),
    ... )
    >>> round(both.right_prism_dioptres, 2), round(both.left_prism_dioptres, 2)
    (2.2, 1.0)
    """
    right_up = vertical_prism_below_centre(right, level_mm=level_mm)
    left_up = vertical_prism_below_centre(left, level_mm=level_mm)
    if right_portion:
        right_up += segment_prism_at(right_portion, level_mm=level_mm)
    if left_portion:
        left_up += segment_prism_at(left_portion, level_mm=level_mm)
    return NearImbalance(right_up, left_up, right_up - left_up)

"""The links between dimensions that are no straight lines, each as a value and its gradient."""

from math import atan, degrees, hypot

import numpy as np

from app.plausibility.expectation_model import Curve, Floats

LEVELS_APART_MM = 5.0
"""The bridge widths are taken 10 and 15 mm below the crest."""
TEMPLE_LEVEL_MM = 25.0
"""Temple width is taken this far behind the back of the front: the trade's definition."""
LOWERED_PER_DEGREE_MM = 0.5
"""The optical centre is lowered by this for each degree of tilt: tan 1° × 27 mm is 0.47. Common practice."""
SHORTEST_MM = 1.0
"""Lengths that a quotient is taken by are held above this, so that a slip cannot divide by nought."""


def frontal_angle(parents: Floats) -> tuple[float, Floats]:
    """Frontal angle in degrees from bridge widths 10 and 15: arctan((w15 − w10) / 10).

    Source: geometry; both flanks open over 5 mm of height.

    >>> round(frontal_angle(np.array([18.0, 22.0]))[0], 2)
    21.8
    """
    slope = (parents[1] - parents[0]) / (2 * LEVELS_APART_MM)
    change = degrees(1.0) / (1 + slope**2) / (2 * LEVELS_APART_MM)
    return degrees(atan(slope)), np.array([-change, change])


def near_pd(centre_of_rotation_mm: float) -> Curve:
    """Near PD in mm from PD (mm) and working distance (cm): PD · w / (w + s), w and s in mm.

    Source: similar triangles; s from lens to the eye's centre of rotation, 27 mm by the usual lump figure (Jalie).

    >>> f"{near_pd(27)(np.array([63.0, 40.0]))[0]:.2f}"
    '59.02'
    """

    def curve(parents: Floats) -> tuple[float, Floats]:
        pd, distance = parents[0], max(parents[1] * 10, SHORTEST_MM)
        whole = distance + centre_of_rotation_mm
        by_distance = 10 * pd * centre_of_rotation_mm / whole**2
        return pd * distance / whole, np.array([distance / whole, by_distance])

    return curve


def diagonal(parents: Floats) -> tuple[float, Floats]:
    """Head diagonal in mm from temple width, head width and the length to tangent of the ear in question.

    √(((temple + head) / 2)² + (length − 25)²). Source: geometry of a trapezium.

    >>> round(diagonal(np.array([137.0, 148.0, 102.0]))[0], 1)
    162.0
    """
    across, along = (parents[0] + parents[1]) / 2, parents[2] - TEMPLE_LEVEL_MM
    length = max(hypot(across, along), SHORTEST_MM)
    return length, np.array([across / length / 2, across / length / 2, along / length])


def let_back(*, grip_mm: float, lugs_mm: float) -> Curve:
    """Let-back in degrees from head width, lens width, distance between lenses and length to bend.

    90 + arctan((ordered head width − joint width) / 2 / length), ordered = facial − grip,
    joint width = 2 lens widths + distance between lenses + lugs. Source: geometry of a straight side.
    """

    def curve(parents: Floats) -> tuple[float, Floats]:
        length = max(parents[3], SHORTEST_MM)
        across = (parents[0] - grip_mm - 2 * parents[1] - parents[2] - lugs_mm) / 2
        slope = across / length
        change = degrees(1.0) / (1 + slope**2) / length
        return 90 + degrees(atan(slope)), change * np.array([0.5, -1.0, -0.5, -slope])

    return curve

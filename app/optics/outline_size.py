"""Sizes of a lens outline: boxed sizes, effective diameter, circumference, area, exact smallest blank.

An outline is an array of shape (n, 2) in mm: corner points, front view (x to the observer's right, y up),
one turn, not closed. Everything here is exact for the polygon through those points.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from app.optics.boxed_system import EDGING_ALLOWANCE_MM
from app.optics.eye import Eye, nasal_sign
from app.optics.refusal import NotPossible

Outline = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class OutlineSizes:
    """Sizes of one lens shape in the boxed system (ISO 8624), in mm and mm2."""

    width_mm: float
    depth_mm: float
    effective_diameter_mm: float
    effective_diameter_axis_deg: (
        float  # direction of the longest radius, 0 up to below 360, from the observer's right
    )
    circumference_mm: float
    area_mm2: float


def outline_from_radii(
    radii_mm: NDArray[np.float64], angles_deg: NDArray[np.float64] | None = None
) -> Outline:
    """Points (n, 2) in mm from polar radii in mm, counter-clockwise from the observer's right, front view.

    Without `angles_deg` the radii are equally spaced over one turn, the first at 0 degrees (the
    equi-angular form of the lens-trace interchange standard, ISO 16284). The origin stays where the tracing
    had it.

    >>> outline_from_radii(np.array([25.0, 20.0, 25.0, 20.0])).round(6).tolist()
    [[25.0, 0.0], [0.0, 20.0], [-25.0, 0.0], [-0.0, -20.0]]
    """
    radii = np.asarray(radii_mm, dtype=float)
    if radii.ndim != 1 or len(radii) < 3 or not np.all(np.isfinite(radii)) or np.any(radii <= 0):
        raise NotPossible("A lens shape needs at least three radii, each above 0 mm.")
    turned = (
        np.arange(len(radii)) * 360.0 / len(radii) if angles_deg is None else np.asarray(angles_deg, float)
    )
    angles = np.radians(turned)
    return np.column_stack((radii * np.cos(angles), radii * np.sin(angles)))


def boxed_centre(outline_mm: Outline) -> NDArray[np.float64]:
    """Centre of the box round the outline, array of shape (2,) in mm, in the outline's own axes (ISO 8624).

    >>> boxed_centre(np.array([[0.0, 0.0], [50.0, 0.0], [50.0, 36.0], [0.0, 36.0]])).tolist()
    [25.0, 18.0]
    """
    return np.asarray((outline_mm.min(axis=0) + outline_mm.max(axis=0)) / 2, dtype=float)


def centred_on_box(outline_mm: Outline) -> Outline:
    """The same outline (n, 2) in mm, moved so that its boxed centre is the origin."""
    return np.asarray(outline_mm - boxed_centre(outline_mm), dtype=float)


def mirrored_outline(outline_mm: Outline) -> Outline:
    """The outline (n, 2) in mm for the fellow eye: x changes sign and the order of the points turns round."""
    return np.asarray((outline_mm * np.array([-1.0, 1.0]))[::-1], dtype=float)


def outline_sizes(outline_mm: Outline) -> OutlineSizes:
    """Boxed sizes, effective diameter, circumference (mm) and area (mm2) of an outline (n, 2) in mm.

    Effective diameter: twice the longest distance from the boxed centre to the edge (common trade
    definition). Circumference: sum of the chords. Area: shoelace formula.
    Checked against an ellipse 50 x 40 through 400 radii: perimeter 141.808 by the complete elliptic integral.

    >>> sizes = outline_sizes(np.array([[0.0, 0.0], [50.0, 0.0], [50.0, 36.0], [0.0, 36.0]]))
    >>> sizes.width_mm, sizes.depth_mm, round(sizes.effective_diameter_mm, 3)
    (50.0, 36.0, 61.612)
    >>> sizes.circumference_mm, sizes.area_mm2
    (172.0, 1800.0)
    """
    centred = centred_on_box(outline_mm)
    radii = np.hypot(centred[:, 0], centred[:, 1])
    longest = centred[int(np.argmax(radii))]
    following = np.roll(centred, -1, axis=0)
    chords = np.hypot(*(following - centred).T)
    cross = centred[:, 0] * following[:, 1] - centred[:, 1] * following[:, 0]
    width, depth = np.ptp(centred, axis=0)
    return OutlineSizes(
        width_mm=float(width),
        depth_mm=float(depth),
        effective_diameter_mm=float(2 * radii.max()),
        effective_diameter_axis_deg=float(np.degrees(np.arctan2(longest[1], longest[0])) % 360.0),
        circumference_mm=float(chords.sum()),
        area_mm2=float(abs(cross.sum()) / 2),
    )


def point_on_lens(eye: Eye, *, decentration_in_mm: float, decentration_up_mm: float) -> tuple[float, float]:
    """Front-view (x, y) in mm from the boxed centre of a point decentred in (+ to the nose) and up.

    >>> point_on_lens("right", decentration_in_mm=3, decentration_up_mm=1)
    (3, 1)
    >>> point_on_lens("left", decentration_in_mm=3, decentration_up_mm=1)
    (-3, 1)
    """
    return nasal_sign(eye) * decentration_in_mm, decentration_up_mm


def distances_to_edge(outline_mm: Outline, point_mm: tuple[float, float]) -> NDArray[np.float64]:
    """Distance in mm, shape (n,), from a point in front view to each corner point of the outline (n, 2)."""
    return np.hypot(outline_mm[:, 0] - point_mm[0], outline_mm[:, 1] - point_mm[1])


def smallest_blank(
    outline_mm: Outline, optical_centre_mm: tuple[float, float], allowance_mm: float = EDGING_ALLOWANCE_MM
) -> float:
    """Smallest uncut diameter in mm, exactly.

    Twice the longest way from optical centre to edge, plus allowance.
    `outline_mm` (n, 2) and `optical_centre_mm` (x, y) share one origin. Any shape and both decentrations. The
    farthest point of a polygon from any point is a corner, so nothing is lost between the points.
    Geometry; the blank is taken as centred on its optical centre. A 50 x 36 rectangle, 3 mm in, no allowance:

    >>> box = np.array([[-25.0, -18.0], [25.0, -18.0], [25.0, 18.0], [-25.0, 18.0]])
    >>> round(smallest_blank(box, (3.0, 0.0), allowance_mm=0), 3)
    66.573
    """
    return float(2 * distances_to_edge(outline_mm, optical_centre_mm).max() + allowance_mm)

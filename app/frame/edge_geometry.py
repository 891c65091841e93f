"""The edge of a lens as it is drawn: its thickness all the way round, and a section through its thickest point."""

from dataclasses import dataclass

import numpy as np

from app.frame.lens_body import LensBody
from app.frame.lens_position import back_sags
from app.optics.eye import Eye, nasal_sign
from app.optics.lens_edge import sags

Point = tuple[float, float]
Line = tuple[Point, ...]
SECTION_POINTS = 41


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeDrawing:
    """Both in mm. `unrolled`: way round the edge from the nasal side over the top, and thickness there. `front` and
    `back` of the section: way from the optical centre (+ towards the thickest point), and depth, + to the eye."""

    unrolled: Line
    thickest: Point
    thinnest: Point
    front: Line
    back: Line
    thickest_words: str
    length_mm: float


def edge_drawing(body: LensBody, eye: Eye) -> EdgeDrawing:
    """The edge of one lens. Right and left run alike: nasal, top, temporal, bottom, and nasal again."""
    across, up = body.outline_mm[:, 0] * nasal_sign(eye), body.outline_mm[:, 1]
    turned = np.degrees(np.arctan2(up, across)) % 360
    order = np.argsort(turned)
    points = np.column_stack((across, up))[order]
    edge = body.edge_mm[order]
    steps = np.hypot(*np.diff(points, axis=0).T)
    way = np.concatenate(([0.0], np.cumsum(steps)))
    length = float(way[-1] + np.hypot(*(points[0] - points[-1])))
    unrolled = (*zip(way.tolist(), edge.tolist(), strict=True), (length, float(edge[0])))
    most, least = int(edge.argmax()), int(edge.argmin())
    front, back = _section(body)
    return EdgeDrawing(
        unrolled=unrolled,
        thickest=unrolled[most],
        thinnest=unrolled[least],
        front=front,
        back=back,
        thickest_words=place_words(float(points[most, 0]), float(points[most, 1])),
        length_mm=length,
    )


def place_words(inward_mm: float, up_mm: float) -> str:
    """Where a point of the edge lies, as the trade says it.

    >>> place_words(-24.0, 1.0), place_words(15.0, -12.0), place_words(0.5, 18.0)
    ('temporal', 'nasal, below', 'above')
    """
    across = "nasal" if inward_mm > 0 else "temporal"
    height = "above" if up_mm > 0 else "below"
    if abs(up_mm) < abs(inward_mm) / 3:
        return across
    if abs(inward_mm) < abs(up_mm) / 3:
        return height
    return f"{across}, {height}"


def _section(body: LensBody) -> tuple[Line, Line]:
    """Front and back along the line through the optical centre and the thickest point, from edge to edge."""
    centre = np.asarray(body.optical_centre_mm)
    towards = np.asarray(body.thickest_at_mm) - centre
    reach = float(np.hypot(*towards))
    direction = towards / reach
    from_centre = body.outline_mm - centre
    along, beside = from_centre @ direction, from_centre @ np.array([-direction[1], direction[0]])
    behind = along < 0
    other = float(along[behind][np.abs(beside[behind]).argmin()]) if behind.any() else 0.0
    ways = np.linspace(other, reach, SECTION_POINTS)
    per_dioptre = 1 / (1000 * (body.order.index - 1))
    front = sags(body.order.front_power_d * per_dioptre, np.abs(ways))
    points = centre + ways[:, None] * direction
    prism = body.order.worked_prism
    wedge = (points - centre) @ np.array([prism.right_prism_dioptres, prism.up_prism_dioptres])
    back = body.centre.known + back_sags(body, points) + wedge / (100 * (body.order.index - 1))
    return (
        tuple(zip(ways.tolist(), front.tolist(), strict=True)),
        tuple(zip(ways.tolist(), back.tolist(), strict=True)),
    )

"""Where the lens sits before the eye: tilt, vertex distance and room at the lashes as they follow from the face.

The plan says at which vertex distance the lens shall stand; the bridge, the tilt and the lens say where it will.
Both are shown side by side, never mixed. Plane geometry as in `vertex_geometry`, derived there.
"""

from dataclasses import dataclass

import numpy as np

from app.catalogue.measurement import SIDE_WORDS, SIDES, Side
from app.frame.lens_body import LensBody
from app.frame.needed import Needed, Samples, derived, simulated
from app.frame.ordered_bridge import facial_crest_height
from app.frame.ordered_heights import vertex_of
from app.frame.ordered_worksheet import Worksheet, once
from app.optics.lens_edge import sags
from app.optics.refusal import NotPossible

LASHES_HALF_WIDTH_MM = 12.0
"""How far out from the pupil the long lashes of the upper lid stand; half of a lid opening of about 30 mm, less its
corners. Common anatomy, from memory."""
LASH_PLACES = np.linspace(-1.0, 1.0, 13)
SET_BACK_OF_BEVEL = {"front_third": 2 / 3}
"""Part of the edge that lies behind the bevel, by the choice of edge; half where nothing else is asked for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LensPosition:
    """One side: vertex distance worked out from the face, and the least room at the lashes at the planned one."""

    vertex: Needed
    least_lash_room: Needed
    worst_lash_at_mm: tuple[float, float] | None
    """(x, y) from the boxed centre, front view."""


@once
def as_worn_tilt(sheet: Worksheet) -> tuple[Needed, str]:
    """Pantoscopic tilt in degrees and how it is known: measured with the pair on, else from the angles of side.

    For a frame to be made the tilt is the mean angle of side, the ears taken level with the joints on average.
    """
    worn = sheet.on_pair("pantoscopic_angle")
    if worn.value is not None or not sheet.handmade:
        return worn, "as measured on the face"
    angles = [sheet.face("side_angle", side) for side in SIDES]
    mean = derived("Angle of side", lambda right, left: (right + left) / 2, *angles)
    return mean, "mean angle of side, ears level with the joints on average"


def ear_height_difference(sheet: Worksheet) -> Needed:
    """How much lower the left ear lies than the right, mm: L (tan left − tan right), L the mean length to the ears.

    A lower ear needs a larger angle of side. Plane geometry: 1 degree at 100 mm is 1.75 mm.
    """
    needed = [sheet.face(key, side) for key in ("side_angle", "length_to_tangent") for side in SIDES]
    return derived(
        "Left ear lower than the right",
        lambda right, left, one, other: (
            (one + other) / 2 * float(np.tan(np.radians(left)) - np.tan(np.radians(right)))
        ),
        *needed,
    )


def lens_position(sheet: Worksheet, side: Side, body: LensBody) -> LensPosition:
    """Vertex distance and least lash room of one side."""
    room, place = least_lash_room(sheet, side, body)
    return LensPosition(
        vertex=worked_out_vertex(sheet, side, body), least_lash_room=room, worst_lash_at_mm=place
    )


def worked_out_vertex(sheet: Worksheet, side: Side, body: LensBody) -> Needed:
    """Vertex distance of a frame to be made, mm: (z_c − P) − dv tan p + z2 − g.

    The crest stands as far before the cornea as the longer lashes and the facial projection together (z_c); P is
    the ordered projection; dv the crest above the pupil, which is taken half the lid opening above the lower lid;
    z2 the sag of the back over half the lens width; g how far the lens edge stands behind the back of the front:
    the part of the edge behind its bevel less half the depth of the rim, whose middle the groove is in.
    """
    name = f"Vertex distance, {SIDE_WORDS[side]}"
    behind = SET_BACK_OF_BEVEL.get(sheet.pair.choices.get("edge_finish", ""), 0.5)
    sag, edge = _back_at_rim(body)
    clearance, behind_plane = (
        sheet.adjustments.lash_clearance_mm,
        behind * edge - sheet.adjustments.rim_depth_mm / 2,
    )

    def stands(
        right: Samples, left: Samples, projection: Samples, crest: Samples, lids: Samples, tilt: Samples
    ) -> Samples:
        plane = np.maximum(right, left) + projection - (projection - clearance)
        lowered = (crest - lids / 2) * np.tan(np.radians(tilt))
        return np.asarray(plane - lowered + sag - behind_plane)

    return simulated(
        name,
        stands,
        *(sheet.face("lash_projection", each) for each in SIDES),
        sheet.face("bridge_projection"),
        facial_crest_height(sheet)[0],
        sheet.face("lid_aperture", side),
        as_worn_tilt(sheet)[0],
    )


def _back_at_rim(body: LensBody) -> tuple[float, float]:
    """Sag of the back at the rim on the horizontal, and the edge there: the mean of nasal and temporal side, mm."""
    near_line = np.abs(body.outline_mm[:, 1]) <= np.abs(body.outline_mm[:, 1]).min() + 1.0
    rim = body.outline_mm[near_line]
    sag = back_sags(body, rim)
    return float(sag.mean()), float(body.edge_mm[near_line].mean())


def back_sags(body: LensBody, points_mm: Samples) -> Samples:
    """Sag in mm of the lens's back at points (n, 2) in mm from the boxed centre."""
    from_centre = points_mm - np.asarray(body.optical_centre_mm)
    right, up = from_centre[:, 0], from_centre[:, 1]
    squared = right * right + up * up
    axis = np.radians(body.back.axis_deg)
    across = np.square(up * np.cos(axis) - right * np.sin(axis)) / np.maximum(squared, 1e-300)
    power = body.back.sphere_d + body.back.cylinder_d * across
    return sags(-power / (1000 * (body.order.index - 1)), np.sqrt(squared))


def least_lash_room(
    sheet: Worksheet, side: Side, body: LensBody
) -> tuple[Needed, tuple[float, float] | None]:
    """Vertex distance less the sag of the back less the lashes, at the worst place along the upper lid, mm."""
    lids, lashes = sheet.face("lid_aperture", side), sheet.face("lash_projection", side)
    name = f"Least room at the lashes, {SIDE_WORDS[side]}"
    if lids.value is None:
        return Needed(name=name, value=None, count=0, lacking=(lids.name,)), None
    pupil_up = lids.value / 2 - sheet.centre_line_above_lid_mm
    along = np.column_stack(
        (
            body.optical_centre_mm[0] + LASHES_HALF_WIDTH_MM * LASH_PLACES,
            pupil_up + lids.value / 2 * np.sqrt(1 - np.square(LASH_PLACES)),
        )
    )
    try:
        sag = back_sags(body, along)
    except NotPossible as refusal:
        return Needed(name=name, value=None, count=0, lacking=(str(refusal),)), None
    worst = int(sag.argmax())
    nearer = float(sag[worst])
    room = derived(name, lambda vertex, lash: vertex - nearer - lash, vertex_of(sheet), lashes)
    return room, (float(along[worst, 0]), float(along[worst, 1]))

"""Room between the lenses and the nose: what is left for the rim at each level of the bridge."""

from dataclasses import dataclass

import numpy as np

from app.catalogue.measurement import Side
from app.frame.bridge_fit import BridgeFit
from app.optics.outline_size import Outline


@dataclass(frozen=True, slots=True, kw_only=True)
class NoseRoom:
    """The least distance from lens edge to flank of the nose, mm, and how far below the crest it is."""

    room_mm: float
    below_crest_mm: float


def nose_room(
    outline_mm: Outline,
    side: Side,
    fit: BridgeFit,
    *,
    boxed_centre_distance_mm: float,
    crest_above_centre_line_mm: float,
) -> NoseRoom | None:
    """Least room on one side below the crest; None where no part of the lens lies below it.

    The flank as the fitted section has it (half-widths of its own for each side), the lens as its outline (n, 2)
    in front view of that side. Horizontal distances in mm; negative where the lens would lie in the nose.
    """
    nasal = 1.0 if side == "R" else -1.0
    inward = outline_mm[:, 0] * nasal
    below = crest_above_centre_line_mm - outline_mm[:, 1]
    facing = (inward > 0) & (below >= 0)
    if not facing.any():
        return None
    from_midline = boxed_centre_distance_mm / 2 - inward[facing]
    flank = np.array([fit.half_width(side, float(depth)) for depth in below[facing]])
    room = from_midline - flank
    least = int(room.argmin())
    return NoseRoom(room_mm=float(room[least]), below_crest_mm=float(below[facing][least]))

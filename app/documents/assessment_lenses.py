"""What an assessment says of one lens besides its centration: cost of a slip, and power where it is worn."""

from app.catalogue.measurement import Side
from app.fitting.prescription import EyePrescription, Prescription
from app.optics.prentice import prism_by_decentration
from app.optics.prescription_algebra import Power
from app.optics.refusal import NotPossible
from app.optics.vertex_distance import moved_prescription

ONE_MILLIMETRE = 1.0
NO_AXIS_NEEDED = 180.0
"""A sphere has no axis; the notation then writes 180 (ISO 13666 axis notation, from memory)."""

LensMembers = dict[str, float | dict[str, float]]
"""Keys of the assessment to prism dioptres, or to a power of sphere, cylinder (dioptres) and axis (degrees)."""


def lens_members(
    prescription: Prescription | None, side: Side, *, worn_vertex_mm: float | None
) -> LensMembers:
    """Prism that 1 mm of wrong centration makes, and the power at the worn vertex distance; unknown ones left out.

    Source: C. F. Prentice (1890) along the strongest meridian; effectivity along each principal meridian.
    """
    eye = None if prescription is None else prescription.eye(side)
    if prescription is None or eye is None:
        return {}
    members: LensMembers = {
        "prism_for_1mm": abs(prism_by_decentration(eye.strongest_meridian, ONE_MILLIMETRE))
    }
    power = _power(eye)
    if power is None or prescription.tested_at_mm is None or worn_vertex_mm is None:
        return members
    try:
        moved = moved_prescription(
            power, tested_vertex_mm=prescription.tested_at_mm, worn_vertex_mm=worn_vertex_mm
        )
    except NotPossible:
        return members
    worn = {"sphere": moved.sphere_d, "cylinder": moved.cylinder_d, "axis": moved.axis_deg}
    return members | {"power_at_worn_vertex": worn}


def _power(eye: EyePrescription) -> Power | None:
    """The power as written, None where a cylinder has no axis."""
    if not eye.cylinder:
        return Power(eye.sphere, 0.0, NO_AXIS_NEEDED)
    return None if eye.axis is None else Power(eye.sphere, eye.cylinder, eye.axis)

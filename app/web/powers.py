"""The prescription's table: its fields, and the read-back in plus and minus cylinder."""

from app.fitting.prescription import EyePrescription
from app.optics.prescription_algebra import Power, transposed
from app.web.chair import Chair
from app.web.words import number, power

EYE_PARTS = (
    "sphere",
    "cylinder",
    "axis",
    "add",
    "prism.1.amount",
    "prism.1.base",
    "prism.2.amount",
    "prism.2.base",
)
WHOLE = ("written", "prescriber", "tested_at_mm")


def power_table(prefix: str) -> tuple[str, ...]:
    """The paths of a prescription's fields, right eye first."""
    eyes = tuple(f"{prefix}.{side}.{part}" for side in ("R", "L") for part in EYE_PARTS)
    return (*eyes, *(f"{prefix}.{part}" for part in WHOLE))


def read_back(chair: Chair, prefix: str) -> tuple[tuple[str, str, str], ...]:
    """Each eye as kept and with its cylinder turned round: side, as written, transposed."""
    if prefix == "prescription":
        written = chair.fitting.prescription
    else:
        pair = chair.fitting.pair(int(prefix.split(".")[1]))
        written = pair.prescription if pair else None
    if written is None:
        return ()
    eyes = (("R", written.right), ("L", written.left))
    return tuple(
        (side, in_figures(eye), in_figures(turned_round(eye))) for side, eye in eyes if eye is not None
    )


def turned_round(eye: EyePrescription) -> EyePrescription | None:
    """The same power with the other sign of cylinder; None where there is no cylinder to turn."""
    if not eye.cylinder or eye.axis is None:
        return None
    turned = transposed(Power(sphere_d=eye.sphere, cylinder_d=eye.cylinder, axis_deg=eye.axis))
    return EyePrescription(sphere=turned.sphere_d, cylinder=turned.cylinder_d, axis=turned.axis_deg)


def in_figures(eye: EyePrescription | None) -> str:
    """Sphere, cylinder and axis as written on a prescription."""
    if eye is None:
        return ""
    text = power(eye.sphere)
    if eye.cylinder:
        text += f" / {power(eye.cylinder)}"
    return f"{text} × {number(eye.axis)}" if eye.cylinder and eye.axis is not None else text

"""The prescription's table: its fields, and the read-back in plus and minus cylinder."""

from app.documents.written import in_figures, turned_round
from app.web.chair import Chair

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

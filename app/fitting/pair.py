"""One of the two pairs: what was chosen for it, and what was planned."""

from dataclasses import dataclass, field
from typing import Literal

from app.fitting.prescription import Prescription

LensForm = Literal[
    "single_vision_distance",
    "single_vision_near",
    "single_vision_intermediate",
    "bifocal",
    "trifocal",
    "progressive",
    "degressive",
]
MULTIFOCAL_FORMS = ("bifocal", "trifocal", "progressive", "degressive")
BridgeStyle = Literal["regular", "pad", "pads_on_arms", "saddle", "keyhole", "inset_saddle"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Segment:
    """A segment by shape and diameter in mm."""

    shape: str
    diameter: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair:
    """A pair to be ordered. Lengths mm. `choices` holds answers to app.catalogue.choices by key."""

    pair: int
    kind: Literal["handmade", "own_frame"]
    use: str | None = None
    route: Literal["fit_up", "straight_through"] | None = None
    bridge_style: BridgeStyle | None = None
    material: str | None = None
    sheet_mm: float | None = None
    lens_width: float | None = None
    lens_height: float | None = None
    distance_between_lenses: float | None = None
    outline: str | None = None
    lug_width_mm: float | None = None
    centre_line_above_lid_mm: float | None = None
    lens_form: LensForm | None = None
    segment: Segment | None = None
    index: float | None = None
    vertex_mm: float | None = None
    longest_diameter_mm: float | None = None
    tracing: str | None = None
    prescription: Prescription | None = None
    choices: dict[str, str] = field(default_factory=dict)

    @property
    def multifocal(self) -> bool:
        """True where the lens form has a near portion that needs a height."""
        return self.lens_form in MULTIFOCAL_FORMS

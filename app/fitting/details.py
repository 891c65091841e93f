"""The single-valued details of a fitting besides its readings, each declared once for form, store and file."""

from dataclasses import dataclass
from typing import Literal

from app.catalogue.measurement import Range

Kind = Literal["words", "number", "power", "yes_no", "date", "one_of"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Detail:
    """One single-valued detail: `key` is the attribute it fills and its key in the fitting file."""

    key: str
    label: str
    kind: Kind = "words"
    options: tuple[str, ...] = ()
    """Answers allowed, for one_of."""
    unit: str = ""
    possible: Range | None = None
    """Outside this a number is refused as a slip of the hand: limits of sense, not of usualness; ours."""
    possible_in_file: Range | None = None
    """Where a check asks about what stands in another's file instead: the limits there. None: those above."""
    example: str = ""

    @property
    def in_file(self) -> Range | None:
        """The limits of a number in a fitting file."""
        return self.possible if self.possible_in_file is None else self.possible_in_file


def _lengths(*details: tuple[str, str, float, float, str]) -> tuple[Detail, ...]:
    return tuple(
        Detail(key=key, label=label, kind="number", unit="mm", possible=Range(low, high), example=example)
        for key, label, low, high, example in details
    )


TAKEN_DETAILS = (
    Detail(key="room_light", label="Room light", example="normal"),
    Detail(key="supervisor", label="Registered practitioner present", example="A. Practitioner"),
)

COVER_DETAILS = (
    Detail(
        key="finding",
        label="Finding",
        kind="one_of",
        options=("none", "latent", "manifest", "not_applicable"),
        example="none",
    ),
    Detail(
        key="direction", label="Direction", kind="one_of", options=("in", "out", "up", "down"), example="out"
    ),
    Detail(key="eye", label="Eye", kind="one_of", options=("R", "L", "alternating"), example="L"),
    Detail(
        key="size", label="Size", kind="number", unit="prism dioptres", possible=Range(0, 120), example="2"
    ),
    Detail(
        key="size_words",
        label="Size in words",
        kind="one_of",
        options=("small", "moderate", "large"),
        example="small",
    ),
    Detail(
        key="recovery", label="Recovery", kind="one_of", options=("quick", "slow", "none"), example="quick"
    ),
    Detail(
        key="constancy",
        label="Constancy",
        kind="one_of",
        options=("constant", "intermittent"),
        example="constant",
    ),
    Detail(key="with_spectacles", label="With spectacles", kind="yes_no", example="yes"),
    Detail(
        key="known",
        label="Known to the prescriber",
        kind="one_of",
        options=("yes", "no", "not_known"),
        example="yes",
    ),
    Detail(key="note", label="Note", example="small with the present spectacles"),
)

PRESCRIPTION_DETAILS = (
    Detail(key="written", label="Date of prescription", kind="date", example="2026-09-20"),
    Detail(key="prescriber", label="Prescriber", example="B. Prescriber"),
    Detail(
        key="tested_at_mm",
        label="Vertex distance when tested",
        kind="number",
        unit="mm",
        possible=Range(0, 40),
        example="12",
    ),
)
SPHERE = Detail(
    key="sphere", label="Sphere", kind="power", unit="D", possible=Range(-50, 50), example="-2.25"
)
EYE_DETAILS = (
    SPHERE,
    Detail(
        key="cylinder", label="Cylinder", kind="power", unit="D", possible=Range(-25, 25), example="-0.75"
    ),
    Detail(
        key="axis",
        label="Axis",
        kind="number",
        unit="deg",
        possible=Range(0, 180),
        possible_in_file=Range(0, 360),
        example="170",
    ),
    Detail(key="add", label="Addition", kind="power", unit="D", possible=Range(0, 25), example="+2.00"),
)
PRISM_AMOUNT = Detail(
    key="amount",
    label="Prism",
    kind="number",
    unit="prism dioptres",
    possible=Range(0, 60),
    example="2",
)
PRISM_DETAILS = (
    PRISM_AMOUNT,
    Detail(key="base", label="Base", kind="one_of", options=("in", "out", "up", "down"), example="in"),
)

SEGMENT_DETAILS = (
    Detail(key="shape", label="Segment shape", example="D"),
    Detail(
        key="diameter",
        label="Segment diameter",
        kind="number",
        unit="mm",
        possible=Range(5, 80),
        example="28",
    ),
)
PAIR_DETAILS = (
    Detail(key="kind", label="Frame", kind="one_of", options=("handmade", "own_frame"), example="handmade"),
    Detail(key="use", label="Use", example="distance"),
    Detail(
        key="route", label="Route", kind="one_of", options=("fit_up", "straight_through"), example="fit_up"
    ),
    Detail(
        key="bridge_style",
        label="Bridge style",
        kind="one_of",
        options=("regular", "pad", "pads_on_arms", "saddle", "keyhole", "inset_saddle"),
        example="regular",
    ),
    Detail(key="material", label="Material", example="acetate"),
    *_lengths(
        ("sheet_mm", "Sheet thickness", 0.5, 30, "6"),
        ("lens_width", "Lens width", 15, 100, "48"),
        ("lens_height", "Lens height", 10, 90, "36"),
        ("distance_between_lenses", "Distance between lenses", 2, 50, "18"),
    ),
    Detail(key="outline", label="Lens outline", example="round"),
    *_lengths(
        ("lug_width_mm", "Lug width", 0, 40, "8"),
        ("centre_line_above_lid_mm", "Centre line above the lower lid", -20, 25, "2"),
    ),
    Detail(
        key="lens_form",
        label="Lens form",
        kind="one_of",
        options=(
            "single_vision_distance",
            "single_vision_near",
            "single_vision_intermediate",
            "bifocal",
            "trifocal",
            "progressive",
            "degressive",
        ),
        example="bifocal",
    ),
    Detail(key="index", label="Refractive index", kind="number", possible=Range(1.3, 2.2), example="1.6"),
    *_lengths(
        ("vertex_mm", "Planned vertex distance", 1, 40, "13"),
        ("longest_diameter_mm", "Longest diameter of the lens", 15, 120, "52"),
    ),
    Detail(key="tracing", label="Tracing", example="sent with the frame"),
)

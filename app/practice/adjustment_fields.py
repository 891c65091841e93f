"""What each adjustment is called, what it does, where its default comes from and what it may be set to."""

from dataclasses import dataclass

from app.practice.settings import Adjustments

RANGE_SOURCE = "Range: ours, wide enough for any bench; outside it a slip of the key is likelier."


@dataclass(frozen=True, slots=True, kw_only=True)
class AdjustmentField:
    """One adjustment. `key` is the field of Adjustments; limits in mm, ends included."""

    key: str
    label: str
    meaning: str
    low_mm: float
    high_mm: float
    source: str

    @property
    def default_mm(self) -> float:
        """The default, in mm."""
        return float(getattr(Adjustments(), self.key))

    def holds(self, value_mm: float) -> bool:
        """True where the value may be set; false for not-a-number."""
        return self.low_mm <= value_mm <= self.high_mm


COMMON_PRACTICE = "Common practice"

ADJUSTMENT_FIELDS: tuple[AdjustmentField, ...] = (
    AdjustmentField(
        key="lash_clearance_mm",
        label="Clearance to the lashes",
        meaning="Taken off the facial bridge projection to get that of the frame.",
        low_mm=0,
        high_mm=5,
        source=COMMON_PRACTICE,
    ),
    AdjustmentField(
        key="head_width_grip_mm",
        label="Grip at the head",
        meaning="Taken off the head width to get the ordered one, so that the sides hold.",
        low_mm=0,
        high_mm=15,
        source=f"{COMMON_PRACTICE}; some schools take off 10",
    ),
    AdjustmentField(
        key="temple_width_ease_mm",
        label="Ease at the temples",
        meaning="Added to the temple width, so that the sides do not press there.",
        low_mm=-2,
        high_mm=8,
        source=f"{COMMON_PRACTICE}, 0 to 4",
    ),
    AdjustmentField(
        key="front_to_joint_mm",
        label="Front to joint",
        meaning="Taken off the length to tangent to get the length to bend.",
        low_mm=3,
        high_mm=20,
        source="ISO 8624 takes off 10 for a side without a joint",
    ),
    AdjustmentField(
        key="lug_allowance_mm",
        label="Lug, each side",
        meaning="Joint width is both lens widths, the distance between lenses and twice this.",
        low_mm=2,
        high_mm=20,
        source=COMMON_PRACTICE,
    ),
    AdjustmentField(
        key="centre_line_above_lid_mm",
        label="Centre line above the lower lid",
        meaning="Planned height of the horizontal centre line; crest height less this is the ordered one.",
        low_mm=-6,
        high_mm=10,
        source=COMMON_PRACTICE,
    ),
    AdjustmentField(
        key="edging_allowance_mm",
        label="Edging allowance",
        meaning="Added to the smallest blank that covers the lens.",
        low_mm=0,
        high_mm=6,
        source=f"{COMMON_PRACTICE}, about 2",
    ),
    AdjustmentField(
        key="rim_depth_mm",
        label="Depth of the rim",
        meaning="What the sheet must carry besides the projection of the bridge.",
        low_mm=0.5,
        high_mm=6,
        source=COMMON_PRACTICE,
    ),
    AdjustmentField(
        key="reading_level_mm",
        label="Reading level",
        meaning="How far below the distance centre the eyes read, for the prism between the two eyes.",
        low_mm=4,
        high_mm=20,
        source=f"{COMMON_PRACTICE}, 8 to 10",
    ),
    AdjustmentField(
        key="least_lash_room_mm",
        label="Least room for the lashes",
        meaning="The vertex distance must exceed the lash projection by this.",
        low_mm=0,
        high_mm=6,
        source=COMMON_PRACTICE,
    ),
    AdjustmentField(
        key="centre_of_rotation_mm",
        label="Lens to centre of rotation",
        meaning="From the back of the lens to the point about which the eye turns.",
        low_mm=20,
        high_mm=35,
        source="Jalie, Ophthalmic Lenses and Dispensing: the usual lump figure",
    ),
    AdjustmentField(
        key="centre_thickness_mm",
        label="Centre thickness",
        meaning="Least centre of a lens; a minus lens is made to it.",
        low_mm=0.5,
        high_mm=4,
        source=f"{COMMON_PRACTICE} for high index; 1.5 to 2 is usual for ordinary resin",
    ),
    AdjustmentField(
        key="least_edge_mm",
        label="Least edge",
        meaning="Least edge of a lens in a full rim; a plus lens is made to it.",
        low_mm=0.3,
        high_mm=4,
        source=COMMON_PRACTICE,
    ),
    AdjustmentField(
        key="least_grooved_edge_mm",
        label="Least edge with a groove",
        meaning="Least edge of a lens that is grooved for a cord.",
        low_mm=0.8,
        high_mm=4,
        source=f"{COMMON_PRACTICE}, 1.5 to 1.6",
    ),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class DaysField:
    """One time limit in days. `key` is the field of PracticeSettings."""

    key: str
    label: str
    low: int
    high: int
    source: str


DAYS_FIELDS: tuple[DaysField, ...] = (
    DaysField(
        key="prescription_ask_days",
        label="Ask about a prescription older than",
        low=30,
        high=1827,
        source="Two years: rules on the sale of optical appliances in the United Kingdom; confirm locally",
    ),
    DaysField(
        key="child_prescription_note_days",
        label="Note a child's prescription older than",
        low=30,
        high=1827,
        source=COMMON_PRACTICE,
    ),
    DaysField(
        key="measurement_ask_days",
        label="Ask about measurements older than",
        low=1,
        high=366,
        source=COMMON_PRACTICE,
    ),
    DaysField(
        key="measurement_ask_days_child",
        label="Ask about a child's measurements older than",
        low=1,
        high=366,
        source=f"{COMMON_PRACTICE}: a child's face changes sooner",
    ),
)

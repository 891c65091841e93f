"""The practice's own choices: adjustments, allowances and ways of working, each with its default and source."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Adjustments:
    """What is added to or taken off a facial value to get the ordered one. Lengths mm.

    Defaults are common practice in handmade frame making; a practice agrees its own with its bench.
    """

    lash_clearance_mm: float = 1.5
    """Frame projection = facial projection − this. Common practice."""
    head_width_grip_mm: float = 5.0
    """Ordered head width = facial − this. Common practice; some schools order 10 less."""
    temple_width_ease_mm: float = 2.0
    """Ordered temple width = facial + this, so that it does not press. Common practice, 0 to 4."""
    front_to_joint_mm: float = 10.0
    """Length to bend = length to tangent − this. ISO 8624 takes off 10 for a side without a joint."""
    lug_allowance_mm: float = 8.0
    """Each side: joint width = 2 lens widths + distance between lenses + twice this. Common practice."""
    centre_line_above_lid_mm: float = 2.0
    """Planned height of the horizontal centre line above the lower lid. Common practice."""
    edging_allowance_mm: float = 2.0
    """Added to the smallest blank for edging. Common practice."""
    rim_depth_mm: float = 2.0
    """Depth of rim that the sheet must carry besides the projection. Common practice."""
    reading_level_mm: float = 10.0
    """How far below the distance centre the eyes read. Common practice."""
    least_lash_room_mm: float = 2.0
    """Vertex distance must exceed the lash projection by this. Common practice."""
    centre_of_rotation_mm: float = 27.0
    """Lens to centre of rotation of the eye; the usual lump figure (Jalie, Ophthalmic Lenses and Dispensing)."""
    centre_thickness_mm: float = 1.2
    """Least centre thickness of a lens. Common practice for high index; 1.5 to 2 is usual for ordinary resin."""
    least_edge_mm: float = 1.0
    """Least edge of a lens in a full rim. Common practice."""
    least_grooved_edge_mm: float = 1.6
    """Least edge of a lens that is grooved for a cord. Common practice, 1.5 to 1.6."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PracticeSettings:
    """Everything that a practice sets for itself."""

    name: str = "This practice"
    telephone: str = ""
    adjustments: Adjustments = Adjustments()
    second_reading_blind: bool = True
    """While a repeat reading is entered the first stays hidden."""
    photographs: bool = False
    child_prescription_note_days: int = 365
    prescription_ask_days: int = 730
    """Two years: the sale of optical appliances rules of the United Kingdom; confirm locally."""
    measurement_ask_days: int = 30
    measurement_ask_days_child: int = 14
    """Common practice: a face, a child's above all, changes between measuring and ordering."""
    expected_bands: bool = True
    """Judge each reading by what the others and the survey of heads make likely. The survey's people are adult
    military personnel of one country: a practice whose patients differ can leave it out."""
    show_band_before: bool = False
    """Show the expected band before a reading is entered too. Off: seeing it first can bias a measurer."""
    head_width_inside_breadth_mm: float = 8.0
    """How far inside the widest part of the skull this practice's head widths lie, since callipers are closed more
    or less hard. Common practice: about 8, with some measurers 12."""
    own_reference: tuple[tuple[str, float, float], ...] = ()
    """Measurement, mean and standard deviation of the practice's own adults, in place of the published ones."""
    own_repeatability: tuple[tuple[str, float], ...] = ()
    """Technical error of measurement by measurement, from the practice's own repeats, in the measurement's unit."""
    steps_left_out: tuple[str, ...] = ()
    step_order: tuple[str, ...] = ()
    """Keys of steps in this practice's order; steps not named follow in the usual order."""

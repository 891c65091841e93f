"""Tolerances of mounted lenses as data: ISO 21987, ISO 8980-1 and ANSI Z80.1, each with its edition.

None of these tables could be read in the standards themselves. Check the current edition before one of them
decides anything for a wearer. Brackets read "up to and including"; the last one is open.
"""

from dataclasses import dataclass
from math import inf

CHECK_THE_EDITION = "Check the current edition of the standard before relying on this value."

ISO_21987_MEMORY = f"ISO 21987:2009 (power table as ISO 8980-1:2004), from memory. {CHECK_THE_EDITION}"
ISO_21987_NOTES = (
    "BS EN ISO 21987 as in student notes, "
    "https://brainscape.com/flashcards/412-measures-and-verifies-optical-applia-16582918. "
    f"{CHECK_THE_EDITION}"
)
ISO_8980_1_MEMORY = f"ISO 8980-1:2004 (uncut lenses), from memory. {CHECK_THE_EDITION}"
ANSI_2015_GUIDE = (
    "ANSI Z80.1-2015, quick reference guide, "
    "https://docslib.org/download/92180/quick-reference-guide-ansi-z80-1-2015. "
    f"{CHECK_THE_EDITION}"
)
ANSI_1999_PAGE = (
    f"ANSI Z80.1-1999, http://hollywoodoptical.com/surfacedLensStandards.htm. {CHECK_THE_EDITION}"
)


@dataclass(frozen=True, slots=True)
class Bracket:
    """A tolerance that holds up to and including a limit (both in the unit of their table)."""

    up_to: float
    tolerance: float


@dataclass(frozen=True, slots=True)
class PowerRow:
    """Up to a largest meridian power (dioptres): meridian tolerance, cylinder brackets (dioptres)."""

    up_to_power_d: float
    meridian_d: float
    cylinder: tuple[Bracket, ...]


@dataclass(frozen=True, slots=True)
class RelativePowerBracket:
    """A tolerance up to a nominal value (dioptres): fixed in dioptres, or a share of the nominal value."""

    up_to_d: float
    fixed_d: float = 0.0
    share: float = 0.0


@dataclass(frozen=True, slots=True)
class PrismRow:
    """Up to a prescribed prism: fixed tolerance to a power, beyond it an offset plus the effect of a slip.

    Prism in prism dioptres, power in dioptres, slip in mm.
    """

    up_to_prism_dioptres: float
    fixed_prism_dioptres: float
    fixed_up_to_power_d: float
    offset_prism_dioptres: float
    slip_mm: float


def _cylinder(*tolerances_d: float) -> tuple[Bracket, ...]:
    """The four cylinder brackets of the ISO tables: to 0.75, 4.00, 6.00 D and beyond."""
    return tuple(
        Bracket(limit, value) for limit, value in zip((0.75, 4.0, 6.0, inf), tolerances_d, strict=True)
    )


ISO_SINGLE_VISION_POWER = (  # single vision and multifocal; ISO_21987_MEMORY
    PowerRow(3.0, 0.12, _cylinder(0.09, 0.12, 0.18, 0.25)),
    PowerRow(6.0, 0.12, _cylinder(0.12, 0.12, 0.18, 0.25)),
    PowerRow(9.0, 0.12, _cylinder(0.12, 0.18, 0.18, 0.25)),
    PowerRow(12.0, 0.18, _cylinder(0.12, 0.18, 0.25, 0.25)),
    PowerRow(20.0, 0.25, _cylinder(0.18, 0.25, 0.25, 0.25)),
    PowerRow(inf, 0.37, _cylinder(0.25, 0.25, 0.37, 0.37)),
)
ISO_POWER_VARIATION_POWER = (  # progressive and degressive; ISO 8980-2 and ISO 21987 table 2, from memory
    PowerRow(6.0, 0.12, _cylinder(0.12, 0.18, 0.18, 0.25)),
    PowerRow(9.0, 0.18, _cylinder(0.18, 0.18, 0.18, 0.25)),
    PowerRow(12.0, 0.18, _cylinder(0.18, 0.18, 0.25, 0.25)),
    PowerRow(20.0, 0.25, _cylinder(0.18, 0.25, 0.25, 0.25)),
    PowerRow(inf, 0.37, _cylinder(0.25, 0.25, 0.37, 0.37)),
)
ISO_AXIS_DEG = (  # cylinder in dioptres to degrees; ISO_21987_NOTES
    Bracket(0.25, 16.0),
    Bracket(0.50, 9.0),
    Bracket(0.75, 6.0),
    Bracket(1.50, 4.0),
    Bracket(2.50, 3.0),
    Bracket(inf, 2.0),
)
ISO_ADDITION_D = (Bracket(4.0, 0.12), Bracket(inf, 0.18))  # ISO_21987_MEMORY
ISO_HORIZONTAL_IMBALANCE = (  # ISO_21987_MEMORY, medium confidence
    PrismRow(2.0, 0.67, 3.25, 0.0, 2.0),
    PrismRow(10.0, 1.00, 3.25, 0.33, 2.0),
    PrismRow(inf, 1.25, 3.25, 0.58, 2.0),
)
ISO_VERTICAL_IMBALANCE = (  # ISO_21987_MEMORY, medium confidence
    PrismRow(2.0, 0.50, 5.00, 0.0, 1.0),
    PrismRow(10.0, 0.75, 5.00, 0.25, 1.0),
    PrismRow(inf, 1.00, 5.00, 0.50, 1.0),
)
ISO_POSITION_MM = 1.0  # optical centre, segment and fitting point, heights, PD; ISO_21987_NOTES
ISO_TILT_DEG = 2.0  # segment or reference line from the horizontal; ISO_21987_NOTES
ISO_HEIGHT_PAIR_DIFFERENCE_MM = 1.0  # ISO_21987_MEMORY
ISO_NEAR_CENTRES_MM = 2.0  # distance between segment centres; ISO_21987_MEMORY
ISO_SEGMENT_SIZE_MM = 0.5  # ISO_21987_MEMORY
ISO_THICKNESS_MM = 0.3  # at the reference point; ISO 8980-1:2004, page seen at ulstandardspdf.com
ISO_UNCUT_PRISM_BASE = (Bracket(2.0, 0.25), Bracket(10.0, 0.37), Bracket(inf, 0.50))  # ISO_8980_1_MEMORY
ISO_UNCUT_PRISM_HORIZONTAL_PER_D = 0.1  # ISO_8980_1_MEMORY
ISO_UNCUT_PRISM_VERTICAL_PER_D = 0.05  # ISO_8980_1_MEMORY

ANSI_SINGLE_VISION_MERIDIAN = (  # ANSI_2015_GUIDE
    RelativePowerBracket(6.50, fixed_d=0.13),
    RelativePowerBracket(inf, share=0.02),
)
ANSI_PROGRESSIVE_MERIDIAN = (  # ANSI_2015_GUIDE
    RelativePowerBracket(8.00, fixed_d=0.16),
    RelativePowerBracket(inf, share=0.02),
)
ANSI_SINGLE_VISION_CYLINDER = (  # ANSI_2015_GUIDE
    RelativePowerBracket(2.00, fixed_d=0.13),
    RelativePowerBracket(4.50, fixed_d=0.15),
    RelativePowerBracket(inf, share=0.04),
)
ANSI_PROGRESSIVE_CYLINDER = (  # ANSI_2015_GUIDE
    RelativePowerBracket(2.00, fixed_d=0.16),
    RelativePowerBracket(3.50, fixed_d=0.18),
    RelativePowerBracket(inf, share=0.05),
)
ANSI_AXIS_DEG = (  # cylinder in dioptres to degrees; ANSI_2015_GUIDE
    Bracket(0.25, 14.0),
    Bracket(0.50, 7.0),
    Bracket(0.75, 5.0),
    Bracket(1.50, 3.0),
    Bracket(inf, 2.0),
)
ANSI_ADDITION_D = (Bracket(4.0, 0.12), Bracket(inf, 0.18))  # ANSI_2015_GUIDE
ANSI_REFERENCE_POINT_PRISM = 0.33  # prism dioptres, or the point within the position below; ANSI_2015_GUIDE
ANSI_REFERENCE_POINT_MM = 1.0  # ANSI_2015_GUIDE
ANSI_VERTICAL_IMBALANCE = Bracket(
    3.375, 0.33
)  # up to this power; beyond: reference-point heights; ANSI_2015_GUIDE
ANSI_VERTICAL_HEIGHTS_MM = 1.0  # ANSI_2015_GUIDE
ANSI_HORIZONTAL_IMBALANCE = Bracket(
    2.75, 0.67
)  # up to this power; beyond: distance from the PD; ANSI_2015_GUIDE
ANSI_HORIZONTAL_PD_MM = 2.5  # ANSI_2015_GUIDE
ANSI_PROGRESSIVE_VERTICAL_IMBALANCE = Bracket(3.375, 0.33)  # beyond: 1.0 mm for each point; ANSI_1999_PAGE
ANSI_PROGRESSIVE_HORIZONTAL_IMBALANCE = Bracket(3.75, 0.67)  # beyond: 1.0 mm for each point; ANSI_1999_PAGE
ANSI_HEIGHT_MM = 1.0  # segment or fitting cross, each lens; ANSI_1999_PAGE
ANSI_SEGMENT_SIZE_MM = 0.5  # pair difference 0.7; ANSI_1999_PAGE
ANSI_SEGMENT_PAIR_MM = 0.7  # ANSI_1999_PAGE
ANSI_SEGMENT_TILT_DEG = 2.0  # widely printed, from memory
ANSI_BASE_CURVE_D = 0.75  # when specified; ANSI_1999_PAGE
ANSI_CENTRE_THICKNESS_MM = 0.3  # when specified; ANSI_1999_PAGE

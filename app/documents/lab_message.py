"""The lab message: one order as records of the open interchange standard, as a value.

Angles of a prism base run counter-clockwise from the observer's right, seen from the front, 0 to 360 degrees
(from memory of ISO 16284). Heights are above the lowest point of the lens box.
"""

from dataclasses import dataclass, field
from typing import Literal

Eyes = Literal["B", "R", "L"]
BothEyes = tuple[float | None, float | None]
"""Right, then left; None where it is unknown."""
FEWEST_RADII = 12
"""A lens outline with fewer is a guess. Ours."""
LARGEST_STEP_DEG = 45.0
"""More between two radii is a gap. Ours."""
FULL_CIRCLE_HUNDREDTHS = 36_000


class NotAnOutline(ValueError):
    """The radii do not make an outline; the message says why."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OutlineRadii:
    """One outline as the standard's plain numbers: whole hundredths of a mm and, where spacing is unequal, of
    a degree.

    `side` R, L or B; `source` F frame, P pattern, D demo lens. Radii run counter-clockwise from the
    observer's right, seen from the front, from the boxed centre.
    """

    side: Literal["R", "L", "B"]
    radii_hundredths_mm: tuple[int, ...]
    angles_hundredths_deg: tuple[int, ...] | None = None
    source: Literal["F", "P", "D"] = "P"

    def __post_init__(self) -> None:
        """Raise NotAnOutline for too few radii, radii that are none, a gap, or angles that do not rise."""
        if len(self.radii_hundredths_mm) < FEWEST_RADII:
            raise NotAnOutline(
                f"an outline needs {FEWEST_RADII} radii or more, not {len(self.radii_hundredths_mm)}"
            )
        if min(self.radii_hundredths_mm) <= 0:
            raise NotAnOutline("a radius is not above 0 mm")
        if self.angles_hundredths_deg is not None:
            _check_angles(self.angles_hundredths_deg, len(self.radii_hundredths_mm))

    @property
    def radii_mm(self) -> tuple[float, ...]:
        """The radii in mm."""
        return tuple(radius / 100 for radius in self.radii_hundredths_mm)

    @property
    def angles_deg(self) -> tuple[float, ...]:
        """The angles in degrees, equally spaced where none are written."""
        count = len(self.radii_hundredths_mm)
        if self.angles_hundredths_deg is None:
            return tuple(360.0 * place / count for place in range(count))
        return tuple(angle / 100 for angle in self.angles_hundredths_deg)


def _check_angles(angles: tuple[int, ...], count: int) -> None:
    if len(angles) != count:
        raise NotAnOutline(f"there are {count} radii but {len(angles)} angles")
    if not all(0 <= angle < FULL_CIRCLE_HUNDREDTHS for angle in angles):
        raise NotAnOutline("an angle lies outside 0 to 360 degrees")
    ahead = [*angles[1:], angles[0] + FULL_CIRCLE_HUNDREDTHS]
    steps = [after - before for before, after in zip(angles, ahead, strict=True)]
    if min(steps) <= 0:
        raise NotAnOutline("the radii are out of order: their angles do not rise")
    if max(steps) > LARGEST_STEP_DEG * 100:
        raise NotAnOutline(f"there is a gap of {max(steps) / 100:g} degrees without a radius")


@dataclass(frozen=True, slots=True, kw_only=True)
class ForeignRecord:
    """A record with a label that we do not use, kept as it came."""

    label: str
    value: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LabMessage:
    """One order. `both_eyes` and `numbers` are keyed by label (see app.documents.lab_labels)."""

    job: str = ""
    eyes: Eyes | None = None
    both_eyes: dict[str, BothEyes] = field(default_factory=dict)
    numbers: dict[str, float] = field(default_factory=dict)
    outlines: tuple[OutlineRadii, ...] = ()
    foreign: tuple[ForeignRecord, ...] = ()

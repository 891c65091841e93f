"""A prescription as written, plus or minus cylinder, one eye each."""

from dataclasses import dataclass
from typing import Literal

from app.catalogue.measurement import Side

Base = Literal["in", "out", "up", "down"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Prism:
    """One prism component: amount in prism dioptres, base direction None where it was left out."""

    amount: float
    base: Base | None


@dataclass(frozen=True, slots=True, kw_only=True)
class EyePrescription:
    """Powers in dioptres as written, axis in degrees 0-180 (ISO 8429 notation), prism components as written."""

    sphere: float
    cylinder: float | None = None
    axis: float | None = None
    add: float | None = None
    prism: tuple[Prism, ...] = ()

    @property
    def principal_powers(self) -> tuple[float, float]:
        """The two principal powers: S and S + C, in dioptres."""
        return self.sphere, self.sphere + (self.cylinder or 0.0)

    @property
    def strongest_meridian(self) -> float:
        """The principal power that is largest without its sign, in dioptres."""
        return max(self.principal_powers, key=abs)


@dataclass(frozen=True, slots=True, kw_only=True)
class Prescription:
    """Both eyes, with the vertex distance at which it was tested (mm), its date (ISO 8601) and its prescriber."""

    right: EyePrescription | None = None
    left: EyePrescription | None = None
    written: str | None = None
    prescriber: str | None = None
    tested_at_mm: float | None = None

    def eye(self, side: Side) -> EyePrescription | None:
        """The prescription of one eye."""
        return self.right if side == "R" else self.left

"""A prescription as written, plus or minus cylinder, one eye each."""

from dataclasses import dataclass, replace
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
    def near(self) -> "EyePrescription":
        """The power for near in a single-vision lens: sphere + addition; cylinder, axis and prism as written.

        Source: the addition is added to the distance power to give the near power (ISO 13666, addition power;
        from memory). Without an addition the power stands as it is.

        >>> EyePrescription(sphere=1.75, cylinder=-0.5, axis=90.0, add=2.25).near.sphere
        4.0
        """
        return replace(self, sphere=self.sphere + (self.add or 0.0), add=None)

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

    @property
    def near(self) -> "Prescription":
        """Both eyes with their powers for near."""
        return replace(self, right=self.right and self.right.near, left=self.left and self.left.near)

    def eye(self, side: Side) -> EyePrescription | None:
        """The prescription of one eye."""
        return self.right if side == "R" else self.left

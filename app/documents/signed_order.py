"""One pair's order as it was signed: what every exchange file is written from."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from app.catalogue.measurement import Side
from app.fitting.fitting import Fitting
from app.fitting.pair import Pair
from app.fitting.prescription import EyePrescription
from app.frame.ordered_dimension import OrderedDimension


@dataclass(frozen=True, slots=True, kw_only=True)
class SignOff:
    """The version that was signed: its number, the moment (ISO 8601, UTC), by whom, with which registration."""

    version: int
    at: str
    name: str
    registration: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SignedOrder:
    """One pair of a signed fitting. `number` is the order's number, which says nothing of the person."""

    number: str
    fitting: Fitting
    pair: Pair
    lines: tuple[OrderedDimension, ...]
    signed: SignOff
    lenses: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    """What was worked out for each lens, by side and key; empty in versions signed before it was kept."""

    def ordered(self, dimension: str, side: Side | None = None) -> float | None:
        """The ordered value of a dimension; None where there is none."""
        found = (one.ordered for one in self.lines if (one.dimension, one.side) == (dimension, side))
        return next(found, None)

    def of_lens(self, key: str, side: Side) -> float | None:
        """A number that was worked out for one lens; None where there is none."""
        value = self.lenses.get(side, {}).get(key)
        return float(value) if isinstance(value, int | float) else None

    def eye(self, side: Side) -> EyePrescription | None:
        """What is prescribed for one eye."""
        prescription = self.fitting.prescription_for(self.pair)
        return None if prescription is None else prescription.eye(side)

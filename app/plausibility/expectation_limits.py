"""How far from its expectation a reading may lie before it is doubted: found by simulating whole fittings."""

import json
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from statistics import NormalDist

import numpy as np

from app.plausibility.expectation_model import Floats

LIMITS_FILE = Path(__file__).with_name("expectation_limits.json")
SMALLEST_SHARE = 1e-9
"""No reading's share of false alarms is taken below this, so that every limit is a number."""


@dataclass(frozen=True, slots=True)
class CriticalValues:
    """Limits in standard deviations of the prediction, so that few honest fittings raise any question.

    `false_alarms` is the share of honest fittings that may be questioned, spent on all readings judged at
    once: each gets a part in proportion to its `weights` (1 where it is not named), more where the others
    tell little and a slip is hard to see. `heavier` multiplies the normal quantile for measurements with
    heavier tails than normal. `exchange_gain` is the log likelihood that an exchange of two boxes must gain
    to be asked about by itself. All come from simulated honest fittings of surveyed people, not from a table.
    """

    false_alarms: float
    weights: dict[str, float] = field(default_factory=dict)
    heavier: dict[str, float] = field(default_factory=dict)
    exchange_gain: float = float("inf")
    source: str = ""
    _kept: dict[tuple[str, ...], tuple[Floats, Floats]] = field(
        default_factory=dict, init=False, repr=False, compare=False
    )

    def of(self, measurements: tuple[str, ...]) -> Floats:
        """The limit of each of these measurements, judged together, in SDs; (m,)."""
        return self._limits(measurements)[0]

    def levels(self, measurements: tuple[str, ...]) -> Floats:
        """The share of honest readings inside each band; (m,)."""
        return self._limits(measurements)[1]

    def _limits(self, measurements: tuple[str, ...]) -> tuple[Floats, Floats]:
        if measurements not in self._kept:
            if len(self._kept) > 512:
                self._kept.clear()
            weights = np.array([self.weights.get(name, 1.0) for name in measurements])
            outside = np.maximum(self.false_alarms * weights / weights.sum(), SMALLEST_SHARE)
            normal = np.array([NormalDist().inv_cdf(1 - share / 2) for share in outside.tolist()])
            heavier = np.array([self.heavier.get(name, 1.0) for name in measurements])
            self._kept[measurements] = (normal * heavier, 1 - outside)
        return self._kept[measurements]


@cache
def critical_values() -> CriticalValues:
    """The shipped limits, made by `python -m app.evaluation --calibrate`."""
    found = json.loads(LIMITS_FILE.read_text("utf-8"))
    return CriticalValues(
        false_alarms=found["false_alarms"],
        weights=found["weights"],
        heavier=found["heavier"],
        exchange_gain=found["exchange_gain"],
        source=found["source"],
    )

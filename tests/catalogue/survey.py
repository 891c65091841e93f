"""The survey's counts, and the share of its people outside a range."""

import json
import math
from collections import Counter
from pathlib import Path

from app.catalogue.measurement import Range

# ANSUR II, US Army anthropometric survey 2010-12, NATICK/TR-15/007, public release: counts of values in mm.
TABLE = json.loads((Path(__file__).parents[1] / "data" / "ansur2_counts.json").read_text(encoding="utf-8"))
PEOPLE: int = TABLE["people"]


def people_with(column: str, sexes: str = "FM") -> Counter[float]:
    """How many people of these sexes had each value."""
    counted: Counter[float] = Counter()
    for sex in sexes:
        for value, count in TABLE["counts"][column][sex].items():
            counted[float(value)] += count
    return counted


def share_outside(column: str, within: Range, sexes: str = "FM") -> float:
    """Share of these people whose value lies outside the range."""
    counted = people_with(column, sexes)
    return sum(count for value, count in counted.items() if not within.holds(value)) / counted.total()


def share_outside_spread(
    column: str, within: Range, *, offset_mm: float, spread_mm: float, sexes: str = "FM"
) -> float:
    """Share outside when each value is shifted and then scattered normally, rounded to whole millimetres."""

    def outside(value: float) -> float:
        centre = value + offset_mm
        below = _normal((within.low - 0.5 - centre) / spread_mm)
        above = 1 - _normal((within.high + 0.5 - centre) / spread_mm)
        return below + above

    counted = people_with(column, sexes)
    return sum(count * outside(value) for value, count in counted.items()) / counted.total()


def _normal(deviations: float) -> float:
    return 0.5 * (1 + math.erf(deviations / math.sqrt(2)))

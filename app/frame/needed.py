"""A number of an order with what is known of it: its name, what it lacks, and how sure it is.

Uncertainty goes with the number. Each reading that enters it leaves a share: the derivative of the number by the
reading, times the standard deviation of the reading. Shares are signed, so that a reading which enters twice
counts once (law of propagation of uncertainty, JCGM 100:2008, clause 5). Derivatives are taken numerically
through the very function that works the number out. Where that function has a kink, such as the larger of two,
the readings are simulated instead and the interval is quoted (JCGM 101:2008).
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from math import sqrt
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from app.optics.refusal import NotPossible

COVERAGE_FACTOR = 2.0
"""k = 2: about 95 % (JCGM 100:2008, clause 6)."""
OUTSIDE = 0.02275
"""Part left out at either end so that the middle 95.45 % stay, which k = 2 covers for a normal distribution."""
DRAWS = 2000
STEP = 1e-3
"""Half-step of the numerical derivative, in mm, degrees or dioptres: far below any reading, far above rounding."""
MOST_OF_IT = 0.5
"""A reading dominates where it makes up more than this share of the variance."""

Samples = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Needed:
    """A number that a dimension is worked out from; None where it is missing, with its name for people."""

    name: str
    value: float | None
    count: int = 1
    """How many readings it was made from; 0 where it was chosen or worked out."""
    lacking: tuple[str, ...] = ()
    """Names of what is missing for it, where it is itself worked out."""
    shares: Mapping[str, float] = field(default_factory=dict)
    """Standard deviation that each reading contributes, by its name, with the sign of the derivative."""
    interval: tuple[float, float] | None = None
    """Where it was simulated: the limits between which the middle 95.45 % lie."""

    @property
    def known(self) -> float:
        """The number. Raises ValueError where it is missing: ask `missing` first."""
        if self.value is None:
            raise ValueError(f"{self.name} is missing")
        return self.value

    @property
    def standard(self) -> float:
        """Standard deviation: root of the sum of the squared shares."""
        return sqrt(sum(share * share for share in self.shares.values()))

    @property
    def uncertainty(self) -> float | None:
        """Expanded uncertainty, k = 2; half the interval where simulated; None where no reading enters."""
        if self.value is None or not self.shares:
            return None
        if self.interval is not None:
            return (self.interval[1] - self.interval[0]) / 2
        return COVERAGE_FACTOR * self.standard

    @property
    def dominated_by(self) -> str:
        """The reading that makes up most of the uncertainty, where one does and others also count."""
        if len(self.shares) < 2:
            return ""
        name, share = max(self.shares.items(), key=lambda item: abs(item[1]))
        total = self.standard**2
        return name if share * share > MOST_OF_IT * total * (1 + 1e-9) else ""

    @property
    def after_repeating(self) -> float | None:
        """The uncertainty once the dominant reading, or the only one, is taken again and agrees: its share / √2."""
        name = self.dominated_by or (next(iter(self.shares)) if len(self.shares) == 1 else "")
        if not name or self.uncertainty is None or self.standard == 0:
            return None
        saved = self.shares[name] ** 2 / 2
        return self.uncertainty * sqrt(self.standard**2 - saved) / self.standard


def missing(*needed: Needed) -> tuple[str, ...]:
    """The names of those that are missing, each once; for what is worked out, of what it is worked out from."""
    names = (name for one in needed if one.value is None for name in one.lacking or (one.name,))
    return tuple(dict.fromkeys(names))


def derived(name: str, work_out: Callable[..., float], *needed: Needed, decimals: int = 12) -> Needed:
    """A number worked out by a smooth function of others, with its shares; or what is missing. Never a guess.

    `work_out` takes the numbers in the order of `needed`. A refusal (NotPossible) becomes what it lacks.
    """
    absent = missing(*needed)
    if absent:
        return Needed(name=name, value=None, count=0, lacking=absent)
    at = [one.known for one in needed]
    try:
        value = work_out(*at)
        shares = _shares(work_out, at, needed)
    except NotPossible as refusal:
        return Needed(name=name, value=None, count=0, lacking=(str(refusal),))
    return Needed(name=name, value=round(value, decimals), count=0, shares=shares)


def simulated(name: str, over_arrays: Callable[..., Samples | float], *needed: Needed) -> Needed:
    """A number worked out by a function with a kink: its interval comes from simulating the readings.

    `over_arrays` takes numbers or arrays of one shape alike.
    """
    plain = derived(name, lambda *at: float(over_arrays(*at)), *needed)
    if plain.value is None or not plain.shares:
        return plain
    found = np.asarray(over_arrays(*samples_of(needed)))
    return Needed(name=name, value=plain.value, count=0, shares=plain.shares, interval=covered(found))


def covered(found: Samples) -> tuple[float, float]:
    """The limits between which the middle 95.45 % of simulated values lie."""
    places = (round(OUTSIDE * len(found)), len(found) - 1 - round(OUTSIDE * len(found)))
    sorted_there = np.partition(found, places)
    return float(sorted_there[places[0]]), float(sorted_there[places[1]])


def samples_of(needed: tuple[Needed, ...]) -> list[Samples]:
    """Simulated values, an array of DRAWS for each number: the same draw of a reading wherever it enters."""
    names = tuple(dict.fromkeys(name for one in needed for name in one.shares))
    drawn = standard_draws(len(names))
    place = {name: row for row, name in enumerate(names)}
    return [
        one.known + sum((share * drawn[place[name]] for name, share in one.shares.items()), np.zeros(DRAWS))
        for one in needed
    ]


@lru_cache(maxsize=16)
def standard_draws(rows: int) -> Samples:
    """Standard normal draws, evenly spread in each row and shuffled (Latin hypercube; McKay and others 1979).

    The same at every call: an order must not change when it is printed again.
    """
    if rows == 0:
        return np.empty((0, DRAWS))
    normal = NormalDist()
    even = np.array([normal.inv_cdf((place + 0.5) / DRAWS) for place in range(DRAWS)])
    shuffled = np.random.default_rng(20110101)
    return np.array([shuffled.permutation(even) for _ in range(rows)])


def _shares(work_out: Callable[..., float], at: list[float], needed: tuple[Needed, ...]) -> dict[str, float]:
    shares: dict[str, float] = {}
    for place, one in enumerate(needed):
        if not one.shares:
            continue
        above, below = list(at), list(at)
        above[place] += STEP
        below[place] -= STEP
        slope = (work_out(*above) - work_out(*below)) / (2 * STEP)
        for name, share in one.shares.items():
            shares[name] = shares.get(name, 0.0) + slope * share
    return shares

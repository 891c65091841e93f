"""A share with its confidence interval."""

from dataclasses import dataclass
from math import sqrt

NORMAL_95 = 1.959964
"""Standard normal quantile of 97.5 %."""


@dataclass(slots=True)
class Share:
    """So many of so many."""

    hits: int = 0
    of: int = 0

    def add(self, hit: bool) -> None:
        """Counts one."""
        self.hits += hit
        self.of += 1

    @property
    def share(self) -> float:
        """Hits of all; 0 where there is nothing."""
        return self.hits / self.of if self.of else 0.0

    @property
    def interval(self) -> tuple[float, float]:
        """95 % interval by Wilson's score.

        Source: E. B. Wilson, Journal of the American Statistical Association 22, 1927.

        >>> [round(end, 3) for end in Share(10, 100).interval]
        [0.055, 0.174]
        """
        if not self.of:
            return 0.0, 1.0
        square = NORMAL_95**2
        middle = (self.share + square / (2 * self.of)) / (1 + square / self.of)
        spread = sqrt(self.share * (1 - self.share) / self.of + square / (4 * self.of**2))
        reach = NORMAL_95 * spread / (1 + square / self.of)
        return max(middle - reach, 0.0), min(middle + reach, 1.0)

    def __str__(self) -> str:
        low, high = self.interval
        if not self.of:
            return "no case"
        return f"{100 * self.share:5.1f} % ({100 * low:.1f} to {100 * high:.1f}; n {self.of})"

    def document(self) -> dict[str, float | int]:
        """For JSON."""
        low, high = self.interval
        return {"share": round(self.share, 5), "low": round(low, 5), "high": round(high, 5), "n": self.of}

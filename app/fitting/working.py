"""Working values: from all readings of one thing by one method, the value to work with and its spread."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import median
from typing import Literal

from app.catalogue.catalogue import measurement as measurement_of
from app.catalogue.measurement import Side, Unit
from app.fitting.fitting import Fitting
from app.fitting.reading import Reading

TEN_THOUSANDTHS = 10_000

State = Literal["single", "agree", "third_needed", "median", "mean_of_closest"]
"""single: one reading. agree: two within tolerance, their mean. third_needed: two that differ, their mean for now.
mean_of_closest: of three or more, the mean of the closest two. median: none agree, unstable."""

Group = tuple[str, Side | None, int | None, str | None, str | None]
"""Measurement, side, pair, method, condition: readings alike in all five are repeats of one another."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkingValue:
    """One value to work with, in the measurement's own unit; `spread` is greatest less least reading."""

    measurement: str
    side: Side | None
    pair: int | None
    method: str | None
    condition: str | None
    value: float
    spread: float
    count: int
    state: State
    unit: Unit

    @property
    def settled(self) -> bool:
        """True where no further reading is asked for by the rule of two readings; a single one is settled too."""
        return self.state not in ("third_needed", "median")


def current_readings(fitting: Fitting) -> tuple[Reading, ...]:
    """The readings that count: not entered in error, and not replaced by a reading that itself counts.

    A correction that was itself entered in error has no effect, so the reading it replaced counts again.
    """
    standing = [reading for reading in fitting.readings if reading.entered_in_error is None]
    replaced = {reading.replaces for reading in standing if reading.replaces is not None}
    return tuple(
        reading for reading in standing if reading.identity is None or reading.identity not in replaced
    )


def working_values(fitting: Fitting) -> tuple[WorkingValue, ...]:
    """One value for each measurement, side, pair, method and condition, in the order first taken.

    Methods and conditions are never averaged together.
    """
    groups = repeats_of(fitting)
    return tuple(
        _working_value(group, [reading.value for reading in counting(readings)])
        for group, readings in groups.items()
    )


def repeats_of(fitting: Fitting) -> dict[Group, list[Reading]]:
    """The readings that stand, grouped as repeats of one another, in the order first taken."""
    groups: dict[Group, list[Reading]] = {}
    for reading in current_readings(fitting):
        key = (reading.measurement, reading.side, reading.pair, reading.method, reading.condition)
        groups.setdefault(key, []).append(reading)
    return groups


def waits(reading: Reading) -> bool:
    """True for an assistant's reading that no practitioner has accepted."""
    return reading.proposed and reading.accepted_by is None


def counting(readings: Sequence[Reading]) -> Sequence[Reading]:
    """Of the repeats of one reading those that count: once a practitioner has measured, a proposal no longer does.

    An assistant's reading is accepted or measured again, never averaged in unaccepted. Common practice.
    """
    own = [reading for reading in readings if not waits(reading)]
    return own or readings


def waiting_proposals(fitting: Fitting) -> tuple[Reading, ...]:
    """Proposed readings that wait for a practitioner: those that nobody has accepted or measured again."""
    return tuple(
        reading
        for readings in repeats_of(fitting).values()
        for reading in counting(readings)
        if reading.proposed
    )


def _working_value(group: Group, values: list[float]) -> WorkingValue:
    key, side, pair, method, condition = group
    declared = measurement_of(key)
    value, state = settle(values, tolerance=declared.tolerance(method))
    return WorkingValue(
        measurement=key,
        side=side,
        pair=pair,
        method=method,
        condition=condition,
        value=value,
        spread=(max(map(_whole, values)) - min(map(_whole, values))) / TEN_THOUSANDTHS,
        count=len(values),
        state=state,
        unit=declared.unit,
    )


def settle(values: list[float], *, tolerance: float) -> tuple[float, State]:
    """The value to work with from repeats of one reading, and how it came about.

    One: itself. Two that differ by at most `tolerance`: their mean; else their mean for now, and a third is
    needed. Three or more: the mean of the closest two if they agree, else the median. All compared in whole
    ten-thousandths, so a difference equal to the tolerance agrees.
    Where two pairs are equally close the one nearer the median is taken; where that does not decide either
    (61, 62, 63) the median stands for both, as stable if the two pairs agree with one another.

    Source: common practice in anthropometry, two readings and a third where they differ; on why readings are
    repeated see Ulijaszek and Kerr 1999 (doi 10.1017/S0007114599001348, from memory).
    Raises ValueError where there is no reading.

    >>> settle([62.0, 62.5], tolerance=0.5)
    (62.25, 'agree')
    >>> settle([62.0, 64.0, 62.5], tolerance=0.5)
    (62.25, 'mean_of_closest')
    """
    if not values:
        raise ValueError("there is no reading to work with")
    ordered = sorted(map(_whole, values))
    if len(ordered) == 1:
        return ordered[0] / TEN_THOUSANDTHS, "single"
    allowed = _whole(tolerance)
    if len(ordered) == 2:
        agree = ordered[1] - ordered[0] <= allowed
        return sum(ordered) / 2 / TEN_THOUSANDTHS, "agree" if agree else "third_needed"
    doubled, state = _of_three_or_more(ordered, allowed)
    return doubled / 2 / TEN_THOUSANDTHS, state


def _of_three_or_more(ordered: list[int], allowed: int) -> tuple[int, State]:
    """Twice the value, so that the mean of two whole numbers stays whole."""
    twice_median = round(2 * median(ordered))
    least = min(high - low for low, high in pairwise(ordered))
    if least > allowed:
        return twice_median, "median"
    sums = {low + high for low, high in pairwise(ordered) if high - low == least}
    nearest = min(abs(total - twice_median) for total in sums)
    tied = [total for total in sums if abs(total - twice_median) == nearest]
    if len(tied) == 1:
        return tied[0], "mean_of_closest"
    return twice_median, "mean_of_closest" if max(tied) - min(tied) <= 2 * allowed else "median"


def _whole(value: float) -> int:
    return round(value * TEN_THOUSANDTHS)

"""How well a practice repeats its own readings, shrunk towards the published value while repeats are few."""

from collections.abc import Iterable
from dataclasses import dataclass
from math import sqrt

from app.catalogue.measurement import Side
from app.fitting.fitting import Fitting
from app.fitting.working import current_readings
from app.plausibility.expectation_evidence import error_of

PUBLISHED_WORTH_PAIRS = 20
"""The published error counts as so many pairs: fewer than 20 pairs of one's own are not to be trusted alone.
Common practice (knowpublichealth.com/technical-error-measurement-tem)."""


Box = tuple[str, str | None, Side | None, int | None, str | None]
"""Measurement, method, side, pair, condition."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Repeatability:
    """Technical error of one measurement, in its own unit; `by` None for everybody together."""

    measurement: str
    method: str | None
    by: str | None
    pairs: int
    own: float
    published: float
    used: float
    """What the bands go by: own and published, weighed by their pairs."""


def technical_error(differences: Iterable[float]) -> float:
    """Technical error of measurement: √(Σ d² / 2N) of N differences between two readings of one thing.

    Source: Ulijaszek and Kerr 1999, doi 10.1017/S0007114599001348. Raises ValueError where there is none.

    >>> technical_error([1.0, -1.0, 0.0, 0.0])
    0.5
    """
    squares = [difference**2 for difference in differences]
    if not squares:
        raise ValueError("no two readings of one thing, so no repeatability")
    return sqrt(sum(squares) / (2 * len(squares)))


def shrunk_error(*, own: float, pairs: int, published: float) -> float:
    """Own technical error drawn to the published one: √((20 · published² + N · own²) / (20 + N)).

    >>> round(shrunk_error(own=0.8, pairs=20, published=0.4), 4)
    0.6325
    """
    total = PUBLISHED_WORTH_PAIRS + pairs
    return sqrt((PUBLISHED_WORTH_PAIRS * published**2 + pairs * own**2) / total)


def repeatability(fittings: Iterable[Fitting], *, by_measurer: bool = False) -> tuple[Repeatability, ...]:
    """By measurement (and measurer), from the first two readings of one thing by one method in each fitting.

    With `by_measurer` only pairs that one and the same person took count.
    """
    differences: dict[tuple[str, str | None, str | None], list[float]] = {}
    for fitting in fittings:
        for key, values in _pairs(fitting, by_measurer).items():
            differences.setdefault(key, []).extend(values)
    found = []
    for (measurement, method, by), values in sorted(differences.items(), key=lambda one: str(one[0])):
        own, published = technical_error(values), error_of(measurement, method)
        used = shrunk_error(own=own, pairs=len(values), published=published)
        found.append(
            Repeatability(
                measurement=measurement,
                method=method,
                by=by,
                pairs=len(values),
                own=own,
                published=published,
                used=used,
            )
        )
    return tuple(found)


def _pairs(fitting: Fitting, by_measurer: bool) -> dict[tuple[str, str | None, str | None], list[float]]:
    taken: dict[Box, list[tuple[float, str | None]]] = {}
    for one in current_readings(fitting):
        key = (one.measurement, one.method, one.side, one.pair, one.condition)
        taken.setdefault(key, []).append((one.value, one.by))
    found: dict[tuple[str, str | None, str | None], list[float]] = {}
    for (measurement, method, *_), values in taken.items():
        if len(values) < 2 or (by_measurer and values[0][1] != values[1][1]):
            continue
        group = (measurement, method, values[0][1] if by_measurer else None)
        found.setdefault(group, []).append(values[0][0] - values[1][0])
    return found

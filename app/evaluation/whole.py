"""Whole fittings: false alarms of honest ones, and what becomes of one slip in each."""

from collections import Counter
from dataclasses import dataclass, field

import numpy as np

from app.evaluation.judges import Verdict, verdict
from app.evaluation.people import Surveyed, fitting_of, sample
from app.evaluation.share import Share
from app.evaluation.slips import KINDS, Slip, draw_slip, with_slip
from app.fitting.fitting import Fitting
from app.plausibility.expectation_limits import CriticalValues
from app.plausibility.finding import Subject

LARGE_SDS, SMALL_SDS = 5.5, 3.0
POWER_STEPS = (0.0, 1.0, 2.0, 3.0, 3.5, 4.0, 4.5, 5.0, 5.5, 7.0, 10.0, float("inf"))


@dataclass(slots=True)
class Outcome:
    """Flagged and named, by way of judging."""

    limits: Share = field(default_factory=Share)
    checks: Share = field(default_factory=Share)
    bands: Share = field(default_factory=Share)
    everything: Share = field(default_factory=Share)
    named_by_limits: Share = field(default_factory=Share)
    named_by_checks: Share = field(default_factory=Share)
    named_by_bands: Share = field(default_factory=Share)
    named_by_everything: Share = field(default_factory=Share)

    def document(self) -> dict[str, object]:
        """For JSON."""
        return {name: getattr(self, name).document() for name in self.__slots__}


@dataclass(slots=True)
class WholeFittings:
    """Everything counted over whole fittings."""

    false_limits: Share = field(default_factory=Share)
    false_checks: Share = field(default_factory=Share)
    false_bands: Share = field(default_factory=Share)
    false_all: Share = field(default_factory=Share)
    false_by_check: Counter[str] = field(default_factory=Counter)
    slips: Outcome = field(default_factory=Outcome)
    by_kind: dict[str, Outcome] = field(default_factory=dict)
    by_measurement: dict[str, Outcome] = field(default_factory=dict)
    large: Outcome = field(default_factory=Outcome)
    power: dict[float, Outcome] = field(default_factory=dict)
    unseen: Counter[tuple[str, str]] = field(default_factory=Counter)


def run(
    people: list[Surveyed],
    *,
    honest: int,
    slips: int,
    critical: CriticalValues,
    draw: np.random.Generator,
    kinds_alike: bool = True,
) -> WholeFittings:
    """So many honest fittings, and so many with one slip each.

    The slip: a kind first, then a box it can happen in; or (`kinds_alike` false) any slip of the catalogue alike.
    """
    found = WholeFittings()
    kinds = list(KINDS)
    for one in sample(people, honest, draw):
        _count_honest(found, verdict(fitting_of(one, draw), critical))
    for one in sample(people, slips, draw):
        fitting = fitting_of(one, draw)
        slip = draw_slip(fitting, kinds[int(draw.integers(len(kinds)))] if kinds_alike else None, draw)
        if slip is not None:
            _count_slip(found, fitting, slip, critical)
    return found


def _count_honest(found: WholeFittings, honest: Verdict) -> None:
    found.false_limits.add(bool(honest.limits))
    found.false_checks.add(bool(honest.checks))
    found.false_bands.add(bool(honest.bands))
    found.false_all.add(bool(honest.checks or honest.bands))
    asked = {check for check, _ in honest.checks} | ({"outside-expected-band"} if honest.bands else set())
    found.false_by_check.update(asked)


def _count_slip(found: WholeFittings, fitting: Fitting, slip: Slip, critical: CriticalValues) -> None:
    before, after = verdict(fitting, critical), verdict(with_slip(fitting, slip), critical)
    size = _size(before, slip)
    measurement = max(slip.changes, key=lambda change: change[0].measurement)[0].measurement
    outcomes = [
        found.slips,
        found.by_kind.setdefault(slip.kind, Outcome()),
        found.by_measurement.setdefault(measurement, Outcome()),
    ]
    if size is not None:
        step = max(step for step in POWER_STEPS if step <= size)
        outcomes.append(found.power.setdefault(step, Outcome()))
        if size > LARGE_SDS:
            outcomes.append(found.large)
    seen = {"limits": after.limits - before.limits, "checks": after.checks - before.checks}
    bands = set(after.bands) - set(before.bands)
    if not (seen["checks"] or bands):
        found.unseen[(slip.kind, measurement)] += 1
    for outcome in outcomes:
        outcome.limits.add(bool(seen["limits"]))
        outcome.checks.add(bool(seen["checks"]))
        outcome.bands.add(bool(bands))
        outcome.everything.add(bool(seen["checks"] or bands))
        _count_named(outcome, slip, seen_by=(seen["limits"], seen["checks"], bands), after=after)


def _count_named(outcome: Outcome, slip: Slip, *, seen_by: tuple[object, ...], after: Verdict) -> None:
    """Of the slips that were flagged: was a reading with a wrong value named first?"""
    limits, checks, bands = seen_by
    if limits:
        outcome.named_by_limits.add(_right(after.first_by_limits, slip))
    if checks:
        outcome.named_by_checks.add(_right(after.first_by_checks, slip))
    if bands:
        outcome.named_by_bands.add(_right(after.bands[0], slip))
    if checks or bands:
        outcome.named_by_everything.add(_right(after.all_first, slip))


def _right(named: Subject | None, slip: Slip) -> bool:
    return named is not None and any(
        (named.measurement, named.side, named.pair) == (box.measurement, box.side, box.pair)
        and named.method in (None, box.method)
        for box in slip.boxes
    )


def _size(before: Verdict, slip: Slip) -> float | None:
    """The largest change of the slip in standard deviations of the prediction from all other readings."""
    judged = before.judged
    if judged is None:
        return None
    place = {one.subject: number for number, one in enumerate(judged.evidence)}
    values = {one.subject: one.value for one in judged.evidence}
    sizes = [
        abs(value - values[box]) / float(judged.sd[place[box]])
        for box, value in slip.changes
        if box in place and judged.linked[place[box]]
    ]
    return max(sizes, default=None)

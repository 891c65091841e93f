"""A fitting judged by expectation: every reading's prediction, what is doubted, what contradicts."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass

import numpy as np

from app.fitting.fitting import Fitting
from app.fitting.working import WorkingValue, working_values
from app.plausibility.expectation_conditional import (
    Together,
    influences,
    leave_one_out,
    removed_given_kept,
    together,
    without,
)
from app.plausibility.expectation_evidence import Evidence, evidence_from, models_for
from app.plausibility.expectation_limits import CriticalValues, critical_values
from app.plausibility.expectation_model import Floats
from app.plausibility.expectation_search import Doubted, Search, find_doubted
from app.plausibility.finding import Subject
from app.practice.settings import PracticeSettings
from app.reference.populations import SurveyPart

NARROWED_TO = 0.95
"""A band is given only where the other readings narrow it to this share of its width, or less. Ours."""
NAMED_SHARE = 0.15
"""Readings that move the expectation by less than this share of what the strongest does are not named. Ours."""
MOST_NAMED = 5

Confirmed = Collection[Subject]
"""Readings that were confirmed: measured again, or right because of a reason that was given."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """Predictions in the order of the evidence; a doubted reading plays no part in those of the others.

    `mean`, `sd`, `deviation` and `limits` (m,); `linked` where others tell something. `contradicting` are
    confirmed readings that do not agree with each other: then nothing else was judged.
    """

    evidence: tuple[Evidence, ...]
    mean: Floats
    sd: Floats
    deviation: Floats
    limits: Floats
    levels: Floats
    linked: np.ndarray
    doubted: Doubted
    whole: Together
    contradicting: tuple[int, ...] = ()

    def named(self, places: Sequence[int]) -> dict[int, tuple[str, ...]]:
        """The measurements that the expectation of each of these readings rests on, strongest first."""
        moved = influences(self.whole)[list(places)]
        moved[:, list(self.doubted.places)] = 0.0
        strongest = np.argsort(-moved, axis=1)[:, :MOST_NAMED].tolist()
        enough = (moved > NAMED_SHARE * moved.max(axis=1, keepdims=True)).tolist()
        names = [one.subject.measurement for one in self.evidence]
        return {
            place: tuple(dict.fromkeys(names[other] for other in strongest[row] if enough[row][other]))
            for row, place in enumerate(places)
        }


def judge_expectation(
    fitting: Fitting,
    settings: PracticeSettings,
    *,
    confirmed: Confirmed = (),
    working: Sequence[WorkingValue] | None = None,
    survey: SurveyPart = "all",
    limits: CriticalValues | None = None,
) -> Judged | None:
    """Everything about a fitting's readings by expectation; None where there are too few to compare or it is off.

    `working` are the fitting's working values, where they are known already; `survey` and `limits` are for
    the evaluation, which learns from one half of the survey and judges the other.
    """
    if not settings.expected_bands:
        return None
    evidence = tuple(
        evidence_from(fitting, working_values(fitting) if working is None else working, settings)
    )
    if len(evidence) < 2:
        return None
    pairs = frozenset(one.subject.pair for one in evidence if one.subject.pair is not None)
    models = models_for(fitting, settings, pairs=pairs, survey=survey)
    return judge_evidence(evidence, together(evidence, models), confirmed, limits or critical_values())


def judge_evidence(
    evidence: tuple[Evidence, ...], whole: Together, confirmed: Confirmed, critical: CriticalValues
) -> Judged:
    """As `judge_expectation`, from the joint distribution."""
    given = leave_one_out(whole)
    linked = given.sd < NARROWED_TO * whole.spread
    measurements = tuple(one.subject.measurement for one in evidence)
    limits = critical.of(measurements)
    taken_as_true = np.array([one.subject in confirmed for one in evidence], dtype=bool)
    against = _contradicting(whole, taken_as_true, limits)
    doubted = Doubted(())
    if not against:
        search = Search(evidence, limits, ~taken_as_true, linked, critical.exchange_gain)
        doubted = find_doubted(whole, given, search)
    mean, sd, deviation = given.mean, given.sd, given.deviation
    if doubted.places:
        mean, sd, deviation = _set_aside(whole, doubted.places)
    return Judged(
        evidence=evidence,
        mean=mean,
        sd=sd,
        deviation=deviation,
        limits=limits,
        levels=critical.levels(measurements),
        linked=linked,
        doubted=doubted,
        whole=whole,
        contradicting=against,
    )


def _contradicting(whole: Together, taken_as_true: np.ndarray, limits: Floats) -> tuple[int, ...]:
    """Confirmed readings that lie further from one another than any of them may, judged by themselves."""
    places = np.flatnonzero(taken_as_true)
    if len(places) < 2:
        return ()
    others = np.flatnonzero(~taken_as_true)
    alone = without(whole, others.tolist()) if len(others) else whole
    given = leave_one_out(alone)
    linked = given.sd < NARROWED_TO * alone.spread
    apart = linked & (np.abs(given.deviation) > limits[places])
    return tuple(int(place) for place in places[apart])


def _set_aside(whole: Together, places: tuple[int, ...]) -> tuple[Floats, Floats, Floats]:
    kept = np.setdiff1d(np.arange(len(whole.values)), places)
    rest, gone = leave_one_out(without(whole, places)), removed_given_kept(whole, places)
    found = [np.empty(len(whole.values)) for _ in range(3)]
    for whole_part, kept_part, gone_part in zip(
        found, (rest.mean, rest.sd, rest.deviation), (gone.mean, gone.sd, gone.deviation), strict=True
    ):
        whole_part[kept], whole_part[list(places)] = kept_part, gone_part
    return found[0], found[1], found[2]

"""Re-measure first: the few readings whose repetition would take away most doubt."""

from collections.abc import Sequence

import numpy as np

from app.catalogue.catalogue import MEASUREMENTS
from app.fitting.fitting import Fitting
from app.plausibility.expectation_evidence import reading_variance
from app.plausibility.expectation_judgement import Confirmed, Judged, judge_expectation
from app.plausibility.expectation_model import Floats
from app.plausibility.finding import Subject
from app.practice.settings import PracticeSettings

MOST = 3


def measure_again_first(
    fitting: Fitting,
    settings: PracticeSettings,
    *,
    open_about: Sequence[Subject] = (),
    confirmed: Confirmed = (),
    most: int = MOST,
) -> tuple[Subject, ...]:
    """The readings to measure again, first things first: suspects, then what open findings are about, then those
    whose repetition would narrow the true values most (`doubt_removed`). Confirmed readings are left out.
    """
    judged = judge_expectation(fitting, settings, confirmed=confirmed)
    if judged is None:
        return tuple(open_about[:most])
    removed = doubt_removed(judged)
    by_doubt = [judged.evidence[place].subject for place in np.argsort(-removed).tolist()]
    suspected = [judged.evidence[place].subject for place in judged.doubted.places]
    order = dict.fromkeys([*suspected, *open_about, *by_doubt])
    return tuple(subject for subject in order if subject not in confirmed)[:most]


def doubt_removed(judged: Judged) -> Floats:
    """How much one more reading of each would narrow all true values together, in squares of their repeat limits.

    The true values given all readings have the covariance C = N − N P N (N the readings' error variances, P their
    precision). One more reading of i with variance nᵢ takes Σⱼ Cᵢⱼ² / Tⱼ² / (Cᵢᵢ + nᵢ) away, Tⱼ the repeat
    limit of j. Source: updating of a normal distribution by one observation.
    """
    noise = np.array([one.variance for one in judged.evidence])
    precision = judged.whole.precision.mean(axis=0)
    covariance = np.diag(noise) - noise[:, None] * precision * noise[None, :]
    limits = np.array([_limit(one.subject) for one in judged.evidence])
    again = np.array(
        [
            reading_variance(one.subject.measurement, method=one.subject.method, condition=one.condition)
            for one in judged.evidence
        ]
    )
    return np.asarray((covariance**2 / limits**2).sum(axis=1) / (np.diagonal(covariance) + again))


def _limit(subject: Subject) -> float:
    return MEASUREMENTS[subject.measurement].tolerance(subject.method)

"""Surveyed dimensions alone: real people, no completion by a model, one gross error; limits against expectation.

Learnt from the even half of the survey, judged on the odd half; the error of the instruments is added. Both ways
of judging are set to the same share of false alarms on the even half.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np

from app.evaluation.calibrate import WEIGHTS
from app.evaluation.people import Surveyed, surveyed
from app.evaluation.share import Share
from app.plausibility.expectation_conditional import Together, leave_one_out, together
from app.plausibility.expectation_evidence import Evidence, model_of
from app.plausibility.expectation_face import SURVEY_NODES, Kind
from app.plausibility.expectation_limits import CriticalValues
from app.plausibility.expectation_model import Floats
from app.plausibility.expectation_search import Search, find_doubted
from app.plausibility.finding import Subject
from app.practice.settings import Adjustments
from app.reference import populations

Node = str
BOXES: dict[Node, tuple[str, float, float]] = {
    "pd": ("pd_distance", 0.27, 0.5),
    "head_breadth": ("head_width", 1.08, 1.0),
    "head_length": ("head_diagonal", 1.08, 1.0),
    "head_circumference": ("head_circumference", 1.8, 1.0),
    "bizygomatic": ("temple_width", 0.72, 1.0),
    "head_width": ("head_width", 0.72, 1.0),
    "temple_width": ("temple_width", 0.72, 1.0),
}
"""By node: the measurement of the catalogue that stands for it in the search, technical error, step (mm).
Errors are the repeat allowances of 2, 3 and 5 mm over 2.77, and McMahon 2012 for the PD."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """Which readings are taken, what goes wrong with one of them, and the false alarms that are accepted."""

    name: str
    nodes: tuple[Node, ...]
    wrong: Node
    by_mm: float
    false_alarms: float


FIVE = ("pd", "head_breadth", "head_circumference", "head_length", "bizygomatic")
FOUR = ("pd", "head_width", "head_circumference", "temple_width")
TRIALS = (
    Trial(name="five surveyed", nodes=FIVE, wrong="head_breadth", by_mm=20, false_alarms=0.01),
    Trial(name="five surveyed", nodes=FIVE, wrong="head_circumference", by_mm=50, false_alarms=0.01),
    Trial(name="width at ear points, temples", nodes=FOUR, wrong="head_width", by_mm=20, false_alarms=0.015),
    Trial(
        name="width at ear points, temples",
        nodes=FOUR,
        wrong="head_circumference",
        by_mm=60,
        false_alarms=0.015,
    ),
)


@dataclass(slots=True)
class Result:
    """What one trial came to."""

    trial: Trial
    false_by_limits: Share = field(default_factory=Share)
    false_by_bands: Share = field(default_factory=Share)
    seen_by_limits: Share = field(default_factory=Share)
    seen_by_bands: Share = field(default_factory=Share)
    named: Share = field(default_factory=Share)
    """Of the slips that were seen: the right reading named first."""


def run_trials(survey: Path, *, seed: int) -> list[Result]:
    """Every trial on the whole odd half, errors of both signs."""
    draw = np.random.default_rng(seed)
    even, odd = surveyed(survey, "even"), surveyed(survey, "odd")
    return [_run(trial, even, odd, draw) for trial in TRIALS]


def _run(
    trial: Trial, even: Sequence[Surveyed], odd: Sequence[Surveyed], draw: np.random.Generator
) -> Result:
    learnt = np.array([_readings(trial, one, draw) for one in even])
    mean, sd = _pooled(learnt, even)
    widest = np.abs((learnt - mean) / sd).max(axis=1)
    reach = float(np.quantile(widest, 1 - trial.false_alarms))
    bands = [_together(trial, values) for values in learnt]
    critical = _tuned(bands, trial)
    result = Result(trial)
    place = trial.nodes.index(trial.wrong)
    for number, one in enumerate(odd):
        values = _readings(trial, one, draw)
        wrong = values.copy()
        wrong[place] += trial.by_mm if number % 2 else -trial.by_mm
        result.false_by_limits.add(bool((np.abs((values - mean) / sd) > reach).any()))
        result.seen_by_limits.add(bool((np.abs((wrong - mean) / sd) > reach).any()))
        result.false_by_bands.add(bool(_doubted(_together(trial, values), trial, critical)))
        doubted = _doubted(_together(trial, wrong), trial, critical)
        result.seen_by_bands.add(bool(doubted))
        if doubted:
            result.named.add(doubted[0] == place)
    return result


def _pooled(values: Floats, people: Sequence[Surveyed]) -> tuple[Floats, Floats]:
    """Mean and SD with both sexes weighing alike, as for a limit that does not ask for the sex."""
    women = np.array([one.sex == "F" for one in people])
    weight = np.where(women, 0.5 / women.sum(), 0.5 / (~women).sum())
    mean = weight @ values
    return mean, np.sqrt(weight @ (values - mean) ** 2)


def _readings(trial: Trial, one: Surveyed, draw: np.random.Generator) -> Floats:
    """The person's dimensions as read: error, and rounding to the step."""
    true = dict(zip(SURVEY_NODES, one.dimensions.tolist(), strict=True))
    inside, temples = populations.EAR_POINTS_INSIDE_BREADTH, populations.TEMPLES_INSIDE_EAR_POINTS
    true["head_width"] = true["head_breadth"] + draw.normal(inside.offset, inside.sd)
    centre = _temple_centre(one)
    true["temple_width"] = centre[0] + populations.TEMPLES_PER_HEAD_WIDTH * (true["head_width"] - centre[1])
    true["temple_width"] += draw.normal(0, temples.sd)
    values = []
    for node in trial.nodes:
        _, error, step = BOXES[node]
        values.append(round((true[node] + draw.normal(0, error)) / step) * step)
    return np.array(values)


def _temple_centre(one: Surveyed) -> tuple[float, float]:
    model = model_of(Kind(sex=one.sex, survey="even"), frozenset(), Adjustments())
    return (
        float(model.means[model.index["temple_width"]]),
        float(model.means[model.index["head_width"]]),
    )


def _together(trial: Trial, values: Floats) -> Together:
    models = [model_of(Kind(sex=sex, survey="even"), frozenset(), Adjustments()) for sex in populations.SEXES]
    return together(_evidence(trial, values), models)


def _evidence(trial: Trial, values: Floats) -> tuple[Evidence, ...]:
    found = []
    for node, value in zip(trial.nodes, values.tolist(), strict=True):
        measurement, error, step = BOXES[node]
        found.append(
            Evidence(
                subject=Subject(measurement=measurement),
                condition=None,
                node=node,
                value=value,
                variance=error**2 + step**2 / 12,
            )
        )
    return tuple(found)


def _search(trial: Trial, whole: Together, critical: CriticalValues) -> Search:
    names = tuple(BOXES[node][0] for node in trial.nodes)
    everything = np.ones(len(names), dtype=bool)
    return Search(_evidence(trial, whole.values), critical.of(names), everything, everything)


def _doubted(whole: Together, trial: Trial, critical: CriticalValues) -> tuple[int, ...]:
    return find_doubted(whole, leave_one_out(whole), _search(trial, whole, critical)).places


def _tuned(bands: Sequence[Together], trial: Trial) -> CriticalValues:
    """Limits in SDs that question the accepted share of the even half: one reach for each reading, tails
    alike."""
    deviations = np.array([np.abs(leave_one_out(whole).deviation) for whole in bands])
    names = tuple(BOXES[node][0] for node in trial.nodes)
    tail = np.quantile(deviations, 0.995, axis=0) / 2.807
    heavier = dict(zip(names, tail.tolist(), strict=True))

    def asked(share: float) -> float:
        limits = CriticalValues(share, WEIGHTS, heavier).of(names)
        return float((deviations > limits).any(axis=1).mean())

    return CriticalValues(_bisected(asked, trial.false_alarms), WEIGHTS, heavier)


def _bisected(asked: Callable[[float], float], aim: float) -> float:
    low, high = 1e-5, 0.2
    for _ in range(30):
        middle = (low * high) ** 0.5
        low, high = (middle, high) if asked(middle) < aim else (low, middle)
    return low

"""Finds the critical values: whole honest fittings of the survey's even half, judged by what was learnt from
it."""

from dataclasses import dataclass
from pathlib import Path
from statistics import NormalDist
from typing import Any

import numpy as np

from app.evaluation.people import fitting_of, sample, surveyed
from app.fitting.working import working_values
from app.plausibility.expectation_conditional import leave_one_out, together
from app.plausibility.expectation_evidence import evidence_from, models_for
from app.plausibility.expectation_hypotheses import rewritings
from app.plausibility.expectation_judgement import NARROWED_TO
from app.plausibility.expectation_limits import CriticalValues
from app.practice.settings import PracticeSettings

AIMED_AT = 0.0065
"""Share of honest fittings with a question that is aimed at: under 1 % with room for what simulation cannot
know."""
EXCHANGES_AIMED_AT = 0.001
"""Of it, by exchanges that no single reading shows."""
WEIGHTS = {
    **{"head_circumference": 14.0, "head_width": 8.0, "temple_width": 4.0, "head_height": 2.0},
    **dict.fromkeys(("splay_angle", "frontal_angle", "side_angle", "drop_angle", "apical_radius"), 2.0),
    **dict.fromkeys(("pd_distance", "pd_near", "pd_worn", "pd_near_worn", "vertex_distance"), 0.2),
    **dict.fromkeys(("bridge_width_10", "bridge_width_15", "iris_diameter"), 0.4),
    **dict.fromkeys(("pupil_horizontal", "pupil_vertical"), 0.1),
}
"""Where the others tell little and slips are hard to see, more of the false alarms are spent; least on pupils:
those that differ in truth have a check of their own. Ours."""
SHARES = (0.99, 0.995, 0.999)
HEAVIEST = 1.4


@dataclass(frozen=True, slots=True)
class Honest:
    """One honest fitting: measurements judged, their deviations, and the largest gain by an exchange."""

    measurements: tuple[str, ...]
    deviations: np.ndarray
    gain: float


def calibrate(survey: Path, *, fittings: int, seed: int) -> dict[str, Any]:
    """The critical values as they ship."""
    draw = np.random.default_rng(seed)
    people = sample(surveyed(survey, "even"), fittings, draw)
    honest = [_honest(one, draw) for one in people]
    heavier = _heavier(honest)
    gain = float(np.quantile([one.gain for one in honest], 1 - EXCHANGES_AIMED_AT))
    low, high = 1e-5, 0.05
    for _ in range(40):
        middle = (low * high) ** 0.5
        asked = _asked(honest, CriticalValues(middle, WEIGHTS, heavier), gain)
        low, high = (middle, high) if asked < AIMED_AT else (low, middle)
    return {
        "false_alarms": round(low, 6),
        "weights": WEIGHTS,
        "heavier": heavier,
        "exchange_gain": round(gain, 3),
        "asked": round(_asked(honest, CriticalValues(low, WEIGHTS, heavier), gain), 5),
        "source": (
            f"{fittings} simulated honest fittings of people of the ANSUR II survey with even subject number,"
            f" seed {seed}: python -m app.evaluation --calibrate"
        ),
    }


def _honest(one: Any, draw: np.random.Generator) -> Honest:
    fitting = fitting_of(one, draw)
    settings = PracticeSettings()
    evidence = tuple(evidence_from(fitting, working_values(fitting), settings))
    pairs = frozenset(each.subject.pair for each in evidence if each.subject.pair is not None)
    whole = together(evidence, models_for(fitting, settings, pairs=pairs, survey="even"))
    given = leave_one_out(whole)
    linked = given.sd < NARROWED_TO * whole.spread
    everything = np.ones(len(evidence), dtype=bool)
    found = rewritings(whole, evidence, everything, least_gain=0.0)
    return Honest(
        measurements=tuple(each.subject.measurement for each in evidence),
        deviations=np.where(linked, np.abs(given.deviation), 0.0),
        gain=max((each.gain for each in found), default=0.0),
    )


def _asked(honest: list[Honest], critical: CriticalValues, gain: float) -> float:
    asked = [
        bool((one.deviations > critical.of(one.measurements)).any()) or one.gain > gain for one in honest
    ]
    return sum(asked) / len(asked)


def _heavier(honest: list[Honest]) -> dict[str, float]:
    """How much further the tails of each measurement's deviations reach than a normal's: mean over three
    quantiles."""
    by_measurement: dict[str, list[float]] = {}
    for one in honest:
        for measurement, deviation in zip(one.measurements, one.deviations.tolist(), strict=True):
            by_measurement.setdefault(measurement, []).append(deviation)
    found = {}
    for measurement, deviations in sorted(by_measurement.items()):
        ratios = [
            float(np.quantile(deviations, share)) / NormalDist().inv_cdf((1 + share) / 2) for share in SHARES
        ]
        found[measurement] = round(min(max(sum(ratios) / len(ratios), 0.85), HEAVIEST), 3)
    return found

"""Two readings written anew: exchanged with each other, or the same slip made on both sides."""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from math import log

import numpy as np

from app.catalogue.catalogue import MEASUREMENTS
from app.catalogue.measurement import Side
from app.plausibility.expectation_conditional import Together
from app.plausibility.expectation_evidence import Evidence
from app.plausibility.expectation_model import Floats
from app.plausibility.expectation_slips import SHARE_OF_EACH_SLIP, guesses

LEAST_GAIN = 4.0
"""Log likelihood that writing two readings anew must gain to be looked at."""
MOST_LOOKED_AT = 4
EXCHANGED: dict[str, tuple[str, ...]] = {
    "head_width": ("temple_width",),
    "bridge_width_10": ("bridge_width_15",),
    "frontal_angle": ("splay_angle",),
    "pd_distance": ("pd_near",),
    "pd_worn": ("pd_near_worn",),
    "pupil_horizontal": ("iris_diameter",),
    "lid_aperture": ("iris_diameter",),
    "drop_angle": ("inward_drop_angle",),
    "lens_width": ("lens_height",),
    "apical_radius": ("crest_height",),
    "segment_height": ("fitting_height",),
    "fitting_height": ("centre_height",),
    "head_height": ("temple_width",),
    "length_to_tangent": ("length_to_bend",),
}
"""Measurements whose boxes lie next to each other or sound alike, each pair once. Common practice."""


@dataclass(frozen=True, slots=True)
class Rewritten:
    """Two readings and what they would be without the slip; `gain` is how much likelier that is (log)."""

    places: tuple[int, int]
    meant: tuple[float, float]
    exchanged: bool
    gain: float = 0.0

    @property
    def score(self) -> float:
        """Log odds that this slip was made, against none."""
        return self.gain + log(SHARE_OF_EACH_SLIP)

    def together(self, whole: Together) -> Together:
        """The readings as they would be without the slip."""
        values, residuals = whole.values.copy(), whole.residuals.copy()
        for place, meant in zip(self.places, self.meant, strict=True):
            residuals[:, place] += meant - values[place]
            values[place] = meant
        return Together(values, residuals, whole.precision, whole.spread)


def rewritings(
    whole: Together,
    evidence: Sequence[Evidence],
    may_doubt: np.ndarray,
    *,
    least_gain: float = LEAST_GAIN,
    slips_at: Collection[int] = (),
) -> list[Rewritten]:
    """Those that make the readings likelier by at least so much (log), likeliest first, a few at most.

    Exchanges are tried everywhere, the same slip on both sides where one of them is among `slips_at`.
    """
    possible = (*_exchanges(evidence), *_both_sides(evidence, slips_at))
    found = [one for one in possible if may_doubt[one.places[0]] and may_doubt[one.places[1]]]
    if not found:
        return []
    gains = _gains(whole, found)
    likeliest = np.argsort(-gains)[:MOST_LOOKED_AT]
    return [
        replace(found[one], gain=float(gains[one])) for one in likeliest.tolist() if gains[one] > least_gain
    ]


def _gains(whole: Together, found: Sequence[Rewritten]) -> Floats:
    """How much likelier the readings are written anew: ½ (rᵀ P r before − after), averaged over the models."""
    places = np.array([one.places for one in found])
    moved = np.array([one.meant for one in found]) - whole.values[places]
    pulled = np.einsum("sij,sj->si", whole.precision, whole.residuals)
    first, second = places[:, 0], places[:, 1]
    by_first, by_second = moved[:, 0], moved[:, 1]
    change = (
        2 * (by_first * pulled[:, first] + by_second * pulled[:, second])
        + by_first**2 * whole.precision[:, first, first]
        + by_second**2 * whole.precision[:, second, second]
        + 2 * by_first * by_second * whole.precision[:, first, second]
    )
    return np.asarray(-0.5 * change.mean(axis=0))


def _by_box(evidence: Sequence[Evidence]) -> dict[tuple[str, Side | None, int | None], list[int]]:
    places: dict[tuple[str, Side | None, int | None], list[int]] = {}
    for place, one in enumerate(evidence):
        about = one.subject
        places.setdefault((about.measurement, about.side, about.pair), []).append(place)
    return places


def _exchanges(evidence: Sequence[Evidence]) -> Iterator[Rewritten]:
    """Right and left exchanged, or two boxes that lie together or sound alike."""
    places = _by_box(evidence)
    for (measurement, side, pair), firsts in places.items():
        partners: list[tuple[str, Side | None]] = [(other, side) for other in EXCHANGED.get(measurement, ())]
        if side == "R":
            partners.append((measurement, "L"))
        for other, other_side in partners:
            for second in places.get((other, other_side, pair), ()):
                for first in firsts:
                    values = evidence[first].value, evidence[second].value
                    if values[0] != values[1]:
                        yield Rewritten((first, second), (values[1], values[0]), exchanged=True)


def _both_sides(evidence: Sequence[Evidence], slips_at: Collection[int]) -> Iterator[Rewritten]:
    """The same slip on both sides: the whole angle for half, centimetres, the other line, one right after
    the other."""
    places = _by_box(evidence)
    for (measurement, side, pair), firsts in places.items():
        seconds = places.get((measurement, "L", pair), ()) if side == "R" else ()
        for first, second in zip(firsts, seconds, strict=False):
            if first not in slips_at and second not in slips_at:
                continue
            declared = MEASUREMENTS[measurement]
            left = {guess.slip: guess.meant for guess in guesses(declared, evidence[second].value)}
            for guess in guesses(declared, evidence[first].value):
                if guess.slip in left:
                    yield Rewritten((first, second), (guess.meant, left[guess.slip]), exchanged=False)

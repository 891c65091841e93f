"""Which reading is wrong: the smallest set of readings whose removal makes the rest agree."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import log

import numpy as np

from app.catalogue.measurement import Side
from app.plausibility.expectation_conditional import (
    Floats,
    Given,
    Together,
    leave_one_out,
    removed_given_kept,
    without,
)
from app.plausibility.expectation_evidence import Evidence
from app.plausibility.expectation_slips import SHARE_OF_EACH_SLIP, explanation_weight

MOST_SUSPECTS = 8
"""A fitting with more wrong readings than this is judged no further: everything is to be measured again."""
SINGLES_TRIED = 8
PAIRS_TRIED = 12
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
class Doubted:
    """The readings to set aside, likeliest first, and those of them that stand in each other's box."""

    places: tuple[int, ...]
    exchanged: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True, slots=True)
class Search:
    """What the search goes by: limits in SDs (m,), which readings may be doubted, which are linked to others at all."""

    evidence: Sequence[Evidence]
    limits: Floats
    may_doubt: np.ndarray
    linked: np.ndarray


def find_doubted(whole: Together, search: Search) -> Doubted:
    """The smallest set whose removal makes the rest agree: one, an exchange of two, two, then one after the other.

    Of several sets of one size the likeliest: by the density of the doubted readings given the others against what a
    slip or a gross error would have put there. Readings that were confirmed are never in it.
    """
    gone: list[int] = []
    exchanged: list[tuple[int, int]] = []
    while len(gone) < MOST_SUSPECTS:
        rest, keep = _rest(whole, gone)
        given = leave_one_out(rest)
        part = _part(search, keep)
        if _agree(given, part):
            break
        found, crossed = _next(rest, given, part)
        if not found:
            break
        gone += [int(keep[place]) for place in found]
        if crossed:
            exchanged.append((int(keep[found[0]]), int(keep[found[1]])))
    return Doubted(tuple(gone), tuple(exchanged))


def _rest(whole: Together, gone: list[int]) -> tuple[Together, np.ndarray]:
    everything = np.arange(len(whole.values))
    return (without(whole, gone), np.setdiff1d(everything, gone)) if gone else (whole, everything)


def _part(search: Search, keep: np.ndarray) -> Search:
    if len(keep) == len(search.limits):
        return search
    return Search(
        [search.evidence[place] for place in keep],
        search.limits[keep],
        search.may_doubt[keep],
        search.linked[keep],
    )


def _agree(given: Given, search: Search) -> bool:
    judged = search.may_doubt & search.linked
    return not bool((np.abs(given.deviation)[judged] > search.limits[judged]).any())


def _next(whole: Together, given: Given, search: Search) -> tuple[tuple[int, ...], bool]:
    """The next readings to set aside, and whether they are exchanged with one another."""
    ratio = np.where(search.may_doubt & search.linked, np.abs(given.deviation) / search.limits, 0.0)
    order = [int(place) for place in np.argsort(-ratio)[:SINGLES_TRIED] if ratio[place] > 0.5]
    scores = {place: _score(given, search, place) for place in order}
    singles = sorted(
        (place for place in order if ratio[place] > 1), key=lambda place: -scores[place]
    ) + sorted((place for place in order if ratio[place] <= 1), key=lambda place: -scores[place])
    best = next((place for place in singles if _agree_without(whole, search, (place,))), None)
    crossed = _exchange(whole, given, search)
    if crossed is not None and (best is None or crossed[0] > scores[best]):
        return crossed[1], True
    if best is not None:
        return (best,), False
    pair = _pair(whole, search)
    if pair is not None:
        return pair, False
    return (singles[0],) if singles else (), False


def _agree_without(whole: Together, search: Search, places: tuple[int, ...]) -> bool:
    keep = np.setdiff1d(np.arange(len(whole.values)), places)
    return _agree(leave_one_out(without(whole, places)), _part(search, keep))


def _score(given: Given, search: Search, place: int) -> float:
    """Log odds that this reading is wrong: density of an error here against the density given the others."""
    one = search.evidence[place]
    mean, sd = float(given.mean[place]), float(given.sd[place])
    honest = -0.5 * float(given.deviation[place]) ** 2 - log(sd * 2.5066)
    return log(explanation_weight(one.subject, value=one.value, mean=mean, sd=sd)) - honest


def _exchange(
    whole: Together, given: Given, search: Search
) -> tuple[float, tuple[int, int]] | None:
    """The likeliest exchange of two boxes after which everything agrees, with its log odds; None where there is none."""
    found = []
    for first, second in exchangeable(search.evidence):
        if not (search.may_doubt[first] and search.may_doubt[second]):
            continue
        gain = _gain(whole, first, second)
        if gain > 4.0:
            found.append((gain + log(SHARE_OF_EACH_SLIP), (first, second)))
    for score, (first, second) in sorted(found, reverse=True)[:3]:
        if _agree(leave_one_out(_with_exchanged(whole, first, second)), search):
            ordered = (first, second) if abs(given.deviation[first]) >= abs(given.deviation[second]) else (second, first)
            return score, ordered
    return None


def exchangeable(evidence: Sequence[Evidence]) -> list[tuple[int, int]]:
    """Pairs of readings that may stand in each other's box: right and left, or boxes that lie together."""
    places: dict[tuple[str, Side | None, int | None], list[int]] = {}
    for place, one in enumerate(evidence):
        about = one.subject
        places.setdefault((about.measurement, about.side, about.pair), []).append(place)
    found = []
    for (measurement, side, pair), firsts in places.items():
        partners: list[tuple[str, Side | None]] = [(other, side) for other in EXCHANGED.get(measurement, ())]
        if side == "R":
            partners.append((measurement, "L"))
        for other, other_side in partners:
            found += [
                (first, second)
                for second in places.get((other, other_side, pair), ())
                for first in firsts
                if evidence[first].value != evidence[second].value
            ]
    return found


def _with_exchanged(whole: Together, first: int, second: int) -> Together:
    residuals, values = whole.residuals.copy(), whole.values.copy()
    apart = whole.values[second] - whole.values[first]
    residuals[:, first] += apart
    residuals[:, second] -= apart
    values[first], values[second] = whole.values[second], whole.values[first]
    return Together(values, residuals, whole.precision, whole.spread)


def _gain(whole: Together, first: int, second: int) -> float:
    """How much likelier the readings are exchanged: ½ (rᵀ P r before − after), the best of the models."""
    apart = whole.values[second] - whole.values[first]
    pulled = np.einsum(
        "skj,sj->sk", whole.precision[:, [first, second]], whole.residuals
    )
    own = whole.precision[:, [first, second], [first, second]].sum(axis=1) - 2 * whole.precision[:, first, second]
    change = 2 * apart * (pulled[:, 0] - pulled[:, 1]) + apart**2 * own
    return float(-0.5 * change.mean())


def _pair(whole: Together, search: Search) -> tuple[int, int] | None:
    """Two readings whose removal makes the rest agree; of several the pair that explains most."""
    pulled = np.einsum("sij,sj->si", whole.precision, whole.residuals)
    diagonal = np.diagonal(whole.precision, axis1=1, axis2=2)
    one, two = diagonal[:, :, None], diagonal[:, None, :]
    cross = whole.precision
    first, second = pulled[:, :, None], pulled[:, None, :]
    determinant = np.maximum(one * two - cross**2, 1e-12)
    explained = ((two * first**2 - 2 * cross * first * second + one * second**2) / determinant).mean(axis=0)
    usable = search.may_doubt & search.linked
    explained = np.where(np.triu(np.outer(usable, usable), 1), explained, -np.inf)
    best = np.argsort(explained, axis=None)[::-1][:PAIRS_TRIED]
    for flat in best:
        places = tuple(int(place) for place in np.unravel_index(flat, explained.shape))
        if np.isfinite(explained.flat[flat]) and _agree_without(whole, search, places):
            given = removed_given_kept(whole, places)
            return places if abs(given.deviation[0]) >= abs(given.deviation[1]) else places[::-1]  # type: ignore[return-value]
    return None

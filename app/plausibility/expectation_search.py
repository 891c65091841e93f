"""Which reading is wrong: the smallest set of readings whose removal makes the rest agree."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import log

import numpy as np

from app.plausibility.expectation_conditional import (
    Given,
    Together,
    leave_one_out,
    removed_given_kept,
    without,
)
from app.plausibility.expectation_evidence import Evidence
from app.plausibility.expectation_hypotheses import Rewritten, rewritings
from app.plausibility.expectation_model import Floats
from app.plausibility.expectation_slips import explanation_density

MOST_SUSPECTS = 12
"""A fitting with more wrong readings than this is judged no further: everything is to be measured again."""
SINGLES_TRIED = 8
PAIRS_TRIED = 12
LEAST_RATIO = 0.5
"""A reading whose deviation is a smaller share of its limit than this is not tried."""


@dataclass(frozen=True, slots=True)
class Doubted:
    """The readings to set aside, likeliest first, and those of them that stand in each other's box."""

    places: tuple[int, ...]
    exchanged: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True, slots=True)
class Search:
    """What the search goes by: limits in SDs (m,), which readings may be doubted, which are linked to others
    at all."""

    evidence: Sequence[Evidence]
    limits: Floats
    may_doubt: np.ndarray
    linked: np.ndarray
    exchange_gain: float = float("inf")
    """Log likelihood above which an exchange of two boxes is doubted, though each reading lies inside its
    band."""


@dataclass(frozen=True, slots=True)
class Found:
    """The readings to set aside in one step; `exchanged` where two stand in each other's box."""

    places: tuple[int, ...]
    exchanged: bool = False


def find_doubted(whole: Together, given: Given, search: Search) -> Doubted:
    """The smallest set whose removal makes the rest agree: one, an exchange of two, two, then one after the
    other.

    Of several sets of one size the likeliest: by the density of the doubted readings given the others
    against what a slip or a gross error would have put there. Readings that were confirmed are never in it.
    """
    if _agree(given, search):
        return _quiet_exchange(whole, search)
    gone: list[int] = []
    exchanged: list[tuple[int, int]] = []
    while len(gone) < MOST_SUSPECTS:
        rest, keep = _rest(whole, gone)
        given = leave_one_out(rest)
        part = _part(search, keep)
        if _agree(given, part):
            break
        found = _next(rest, given, part)
        if not found.places:
            break
        gone += [int(keep[place]) for place in found.places]
        if found.exchanged:
            exchanged.append((int(keep[found.places[0]]), int(keep[found.places[1]])))
    return Doubted(tuple(gone), tuple(exchanged))


def _quiet_exchange(whole: Together, search: Search) -> Doubted:
    """Two boxes that fit much better exchanged, each still inside its band: right and left of one length."""
    for one in rewritings(whole, search.evidence, search.may_doubt, least_gain=search.exchange_gain):
        if _agree(leave_one_out(one.together(whole)), search):
            return Doubted(one.places, (one.places,))
    return Doubted(())


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
        search.exchange_gain,
    )


def _agree(given: Given, search: Search) -> bool:
    judged = search.may_doubt & search.linked
    return not bool((np.abs(given.deviation)[judged] > search.limits[judged]).any())


def _next(whole: Together, given: Given, search: Search) -> Found:
    """The next to set aside: one reading, or two exchanged or with the same slip on both sides, or any two."""
    ratio = np.where(search.may_doubt & search.linked, np.abs(given.deviation) / search.limits, 0.0)
    order = [int(place) for place in np.argsort(-ratio)[:SINGLES_TRIED] if ratio[place] > LEAST_RATIO]
    if not order:
        return Found(())
    scores = {place: _score(given, search, place) for place in order}
    likeliest = sorted(order, key=lambda place: -scores[place])
    best = next((place for place in likeliest if _agree_without(whole, search, (place,))), None)
    anew = rewritings(whole, search.evidence, search.may_doubt, slips_at=order)
    settling = next((one for one in anew if _agree(leave_one_out(one.together(whole)), search)), None)
    if settling is not None and (best is None or settling.score > scores[best]):
        return _found(settling, given, search)
    if best is not None:
        return Found((best,))
    pair = _pair(whole, search)
    return Found(pair) if pair is not None else _worst(whole, given, search, anew, scores)


def _worst(
    whole: Together, given: Given, search: Search, anew: list[Rewritten], scores: dict[int, float]
) -> Found:
    """Where no one and no two explain everything: the likeliest wrong one, or two exchanged that then fit
    themselves."""
    outside = [place for place in scores if abs(given.deviation[place]) > search.limits[place]]
    worst = max(outside, key=lambda place: scores[place])
    for one in anew:
        after = np.abs(leave_one_out(one.together(whole)).deviation)[list(one.places)]
        if (
            worst in one.places
            and one.score > scores[worst]
            and (after < search.limits[list(one.places)]).all()
        ):
            return _found(one, given, search)
    return Found((worst,))


def _found(one: Rewritten, given: Given, search: Search) -> Found:
    places = sorted(one.places, key=lambda place: -_score(given, search, place))
    return Found(tuple(places), exchanged=one.exchanged)


def _agree_without(whole: Together, search: Search, places: tuple[int, ...]) -> bool:
    keep = np.setdiff1d(np.arange(len(whole.values)), places)
    return _agree(leave_one_out(without(whole, places)), _part(search, keep))


def _score(given: Given, search: Search, place: int) -> float:
    """Log odds that this reading is wrong: density of an error here against the density given the others."""
    one = search.evidence[place]
    mean, sd = float(given.mean[place]), float(given.sd[place])
    again = place > 0 and search.evidence[place - 1].value == one.value
    density = explanation_density(one.subject, value=one.value, mean=mean, sd=sd, typed_again=again)
    return log(density) - float(given.log_density[place])


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
        row, column = (int(place) for place in np.unravel_index(flat, explained.shape))
        if np.isfinite(explained.flat[flat]) and _agree_without(whole, search, (row, column)):
            off = np.abs(removed_given_kept(whole, (row, column)).deviation)
            return (row, column) if off[0] >= off[1] else (column, row)
    return None

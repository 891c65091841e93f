"""Expected bands: what each reading should be given all the others, and which reading does not fit.

A linear-Gaussian model of one person's face, head and pairs: survey covariances, published means and spreads, the
physical links between readings, and the instruments' repeatability. It describes what is usual, and the survey's
people are adult military personnel of one country (populations.py says more): a reading outside its band is a
reason to measure again, never a verdict on a face. Sex and age help where they are known; ancestry is never used.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from app.catalogue.catalogue import MEASUREMENTS
from app.catalogue.measurement import Side, Unit
from app.fitting.fitting import Fitting
from app.plausibility.expectation_conditional import leave_one_out, together
from app.plausibility.expectation_evidence import (
    Evidence,
    evidence_of,
    models_for,
    node_of,
    reading_variance,
)
from app.plausibility.expectation_judgement import NARROWED_TO, Confirmed, Judged, judge_expectation
from app.plausibility.expectation_limits import critical_values
from app.plausibility.expectation_search import Doubted
from app.plausibility.expectation_slips import offers_for
from app.plausibility.finding import Offer, Subject
from app.practice.settings import PracticeSettings

TOO_FEW = "Too few other readings yet to say what to expect."


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """What a reading is expected to be, given the others, in its own unit.

    `level` is the share of honest readings inside low to high; `deviation` (value − mid) in standard
    deviations of the prediction, None before the reading is taken; `given` names the measurements that it
    rests on, strongest first.
    """

    measurement: str
    side: Side | None
    pair: int | None
    method: str | None
    low: float
    mid: float
    high: float
    unit: Unit
    level: float
    deviation: float | None
    given: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Suspect:
    """A reading that does not fit: what it is, what the others make it, and the slips that would explain it."""

    subject: Subject
    value: float
    band: Band
    offers: tuple[Offer, ...] = ()
    exchanged_with: Subject | None = None


def expected_bands(
    fitting: Fitting, settings: PracticeSettings, *, confirmed: Confirmed = ()
) -> tuple[Band, ...]:
    """The band of every reading that others tell something about; none where there are too few, or it is
    switched off.

    A suspect plays no part in the bands of the others. Where confirmed readings contradict each other: no bands.
    """
    judged = judge_expectation(fitting, settings, confirmed=confirmed)
    return bands_of(judged) if judged is not None else ()


def suspects(
    fitting: Fitting, settings: PracticeSettings, *, confirmed: Confirmed = ()
) -> tuple[Suspect, ...]:
    """The readings to be measured again, likeliest wrong first; confirmed readings are never among them."""
    judged = judge_expectation(fitting, settings, confirmed=confirmed)
    return suspects_of(judged) if judged is not None else ()


def band_before(
    fitting: Fitting,
    settings: PracticeSettings,
    measurement: str,
    side: Side | None = None,
    method: str | None = None,
    pair: int | None = None,
) -> Band | None:
    """What a reading is expected to be from the others, taken or not; None where they say too little (TOO_FEW).

    A reading of the same measurement, side, pair and method plays no part.
    """
    subject = Subject(measurement=measurement, side=side, pair=pair, method=method)
    node = node_of(measurement, side, pair, method)
    others = tuple(one for one in evidence_of(fitting, settings) if one.subject != subject)
    if not settings.expected_bands or node is None or not others:
        return None
    asked = Evidence(
        subject=subject,
        condition=None,
        node=node,
        value=float("nan"),
        variance=reading_variance(
            measurement, method=method, own=dict(settings.own_repeatability).get(measurement)
        ),
    )
    return _before(fitting, settings, asked, others)


def _before(
    fitting: Fitting, settings: PracticeSettings, asked: Evidence, others: tuple[Evidence, ...]
) -> Band | None:
    """The asked reading is put where the models' mean lies, so that it has no say in which model is likely."""
    pairs = frozenset(one.subject.pair for one in (asked, *others) if one.subject.pair is not None)
    models = models_for(fitting, settings, pairs=pairs)
    centre = float(np.mean([model.means[model.index[asked.node]] for model in models]))
    placed = Evidence(
        subject=asked.subject,
        condition=None,
        node=asked.node,
        value=centre,
        variance=asked.variance,
    )
    everything = (placed, *others)
    whole = together(everything, models)
    given = leave_one_out(whole)
    if given.sd[0] >= NARROWED_TO * whole.spread[0]:
        return None
    measurements = tuple(one.subject.measurement for one in everything)
    judged = Judged(
        evidence=everything,
        mean=given.mean,
        sd=given.sd,
        deviation=given.deviation,
        limits=critical_values().of(measurements),
        levels=critical_values().levels(measurements),
        linked=np.ones(len(everything), dtype=bool),
        doubted=Doubted(()),
        whole=whole,
    )
    return replace(_bands(judged, (0,))[0], deviation=None)


def bands_of(judged: Judged) -> tuple[Band, ...]:
    """The bands of a judged fitting."""
    if judged.contradicting:
        return ()
    return _bands(judged, np.flatnonzero(judged.linked).tolist())


def suspects_of(judged: Judged) -> tuple[Suspect, ...]:
    """The suspects of a judged fitting."""
    places = judged.doubted.places
    if not places:
        return ()
    bands = _bands(judged, places)
    return tuple(_suspect(judged, place, band) for place, band in zip(places, bands, strict=True))


def confirmed_outside(judged: Judged, confirmed: Confirmed) -> tuple[Suspect, ...]:
    """Confirmed readings that lie outside their band, as the others have it."""
    outside = judged.linked & (np.abs(judged.deviation) > judged.limits)
    places = [
        place
        for place in np.flatnonzero(outside).tolist()
        if judged.evidence[place].subject in confirmed and not judged.contradicting
    ]
    if not places:
        return ()
    bands = _bands(judged, places)
    return tuple(
        Suspect(subject=judged.evidence[place].subject, value=judged.evidence[place].value, band=band)
        for place, band in zip(places, bands, strict=True)
    )


def _bands(judged: Judged, places: Sequence[int]) -> tuple[Band, ...]:
    named = judged.named(places)
    reach = judged.limits * judged.sd
    low, high = (judged.mean - reach).tolist(), (judged.mean + reach).tolist()
    mid, level, deviation = judged.mean.tolist(), judged.levels.tolist(), judged.deviation.tolist()
    found = []
    for place in places:
        about = judged.evidence[place].subject
        found.append(
            Band(
                measurement=about.measurement,
                side=about.side,
                pair=about.pair,
                method=about.method,
                low=low[place],
                mid=mid[place],
                high=high[place],
                unit=MEASUREMENTS[about.measurement].unit,
                level=level[place],
                deviation=deviation[place],
                given=named[place],
            )
        )
    return tuple(found)


def _suspect(judged: Judged, place: int, band: Band) -> Suspect:
    one = judged.evidence[place]
    partner = next((set(pair) - {place} for pair in judged.doubted.exchanged if place in pair), set())
    exchanged = [judged.evidence[other] for other in partner]
    offers: tuple[Offer, ...] = tuple(_exchange_offer(one, other) for other in exchanged)
    offers += offers_for(
        one.subject,
        value=one.value,
        mean=float(judged.mean[place]),
        sd=float(judged.sd[place]),
        others=tuple((other.subject, other.value) for other in judged.evidence),
    )
    return Suspect(
        subject=one.subject,
        value=one.value,
        band=band,
        offers=offers,
        exchanged_with=exchanged[0].subject if exchanged else None,
    )


def _exchange_offer(one: Evidence, other: Evidence) -> Offer:
    sides = one.subject.measurement == other.subject.measurement
    words = "Right and left exchanged?" if sides else "The two boxes exchanged?"
    return Offer(words=words, corrections=((one.subject, other.value), (other.subject, one.value)))


def confirmed_contradicting(judged: Judged) -> Iterable[Subject]:
    """Confirmed readings that contradict each other."""
    return (judged.evidence[place].subject for place in judged.contradicting)

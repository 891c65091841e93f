"""The assessment of one fitting as a JSON document: working values, findings, and the orders of its pairs."""

from datetime import date
from typing import Any

from app.catalogue.measurement import SIDES
from app.documents.assessment_lenses import write_lens
from app.documents.traced_outline import traced_outlines
from app.fitting.assessment_schema import ASSESSMENT_SCHEMA
from app.fitting.file_readings import file_number
from app.fitting.fitting import Fitting
from app.fitting.working import WorkingValue
from app.frame.ordered_dimension import OrderedDimension
from app.frame.specification import PairSpecification, specification
from app.plausibility.expectation import Band, bands_of
from app.plausibility.finding import Finding, Offer, Subject
from app.plausibility.judge import judge
from app.practice.settings import PracticeSettings

Document = dict[str, Any]
"""A JSON object."""

DECIMALS = 4
LEVEL_DECIMALS = 6
LENS_DIMENSIONS = (
    *("centration", "near_centration", "decentration_in", "decentration_up"),
    *("segment_inset", "segment_top_above_centre_line", "smallest_blank"),
)
"""Dimensions that stand under `lenses` by eye; all others stand under `frame`."""


def assessment(
    fitting: Fitting,
    settings: PracticeSettings,
    today: date | None = None,
    previous: Fitting | None = None,
    confirmed: frozenset[Subject] = frozenset(),
) -> Document:
    """What follows from a fitting. `today` is the day on which dates are judged; None: the day of the fitting.

    `confirmed` are readings that somebody said are right. Findings are those that stand now; `held_back` are
    those that wait until the stop they name is put right.
    """
    judgement = judge(fitting, settings, today, previous, confirmed)
    made = specification(fitting, settings, traced_mm=traced_outlines(fitting), working=judgement.working)
    return {
        "schema": ASSESSMENT_SCHEMA,
        "working": [write_working(value) for value in judgement.working],
        "findings": [write_finding(finding) for finding in judgement.findings],
        "held_back": [write_finding(finding) for finding in judgement.held_back],
        "expected": [write_band(band) for band in bands_of(judgement.expected)]
        if judgement.expected is not None
        else [],
        "pairs": [_pair(pair) for pair in made.pairs],
    }


def write_working(value: WorkingValue) -> Document:
    """One working value, with how many readings it was made from."""
    return {
        "measurement": value.measurement,
        "side": value.side,
        **_given(pair=value.pair),
        "method": value.method,
        **_given(condition=value.condition),
        "value": rounded(value.value),
        "unit": value.unit,
        "spread": rounded(value.spread),
        "from": value.count,
        "state": value.state,
    }


def write_finding(finding: Finding) -> Document:
    """One finding, with the reading to measure again first and what may have happened."""
    return {
        "check": finding.check,
        "severity": finding.severity.value,
        "about": [write_subject(subject) for subject in finding.about],
        "suspect": None if finding.suspect is None else write_subject(finding.suspect),
        "message": finding.message,
        "suggest": finding.suggest,
        "source": finding.source,
        **_given(offers=[_offer(offer) for offer in finding.offers] or None),
        **_given(held_back_by=finding.held_back_by),
    }


def write_band(band: Band) -> Document:
    """What one reading is expected to be, given the others."""
    return {
        "measurement": band.measurement,
        "side": band.side,
        **_given(pair=band.pair, method=band.method),
        "low": rounded(band.low),
        "mid": rounded(band.mid),
        "high": rounded(band.high),
        "unit": band.unit,
        "level": round(band.level, LEVEL_DECIMALS),
        **_given(deviation=_rounded_or_none(band.deviation)),
        "given": list(band.given),
    }


def write_subject(subject: Subject) -> Document:
    """What a finding is about."""
    return {
        "measurement": subject.measurement,
        "side": subject.side,
        **_given(pair=subject.pair, method=subject.method),
    }


def write_dimension(line: OrderedDimension) -> Document:
    """One line of the order: facial value, adjustment and ordered value; nulls where they do not apply."""
    return {
        "dimension": line.dimension,
        "side": line.side,
        "facial": _rounded_or_none(line.facial),
        "adjustment": _rounded_or_none(line.adjustment),
        "ordered": _rounded_or_none(line.ordered),
        "unit": line.unit,
        **_given(uncertainty=_rounded_or_none(line.uncertainty)),
        **_given(interval=_interval(line), dominated_by=line.dominated_by or None),
        "basis": line.basis,
        **_given(words=line.words or None, missing=list(line.missing) or None),
    }


def _interval(line: OrderedDimension) -> list[int | float] | None:
    return None if line.low is None or line.high is None else [rounded(line.low), rounded(line.high)]


def rounded(value: float) -> int | float:
    """A number to ten-thousandths, whole ones without a decimal point."""
    return file_number(round(value, DECIMALS))


def _pair(pair: PairSpecification) -> Document:
    frame = [line for line in pair.dimensions if line.dimension not in LENS_DIMENSIONS]
    return {
        "pair": pair.pair.pair,
        "frame": [write_dimension(line) for line in frame],
        "lenses": {side: write_lens(pair.lens(side)) for side in SIDES},
    }


def _offer(offer: Offer) -> Document:
    return {
        "words": offer.words,
        "corrections": [
            {**write_subject(subject), "value": rounded(value)} for subject, value in offer.corrections
        ],
    }


def _rounded_or_none(value: float | None) -> int | float | None:
    return None if value is None else rounded(value)


def _given(**members: object) -> Document:
    return {key: value for key, value in members.items() if value is not None}

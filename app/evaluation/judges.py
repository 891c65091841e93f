"""The three ways of judging that are compared: limits alone, limits and cross-checks, and with expected bands."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from app.catalogue.catalogue import MEASUREMENTS
from app.fitting.fitting import Fitting
from app.plausibility.expectation_judgement import Judged, judge_expectation
from app.plausibility.expectation_limits import CriticalValues
from app.plausibility.finding import Finding, Severity, Subject
from app.plausibility.judge import judge
from app.practice.settings import PracticeSettings

WITHOUT_BANDS = replace(PracticeSettings(), expected_bands=False)
LIMITS_ALONE = ("usual-range",)
QUESTIONED = (Severity.ASK, Severity.STOP)

Raised = frozenset[tuple[str, tuple[Subject, ...]]]
"""What was asked: check and what it is about."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """What each way of judging asks about one fitting, and which readings it would measure again first."""

    limits: Raised
    checks: Raised
    bands: tuple[Subject, ...]
    first_by_limits: Subject | None
    first_by_checks: Subject | None
    judged: Judged | None

    @property
    def all_first(self) -> Subject | None:
        """The reading named first by everything together: the bands' suspect, else the first that a check names."""
        return self.bands[0] if self.bands else self.first_by_checks


def verdict(fitting: Fitting, critical: CriticalValues) -> Verdict:
    """Judges one fitting in all three ways; bands learnt from the survey's even half, limits as given."""
    findings = [one for one in judge(fitting, WITHOUT_BANDS).raw if _about_readings(one)]
    limits = [one for one in findings if one.check in LIMITS_ALONE]
    judged = judge_expectation(fitting, PracticeSettings(), survey="even", limits=critical)
    places = judged.doubted.places if judged is not None else ()
    return Verdict(
        limits=_raised(limits),
        checks=_raised(findings),
        bands=tuple(judged.evidence[place].subject for place in places) if judged is not None else (),
        first_by_limits=_first(limits),
        first_by_checks=_first(findings),
        judged=judged,
    )


def _about_readings(one: Finding) -> bool:
    """Asks and stops that are about readings: those about the rest of the record are no answer to a slip."""
    return one.severity in QUESTIONED and any(about.measurement in MEASUREMENTS for about in one.about)


def _raised(findings: Iterable[Finding]) -> Raised:
    return frozenset((one.check, one.about) for one in findings)


def _first(findings: Iterable[Finding]) -> Subject | None:
    """The reading that would be measured again first: the first one named, stops before asks."""
    order = sorted(findings, key=lambda one: one.severity is not Severity.STOP)
    named = (one.suspect or (one.about[0] if len(one.about) == 1 else None) for one in order)
    return next((subject for subject in named if subject is not None), None)

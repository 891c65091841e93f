"""Judging a fitting: every check is run, root causes come first, and what depends on them is held back."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date

from app.fitting.fitting import Fitting
from app.fitting.working import working_values
from app.plausibility.answers import GivenAnswer, is_answered
from app.plausibility.check import Check, Seen
from app.plausibility.confirmed import confirmed_readings
from app.plausibility.could_not_judge import NAME as COULD_NOT_JUDGE
from app.plausibility.could_not_judge import NOT_WORKED_OUT, not_judged
from app.plausibility.facts import Facts
from app.plausibility.families import CHECKS
from app.plausibility.finding import Finding, Severity, Subject
from app.plausibility.fingerprint import BETWEEN, fingerprint_of, place_of
from app.plausibility.judgement import Judgement, about_reading
from app.plausibility.value import Stated, Value
from app.plausibility.worst_case import worst_referrals
from app.practice.settings import PracticeSettings

__all__ = ["Judgement", "about_reading", "judge"]

REPEATS = ("repeats-disagree", "repeats-unsettled")
"""Checks that say that readings do not agree."""
DEFAULT_SETTINGS = PracticeSettings()
GRAVEST_FIRST = {
    severity: place
    for place, severity in enumerate((Severity.REFER, Severity.STOP, Severity.ASK, Severity.NOTE))
}


@dataclass(frozen=True, slots=True)
class _Sighting:
    """One thing seen, by which check, and on which numbers."""

    check: Check
    seen: Seen
    leaves: tuple[Value | Stated, ...]

    @property
    def subjects(self) -> set[Subject]:
        return {leaf.subject for leaf in self.leaves}

    @property
    def root(self) -> set[Subject]:
        """The numbers that nothing else should be judged on while this stands; empty where it is no stop."""
        if self.seen.severity is not Severity.STOP or not self.check.holds_back or self.unsettled:
            return set()
        return self.subjects if self.seen.root is None else set(self.seen.root)

    @property
    def unsettled(self) -> set[Subject]:
        """The numbers it was seen on whose readings do not agree; empty for a check of the record."""
        if not self.check.holds_back:
            return set()
        return {leaf.subject for leaf in self.leaves if isinstance(leaf, Value) and not leaf.settled}


def judge(
    fitting: Fitting,
    settings: PracticeSettings = DEFAULT_SETTINGS,
    today: date | None = None,
    previous: Fitting | None = None,
    confirmed: frozenset[Subject] = frozenset(),
    answers: Sequence[GivenAnswer] = (),
) -> Judgement:
    """Working values, findings and held-back findings of a fitting.

    `today` is the day on which dates are judged (None: the day of the fitting), `previous` the visit before,
    `confirmed` the readings that were confirmed as right: the expected bands take them as true, and what
    `answers` say is right; `answers` are what was said to findings so far.
    When a stop is found, every other finding on the same numbers is held back and names the stop's check:
    a swapped pair raises one finding, not five. Among stops on the same number the one that needs fewest
    numbers to be seen goes first, since a number that cannot be right by itself explains the rest.
    A stop that was answered holds nothing back any more: what it held back is asked then.
    Readings that do not agree feed no other check by their mean: what was found on them is held back by the
    finding that says so, until they are settled or it is answered. What has to be seen by the practitioner is
    judged on those furthest apart, and is never held back by it.
    Findings are listed gravest first, and in the order of the families among equals.
    A check whose formula has no answer for these numbers yields a note that names it; the others still speak.
    """
    working = working_values(fitting)
    facts = Facts(
        fitting, settings, working, today, previous, confirmed | confirmed_readings(answers, working)
    )
    sightings = _all_sightings(facts)
    found = [_finding(sighting) for sighting in sightings]
    settled = [is_answered(finding, answers, working) for finding in found]
    waiting = [one for one, answered in zip(sightings, settled, strict=True) if not answered]
    holding = _Holding(_root_causes(waiting), [one for one in waiting if one.check.name in REPEATS])
    findings, held_back = [], []
    for sighting, finding in zip(sightings, found, strict=True):
        holder = holding.holder(sighting)
        if holder is None:
            findings.append(finding)
        else:
            held_back.append(replace(finding, held_back_by=holder.check.name))
    findings.sort(key=lambda finding: GRAVEST_FIRST[finding.severity])
    return Judgement(
        working=working, findings=tuple(findings), held_back=tuple(held_back), expected=facts.expected
    )


def _sightings(check: Check, facts: Facts) -> Iterator[_Sighting]:
    """What one check sees, and after that, where it could not be worked out to its end, a note of it."""
    try:
        for seen in check.find(facts):
            yield _Sighting(check, seen, _leaves(seen.on))
    except NOT_WORKED_OUT:
        seen = not_judged(check)
        yield _Sighting(CHECKS[COULD_NOT_JUDGE], seen, _leaves(seen.on))


def _all_sightings(facts: Facts) -> list[_Sighting]:
    """Everything seen; referrals on readings that disagree in their worst case instead of by the mean."""
    sightings = [one for check in CHECKS.values() for one in _sightings(check, facts)]
    if all(one.settled for one in facts.working):
        return sightings
    referring = tuple(check for check in CHECKS.values() if Severity.REFER in check.severities)
    worst = [_Sighting(check, seen, _leaves(seen.on)) for check, seen in worst_referrals(facts, referring)]
    graver = {(one.check.name, frozenset(one.subjects)) for one in worst}
    by_mean = [
        one
        for one in sightings
        if (one.check.name, frozenset(one.subjects)) not in graver
        and (one.seen.severity is not Severity.REFER or not one.unsettled)
    ]
    return by_mean + worst


def _leaves(values: Iterable[Value | Stated]) -> tuple[Value | Stated, ...]:
    return tuple(leaf for value in values for leaf in value.leaves)


def _root_causes(sightings: Iterable[_Sighting]) -> list[_Sighting]:
    """The stops that stand: those on fewest numbers first, and none on a number that another already explains."""
    stops = sorted((one for one in sightings if one.root), key=lambda one: len(one.subjects))
    standing: list[_Sighting] = []
    for stop in stops:
        if not any(stop.subjects & other.root for other in standing):
            standing.append(stop)
    return standing


@dataclass(frozen=True, slots=True)
class _Holding:
    """What holds others back: the stops that stand, and the findings that readings do not agree."""

    roots: list[_Sighting]
    disagreeing: list[_Sighting]

    def holder(self, sighting: _Sighting) -> _Sighting | None:
        """What holds a sighting back, None where it is shown; a check of the record alone is never held back."""
        if not sighting.check.holds_back and sighting.seen.severity is not Severity.NOTE:
            return None
        roots = (one for one in self.roots if one is not sighting and one.root & sighting.subjects)
        return next(roots, None) or self._unsettled(sighting)

    def _unsettled(self, sighting: _Sighting) -> _Sighting | None:
        if sighting.seen.severity is Severity.REFER or sighting.check.name in REPEATS:
            return None
        return next((one for one in self.disagreeing if one.subjects & sighting.unsettled), None)


def _finding(sighting: _Sighting) -> Finding:
    check, seen = sighting.check, sighting.seen
    about = seen.about or tuple(dict.fromkeys(leaf.subject for leaf in sighting.leaves))
    suggest = seen.suggest or check.suggest
    cost = "" if seen.severity is Severity.NOTE else f" If ignored: {check.cost}"
    return Finding(
        check=check.name,
        severity=seen.severity,
        about=about,
        message=seen.message,
        suggest=suggest + cost,
        source=check.source,
        suspect=seen.suspect,
        offers=seen.offers,
        fingerprint=_fingerprint(sighting, about),
    )


def _fingerprint(sighting: _Sighting, about: tuple[Subject, ...]) -> str:
    """The values that the finding was found on; without values, what it is about."""
    if not sighting.leaves:
        return BETWEEN.join(place_of(subject) for subject in about)
    return fingerprint_of(sighting.leaves)

"""Judging a fitting: every check is run, root causes come first, and what depends on them is held back."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date

from app.fitting.entry import show_number
from app.fitting.fitting import Fitting
from app.fitting.working import working_values
from app.plausibility.check import Check, Seen
from app.plausibility.could_not_judge import NAME as COULD_NOT_JUDGE
from app.plausibility.could_not_judge import NOT_WORKED_OUT, not_judged
from app.plausibility.facts import Facts
from app.plausibility.families import CHECKS
from app.plausibility.finding import Finding, Severity, Subject
from app.plausibility.judgement import Judgement, about_reading
from app.plausibility.value import Stated, Value
from app.practice.settings import PracticeSettings

__all__ = ["Judgement", "about_reading", "judge"]

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
        if self.seen.severity is not Severity.STOP or not self.check.holds_back:
            return set()
        return self.subjects if self.seen.root is None else set(self.seen.root)


def judge(
    fitting: Fitting,
    settings: PracticeSettings = DEFAULT_SETTINGS,
    today: date | None = None,
    previous: Fitting | None = None,
    confirmed: frozenset[Subject] = frozenset(),
) -> Judgement:
    """Working values, findings and held-back findings of a fitting.

    `today` is the day on which dates are judged (None: the day of the fitting), `previous` the visit before,
    `confirmed` the readings that were confirmed as right: the expected bands take them as true.
    When a stop is found, every other finding on the same numbers is held back and names the stop's check:
    a swapped pair raises one finding, not five. Among stops on the same number the one that needs fewest
    numbers to be seen goes first, since a number that cannot be right by itself explains the rest.
    Findings are listed gravest first, and in the order of the families among equals.
    A check whose formula has no answer for these numbers yields a note that names it; the others still speak.
    """
    working = working_values(fitting)
    facts = Facts(fitting, settings, working, today, previous, confirmed)
    sightings = [one for check in CHECKS.values() for one in _sightings(check, facts)]
    roots = _root_causes(sightings)
    findings, held_back = [], []
    for sighting in sightings:
        holder = _holder(sighting, roots)
        finding = _finding(sighting)
        if holder is None:
            findings.append(finding)
        else:
            held_back.append(replace(finding, held_back_by=holder.check.name))
    findings.sort(key=lambda finding: GRAVEST_FIRST[finding.severity])
    return Judgement(working=working, findings=tuple(findings), held_back=tuple(held_back))


def _sightings(check: Check, facts: Facts) -> Iterator[_Sighting]:
    """What one check sees, and after that, where it could not be worked out to its end, a note of it."""
    try:
        for seen in check.find(facts):
            yield _Sighting(check, seen, _leaves(seen.on))
    except NOT_WORKED_OUT:
        seen = not_judged(check)
        yield _Sighting(CHECKS[COULD_NOT_JUDGE], seen, _leaves(seen.on))


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


def _holder(sighting: _Sighting, roots: Iterable[_Sighting]) -> _Sighting | None:
    """The root cause that holds a sighting back; a check of the record alone is never held back."""
    if not sighting.check.holds_back and sighting.seen.severity is not Severity.NOTE:
        return None
    return next((root for root in roots if root is not sighting and root.root & sighting.subjects), None)


def _finding(sighting: _Sighting) -> Finding:
    check, seen = sighting.check, sighting.seen
    about = seen.about or tuple(dict.fromkeys(leaf.subject for leaf in sighting.leaves))
    suggest = seen.suggest or check.suggest
    cost = "" if seen.severity is Severity.NOTE and seen.suggest else f" If ignored: {check.cost}"
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
        return ";".join(_place(subject) for subject in about)
    return ";".join(
        f"{_place(leaf.subject)}={show_number(leaf.number) if isinstance(leaf, Value) else leaf.words}"
        for leaf in sighting.leaves
    )


def _place(subject: Subject) -> str:
    parts = [subject.measurement, subject.side, subject.method]
    if subject.pair is not None:
        parts.append(f"pair {subject.pair}")
    return ".".join(part for part in parts if part)

"""Findings that are gone because something was measured again or corrected: seen from the readings themselves."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

from app.fitting.fitting import Fitting
from app.fitting.reading import Reading
from app.plausibility.finding import Finding, Severity, Subject
from app.plausibility.judge import Judgement

How = Literal["measured_again", "corrected"]
Group = tuple[str, str | None, int | None, str | None, str | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class PutRight:
    """One finding that the first readings gave and that the readings of now no longer give."""

    finding: Finding
    how: How


def as_first_taken(fitting: Fitting) -> Fitting:
    """The fitting with only the first reading of each measurement, side, pair, method and condition.

    What was corrected or struck through since counts as it was first entered.
    """
    first: dict[Group, Reading] = {}
    for reading in fitting.readings:
        if reading.replaces is None:
            first.setdefault(_group(reading), replace(reading, entered_in_error=None))
    return replace(fitting, readings=tuple(first.values()))


def _group(reading: Reading) -> Group:
    return reading.measurement, reading.side, reading.pair, reading.method, reading.condition


def put_right(first: Judgement, now: Judgement, fitting: Fitting) -> tuple[PutRight, ...]:
    """What the first readings gave and the present ones do not, in the order found.

    `first` judges `as_first_taken(fitting)`, `now` the fitting as it stands. Corrected: a reading that the finding
    is about was replaced or entered in error. Measured again: it was taken once more. Notes are left out.
    """
    still = {_matter(finding) for finding in (*now.findings, *now.held_back)}
    gone = (finding for finding in first.findings if _matter(finding) not in still)
    found = ((finding, _how(finding, fitting)) for finding in gone if finding.severity is not Severity.NOTE)
    return tuple(PutRight(finding=finding, how=how) for finding, how in found if how is not None)


def _matter(finding: Finding) -> tuple[str, tuple[Subject, ...]]:
    return finding.check, finding.about


def _how(finding: Finding, fitting: Fitting) -> How | None:
    own = [reading for reading in fitting.readings if _is_about(finding.about, reading)]
    if any(reading.replaces or reading.entered_in_error for reading in own):
        return "corrected"
    groups = [_group(reading) for reading in own]
    return "measured_again" if len(groups) > len(set(groups)) else None


def _is_about(subjects: Iterable[Subject], reading: Reading) -> bool:
    return any(
        subject.measurement == reading.measurement
        and subject.side in (None, reading.side)
        and subject.pair in (None, reading.pair)
        for subject in subjects
    )

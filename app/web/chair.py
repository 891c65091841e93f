"""A fitting with everything that pages about it need: loaded once, judged once."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property

from fastapi import Request

from app.catalogue.measurement import Side
from app.fitting.fitting import Fitting
from app.fitting.reading import Reading
from app.fitting.working import current_readings, working_values
from app.plausibility.answers import open_findings
from app.plausibility.confirmed import carried_over, confirmed_readings
from app.plausibility.expectation import Band, bands_of
from app.plausibility.finding import Finding, Subject
from app.plausibility.judge import Judgement, judge
from app.practice.settings import PracticeSettings
from app.records.database import Database
from app.records.fittings import load_fitting
from app.records.people import PersonRecord, load_person
from app.records.stored_fitting import StoredAnswer, StoredFitting

SAID_AT_REVIEW = frozenset({"missing-without-reason", "not-accepted"})
VISITS_CARRIED = 10
"""So many visits back a confirmed reading is not asked about again while its value is the same. Ours."""
ANSWER_WORDS = {
    "right_because": "kept: right because",
    "measured_again": "measured again",
    "corrected": "corrected",
    "known_investigated": "known and looked at: continue",
    "referred": "referred: dispensing paused",
    "emergency": "emergency: stopped",
}


@dataclass
class Chair:
    """One fitting on the chair. Judging waits until a page asks for it."""

    stored: StoredFitting
    person: PersonRecord
    settings: PracticeSettings
    previous: Fitting | None = None
    carried: tuple[StoredAnswer, ...] = ()
    """What was said at earlier visits of readings that are the patient's own and right."""

    @property
    def fitting(self) -> Fitting:
        """The fitting as a value."""
        return self.stored.fitting

    @property
    def frozen(self) -> bool:
        """True where it is signed off and nothing may be changed."""
        return self.stored.state == "signed"

    @cached_property
    def judgement(self) -> Judgement:
        """All findings on it."""
        today = None if self.frozen else date.today()
        return judge(self.fitting, self.settings, today, self.previous, answers=self.answers)

    @cached_property
    def answers(self) -> tuple[StoredAnswer, ...]:
        """All answers that may hold: those of earlier visits, then those of this one."""
        return (*self.carried, *self.stored.answers)

    @cached_property
    def confirmed(self) -> frozenset[Subject]:
        """The readings that were confirmed as right, now or at an earlier visit with the same value."""
        return confirmed_readings(self.answers, working_values(self.fitting)) if self.answers else frozenset()

    @cached_property
    def bands(self) -> tuple[Band, ...]:
        """What every reading is expected to be, given the others."""
        judged = self.judgement.expected
        return bands_of(judged) if judged is not None else ()

    @cached_property
    def current(self) -> tuple[Reading, ...]:
        """The readings that count."""
        return current_readings(self.fitting)

    @cached_property
    def standing(self) -> dict[tuple[str, Side | None], list[Reading]]:
        """The readings that count, by measurement and side: every box of every step asks for its own."""
        found: dict[tuple[str, Side | None], list[Reading]] = {}
        for reading in self.current:
            found.setdefault((reading.measurement, reading.side), []).append(reading)
        return found

    @cached_property
    def open_findings(self) -> tuple[Finding, ...]:
        """Findings still to be answered."""
        return tuple(open_findings(self.judgement, self.answers))

    @cached_property
    def beside(self) -> tuple[Finding, ...]:
        """Open findings to show beside boxes: a blank box speaks for itself until the review."""
        return tuple(finding for finding in self.open_findings if finding.check not in SAID_AT_REVIEW)

    def answer_words(self, finding: Finding) -> str:
        """How a finding was answered, for people; nothing where it was not."""
        for answer in reversed(self.answers):
            if (answer.check, answer.fingerprint) == (finding.check, finding.fingerprint):
                return f"{ANSWER_WORDS.get(answer.kind, answer.kind)} {answer.words or ''}".strip()
        return ""


def finding_of(findings: Iterable[Finding], check: str, fingerprint: str) -> Finding | None:
    """The finding of a check about exactly these values, None where there is none."""
    wanted = (check, fingerprint)
    return next((one for one in findings if (one.check, one.fingerprint) == wanted), None)


def take_chair(request: Request, database: Database, fitting_id: str) -> Chair:
    """Load a fitting with its person and, where there is one, the visit before."""
    stored = load_fitting(database, fitting_id)
    return chair_of(database, stored, load_person(database, stored.person_id), request.app.state.practice)


def chair_of(
    database: Database, stored: StoredFitting, person: PersonRecord, settings: PracticeSettings
) -> Chair:
    """A loaded fitting with, where there is one, the visit before, and what was confirmed at earlier ones."""
    earlier = tuple(earlier_visits(database, stored))
    previous = earlier[0].fitting if earlier else None
    return Chair(stored, person, settings, previous, carried_answers(earlier))


def confirmed_in(database: Database, stored: StoredFitting) -> frozenset[Subject]:
    """The readings of a fitting that were confirmed as right, at this visit or an earlier one."""
    answers = (*carried_answers(tuple(earlier_visits(database, stored))), *stored.answers)
    return confirmed_readings(answers, working_values(stored.fitting)) if answers else frozenset()


def earlier_visits(database: Database, stored: StoredFitting) -> Iterator[StoredFitting]:
    """The visits before, latest first, as far back as anything confirmed is carried."""
    for _ in range(VISITS_CARRIED):
        if stored.previous_fitting_id is None:
            return
        stored = load_fitting(database, stored.previous_fitting_id)
        yield stored


def carried_answers(earlier: tuple[StoredFitting, ...]) -> tuple[StoredAnswer, ...]:
    """What was confirmed at earlier signed visits, oldest first, each with the day on which it was said."""
    signed = (one for one in reversed(earlier) if one.state == "signed")
    return tuple(
        replace(answer, words=f"{answer.words} (confirmed on {one.fitting.taken.on})")
        for one in signed
        for answer in carried_over(one.answers)
    )

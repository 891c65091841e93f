"""A fitting with everything that pages about it need: loaded once, judged once."""

from dataclasses import dataclass
from datetime import date
from functools import cached_property

from fastapi import Request

from app.catalogue.measurement import Side
from app.fitting.fitting import Fitting
from app.fitting.reading import Reading
from app.fitting.working import current_readings
from app.plausibility.answers import open_findings
from app.plausibility.finding import Finding
from app.plausibility.judge import Judgement, judge
from app.practice.settings import PracticeSettings
from app.records.database import Database
from app.records.fittings import load_fitting
from app.records.people import PersonRecord, load_person
from app.records.stored_fitting import StoredFitting

SAID_AT_REVIEW = frozenset({"missing-without-reason", "not-accepted"})
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
        return judge(self.fitting, self.settings, today, self.previous, answers=self.stored.answers)

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
        return tuple(open_findings(self.judgement, self.stored.answers))

    @cached_property
    def beside(self) -> tuple[Finding, ...]:
        """Open findings to show beside boxes: a blank box speaks for itself until the review."""
        return tuple(finding for finding in self.open_findings if finding.check not in SAID_AT_REVIEW)

    def answer_words(self, finding: Finding) -> str:
        """How a finding was answered, for people; nothing where it was not."""
        for answer in reversed(self.stored.answers):
            if (answer.check, answer.fingerprint) == (finding.check, finding.fingerprint):
                return f"{ANSWER_WORDS.get(answer.kind, answer.kind)} {answer.words or ''}".strip()
        return ""


def take_chair(request: Request, database: Database, fitting_id: str) -> Chair:
    """Load a fitting with its person and, where there is one, the visit before."""
    stored = load_fitting(database, fitting_id)
    return chair_of(database, stored, load_person(database, stored.person_id), request.app.state.practice)


def chair_of(
    database: Database, stored: StoredFitting, person: PersonRecord, settings: PracticeSettings
) -> Chair:
    """A loaded fitting with, where there is one, the visit before."""
    before = stored.previous_fitting_id
    return Chair(stored, person, settings, load_fitting(database, before).fitting if before else None)

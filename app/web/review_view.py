"""What the review shows, gathered from a fitting, its judgement and the answers given."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from app.catalogue.catalogue import MEASUREMENTS
from app.fitting.entry import in_words
from app.fitting.reading import Reading
from app.fitting.working import waiting_proposals
from app.plausibility.answers import (
    SETTLED_BY_DOING,
    UNFINISHED,
    Obstacle,
    blocks_sign_off,
    entered_again,
    latest_answer,
    open_findings,
    pausing_findings,
    root_causes_first,
)
from app.plausibility.finding import Finding, Offer, Severity, Subject
from app.plausibility.put_right import PutRight, as_first_taken, put_right
from app.web.chair import Chair
from app.web.missing import missing_things
from app.web.sheet_text import name_of
from app.web.step_view import SEVERITY_WORDS
from app.web.subject_links import address_of, words_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Something that a finding is about: its name, the readings standing there, where to go."""

    words: str
    readings: str
    address: str
    doubted: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class OfferShown:
    """One likely cause as a button, where one tap can put it right; else in words."""

    number: int
    offer: Offer
    by_button: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ReviewFinding:
    """One finding on the review."""

    finding: Finding
    label: str
    places: tuple[Place, ...]
    offers: tuple[OfferShown, ...]
    answer: str
    answered_by: str
    entered_again: bool
    by_doing: bool
    """Settled only by the missing deed, not by an answer."""
    holds_back: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Proposal:
    """One proposed reading, to be accepted or measured again."""

    reading: Reading
    name: str
    value: str
    address: str


class Review:
    """The review of one fitting; each part is worked out when the page asks for it."""

    def __init__(self, chair: Chair) -> None:
        self.chair = chair

    @cached_property
    def open(self) -> tuple[ReviewFinding, ...]:
        """Findings that wait for an answer, worst and root causes first."""
        return tuple(map(self._shown, open_findings(self.chair.judgement, self.chair.answers)))

    @cached_property
    def answered(self) -> tuple[ReviewFinding, ...]:
        """Findings that are answered for the values that stand now."""
        waiting = set(map(id, (one.finding for one in self.open)))
        told = [
            one
            for one in self.chair.judgement.findings
            if one.severity is not Severity.NOTE and one.check not in UNFINISHED
        ]
        done = root_causes_first((one for one in told if id(one) not in waiting), ())
        return tuple(map(self._shown, done))

    @cached_property
    def notes(self) -> tuple[ReviewFinding, ...]:
        """Findings with nothing to do."""
        told = [one for one in self.chair.judgement.findings if one.severity is Severity.NOTE]
        return tuple(map(self._shown, told))

    @cached_property
    def held_back(self) -> tuple[Finding, ...]:
        """Findings on numbers that are in doubt already: judged once those are put right."""
        return tuple(self.chair.judgement.held_back)

    @cached_property
    def put_right(self) -> tuple[PutRight, ...]:
        """What was measured again or corrected since, seen from the readings."""
        stored = self.chair.stored
        first = replace(self.chair, stored=replace(stored, fitting=as_first_taken(stored.fitting)))
        return put_right(first.judgement, self.chair.judgement, stored.fitting)

    @cached_property
    def pausing(self) -> tuple[Finding, ...]:
        """What pauses dispensing."""
        return pausing_findings(self.chair.judgement, self.chair.answers)

    @cached_property
    def missing(self) -> tuple[tuple[Subject, str], ...]:
        """Readings and answers that are wanted and not there."""
        return missing_things(self.chair)

    @cached_property
    def proposed(self) -> dict[str, tuple[Proposal, ...]]:
        """Proposed readings by the person who took them."""
        found: dict[str, tuple[Proposal, ...]] = {}
        for reading in waiting_proposals(self.chair.fitting):
            if reading.identity:
                by = reading.by or "somebody"
                found[by] = (*found.get(by, ()), self._proposal(reading))
        return found

    @cached_property
    def obstacles(self) -> tuple[Obstacle, ...]:
        """What stands between this fitting and its sign-off."""
        return blocks_sign_off(
            self.chair.judgement,
            self.chair.answers,
            missing=self.missing,
            proposed=[(_subject(one.reading), one.name) for own in self.proposed.values() for one in own],
        )

    def link(self, subject: Subject) -> str:
        """Where a subject is measured or chosen."""
        return address_of(self.chair.stored.fitting_id, subject)

    def _shown(self, finding: Finding) -> ReviewFinding:
        answer = latest_answer(finding, self.chair.answers)
        own = [one for one in self.chair.answers if one is answer]
        return ReviewFinding(
            finding=finding,
            label=SEVERITY_WORDS[finding.severity],
            places=tuple(self._places(finding)),
            offers=tuple(self._offers(finding)),
            answer=self.chair.answer_words(finding),
            answered_by=f"{own[0].by}" if own else "",
            entered_again=entered_again(finding, self.chair.judgement.working),
            by_doing=finding.check in SETTLED_BY_DOING,
            holds_back=tuple(one for one in self.held_back if one.held_back_by == finding.check),
        )

    def _places(self, finding: Finding) -> Iterator[Place]:
        for subject in dict.fromkeys((*filter(None, (finding.suspect,)), *finding.about)):
            yield Place(
                words=words_of(subject),
                readings=", ".join(_value(reading) for reading in self.standing(subject)),
                address=self.link(subject),
                doubted=subject == finding.suspect,
            )

    def _offers(self, finding: Finding) -> Iterator[OfferShown]:
        for number, offer in enumerate(finding.offers):
            single = all(len(self.standing(subject)) == 1 for subject, _ in offer.corrections)
            yield OfferShown(number=number, offer=offer, by_button=bool(offer.corrections) and single)

    def standing(self, subject: Subject) -> Sequence[Reading]:
        """The readings that count and that a subject names."""
        return [reading for reading in self.chair.current if _names(subject, reading)]

    def _proposal(self, reading: Reading) -> Proposal:
        name = name_of(reading.measurement, reading.side, reading.pair)
        return Proposal(reading, name, _value(reading), self.link(_subject(reading)))


def _subject(reading: Reading) -> Subject:
    return Subject(reading.measurement, reading.side, reading.pair, reading.method)


def _names(subject: Subject, reading: Reading) -> bool:
    return (
        subject.measurement == reading.measurement
        and subject.side == reading.side
        and subject.pair in (None, reading.pair)
        and subject.method in (None, reading.method)
    )


def _value(reading: Reading) -> str:
    return in_words(MEASUREMENTS[reading.measurement], reading.value)

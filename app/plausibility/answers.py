"""Which findings still need an answer, which answers hold, and what stands between a fitting and its sign-off."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Protocol

from app.fitting.working import WorkingValue
from app.plausibility.finding import Finding, Severity, Subject
from app.plausibility.judgement import Judgement

ANSWERS_TO: dict[Severity, tuple[str, ...]] = {
    Severity.NOTE: (),
    Severity.ASK: ("right_because",),
    Severity.STOP: ("right_because",),
    Severity.REFER: ("known_investigated", "referred", "emergency"),
}
"""Answers that a person can give, by severity. `measured_again` and `corrected` are seen from the readings."""
PAUSING_ANSWERS = ("referred", "emergency")
"""Answers to a referral that pause dispensing until somebody says that it is known and has been looked at."""
WORST_FIRST = (Severity.REFER, Severity.STOP, Severity.ASK, Severity.NOTE)
ENTRIES_TO_KEEP_A_STOP = 2
"""A value beyond belief is kept only when it was entered a second time, with a reason."""
UNFINISHED = ("missing-without-reason", "not-accepted")
"""Checks that say what is still to be done: listed one by one as missing or proposed, not answered in words."""
SETTLED_BY_DOING = (*UNFINISHED, "registrant-named")
"""Checks that no answer settles, only the missing deed itself."""


class GivenAnswer(Protocol):
    """An answer as stored: what it answers, which values it was given for, and in which words."""

    @property
    def check(self) -> str:
        """Name of the check."""

    @property
    def fingerprint(self) -> str:
        """The values that the answer holds for."""

    @property
    def kind(self) -> str:
        """Which answer."""

    @property
    def words(self) -> str | None:
        """The reason, or where the person was sent and what was said."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Obstacle:
    """One thing that must be settled before sign-off, in words, and what it is about."""

    words: str
    about: Subject | None = None
    finding: Finding | None = None


def latest_answer(finding: Finding, answers: Sequence[GivenAnswer]) -> GivenAnswer | None:
    """The last answer given to this finding on these values, None where there is none.

    An answer to the same check on other values is none: it was about something else.
    """
    wanted = (finding.check, finding.fingerprint)
    return next((one for one in reversed(answers) if (one.check, one.fingerprint) == wanted), None)


def not_an_answer(
    finding: Finding, *, kind: str, words: str | None, working: Iterable[WorkingValue]
) -> str | None:
    """Why an answer cannot be taken, in words for the person; None where it can.

    A stop needs its value entered a second time and a reason; an ask and a referral need words.
    """
    if finding.check in SETTLED_BY_DOING:
        return f"This is settled by doing it, not by an answer. {finding.suggest}"
    if kind not in ANSWERS_TO[finding.severity]:
        return "That answer does not belong to this finding. Choose one of those shown."
    if not (words or "").strip():
        return _words_wanted(kind)
    if finding.severity is Severity.STOP and not entered_again(finding, working):
        return "This value is kept only when it is measured and entered a second time. Enter it again and say why."
    return None


def _words_wanted(kind: str) -> str:
    examples = {
        "right_because": "Say why it is right for this patient. Example: measured twice, old injury.",
        "known_investigated": "Say since when it is known, and who looked at it. Example: childhood, eye clinic.",
        "referred": "Say where to, and what was advised. Example: on-call eye service, today.",
        "emergency": "Say when, where to, and what was advised. Example: 10:40, emergency department.",
    }
    return examples[kind]


def entered_again(finding: Finding, working: Iterable[WorkingValue]) -> bool:
    """True where the doubted reading was entered twice or more and the entries agree.

    The doubted reading is the suspect, or without one everything that the finding is about. What is not a
    reading has no second entry to look for: there the reason alone is asked.
    """
    doubted = (finding.suspect,) if finding.suspect is not None else finding.about
    values = tuple(working)
    return all(_all_repeated(subject, values) for subject in doubted)


def _all_repeated(subject: Subject, values: Sequence[WorkingValue]) -> bool:
    own = [value for value in values if concerns(subject, value)]
    return all(value.count >= ENTRIES_TO_KEEP_A_STOP and value.settled for value in own)


def concerns(subject: Subject, value: WorkingValue) -> bool:
    """True where the subject names that working value; a subject without a method names every method."""
    return (
        subject.measurement == value.measurement
        and subject.side == value.side
        and subject.pair in (None, value.pair)
        and subject.method in (None, value.method)
    )


def is_answered(finding: Finding, answers: Sequence[GivenAnswer], working: Iterable[WorkingValue]) -> bool:
    """True where nothing more is to be said: a note, or a finding whose last answer still holds."""
    if finding.severity is Severity.NOTE:
        return True
    answer = latest_answer(finding, answers)
    if answer is None:
        return False
    return not_an_answer(finding, kind=answer.kind, words=answer.words, working=working) is None


def open_findings(judgement: Judgement, answers: Sequence[GivenAnswer]) -> tuple[Finding, ...]:
    """The findings that wait for an answer, worst first and root causes first among equals.

    No notes, and nothing about a record that is merely unfinished (`blocks_sign_off` has that).
    """
    waiting = [
        finding
        for finding in judgement.findings
        if finding.check not in UNFINISHED and not is_answered(finding, answers, judgement.working)
    ]
    return root_causes_first(waiting, judgement.held_back)


def root_causes_first(findings: Iterable[Finding], held_back: Sequence[Finding]) -> tuple[Finding, ...]:
    """Worst first; among equals those first that hold the most others back."""
    holding: dict[str | None, int] = {}
    for finding in held_back:
        holding[finding.held_back_by] = holding.get(finding.held_back_by, 0) + 1
    return tuple(
        sorted(findings, key=lambda one: (WORST_FIRST.index(one.severity), -holding.get(one.check, 0)))
    )


def pausing_findings(judgement: Judgement, answers: Sequence[GivenAnswer]) -> tuple[Finding, ...]:
    """The findings that pause dispensing: referrals without an answer, or answered as referred or emergency.

    Saving is never paused. The pause ends when a practitioner answers that it is known and was looked at.
    """
    referrals = (finding for finding in judgement.findings if finding.severity is Severity.REFER)
    return tuple(finding for finding in referrals if _pauses(finding, answers))


def _pauses(finding: Finding, answers: Sequence[GivenAnswer]) -> bool:
    answer = latest_answer(finding, answers)
    return answer is None or answer.kind in PAUSING_ANSWERS


def blocks_sign_off(
    judgement: Judgement,
    answers: Sequence[GivenAnswer],
    *,
    missing: Iterable[tuple[Subject, str]] = (),
    proposed: Iterable[tuple[Subject, str]] = (),
) -> tuple[Obstacle, ...]:
    """Everything that must be settled before sign-off, findings first; empty where nothing stands in the way.

    `missing` and `proposed` give a subject and its name in words: what is wanted and has neither value nor reason,
    and readings of an assistant that nobody accepted. What the checks find missing or not accepted besides is
    added, so that nothing is let through because a page did not list it.
    """
    obstacles = [
        Obstacle(
            words=finding.message, finding=finding, about=finding.suspect or next(iter(finding.about), None)
        )
        for finding in open_findings(judgement, answers)
    ]
    wanted = (
        ("missing-without-reason", "no reading and no reason", missing),
        ("not-accepted", "not accepted yet", proposed),
    )
    for check, what, listed in wanted:
        named = dict(listed)
        obstacles += [Obstacle(words=f"{name}: {what}", about=subject) for subject, name in named.items()]
        obstacles += _not_listed(judgement, check, named)
    return tuple(obstacles)


def _not_listed(judgement: Judgement, check: str, named: dict[Subject, str]) -> list[Obstacle]:
    """A finding of that check, where it is about something that the page does not list."""
    listed = {(subject.measurement, subject.side) for subject in named}
    return [
        Obstacle(words=finding.message, finding=finding, about=next(iter(finding.about), None))
        for finding in judgement.findings
        if finding.check == check
        and any((subject.measurement, subject.side) not in listed for subject in finding.about)
    ]

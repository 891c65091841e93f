"""What the judge says where one check could not be worked out, so that no single check takes the others down."""

from collections.abc import Iterator

from app.plausibility.check import Check, Seen, check
from app.plausibility.facts import Facts
from app.plausibility.finding import Severity, Subject
from app.plausibility.value import Stated
from app.reference.bibliography import COMMON_PRACTICE

NAME = "could-not-judge"
NOT_WORKED_OUT = (ValueError, ZeroDivisionError, OverflowError)
"""What a formula raises for numbers that no lens, frame or face can have; NotPossible is a ValueError."""


@check(
    NAME,
    family="record",
    title="A check that could not be worked out",
    looks_at="every other check, while the record is judged",
    why="Numbers that contradict each other can leave a formula without an answer; the other checks still speak.",
    limits="note where a check could not be worked out from the numbers that stand",
    suggest="Put right what else was found, above all numbers out of their range; then this check speaks again.",
    cost="One check is silent, and its slip may pass.",
    source=COMMON_PRACTICE,
    severities=(Severity.NOTE,),
    holds_back=False,
)
def could_not_judge(facts: Facts) -> Iterator[Seen]:
    """Nothing by itself: the judge says it of the check that failed."""
    del facts
    return iter(())


def not_judged(failed: Check) -> Seen:
    """The note that a check could not be worked out."""
    subject = Subject(measurement=f"check.{failed.name.replace('-', '_')}")
    return Seen(
        severity=Severity.NOTE,
        on=(Stated(subject=subject, words="not worked out"),),
        message=f"“{failed.title}” could not be worked out from these numbers.",
    )

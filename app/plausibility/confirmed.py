"""Readings confirmed as right: “right because …” holds for the same values, at the next visit too."""

from collections.abc import Iterable, Iterator, Sequence
from typing import TypeVar

from app.fitting.entry import show_number
from app.fitting.working import WorkingValue
from app.plausibility.answers import GivenAnswer, concerns
from app.plausibility.finding import Subject
from app.plausibility.fingerprint import readings_in

RIGHT = "right_because"
Given = TypeVar("Given", bound=GivenAnswer)


def confirmed_readings(answers: Iterable[GivenAnswer], working: Sequence[WorkingValue]) -> frozenset[Subject]:
    """The readings that somebody said are right, where each value still is the one that this was said of.

    A finding on several readings confirms all of them, and none once one of them has changed.
    """
    return frozenset(
        subject for answer in answers if answer.kind == RIGHT for subject in _still_so(answer, working)
    )


def _still_so(answer: GivenAnswer, working: Sequence[WorkingValue]) -> tuple[Subject, ...]:
    said = readings_in(answer.fingerprint)
    stands = all(
        any(concerns(subject, one) and show_number(one.value) == number for one in working)
        for subject, number in said
    )
    return tuple(subject for subject, _ in said) if stands else ()


def carried_over(answers: Iterable[Given]) -> Iterator[Given]:
    """Of the answers at an earlier visit, those that still say something: readings of this face that are right.

    What was said of a pair, of a prescription or of anything else on record is asked again at each visit.
    """
    for answer in answers:
        said = readings_in(answer.fingerprint)
        if answer.kind == RIGHT and said and all(subject.pair is None for subject, _ in said):
            yield answer

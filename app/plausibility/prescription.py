"""The prescription: its age, its prisms, and what should be asked of the prescriber before ordering."""

from collections.abc import Iterator
from datetime import date

from app.catalogue.measurement import SIDE_WORDS, SIDES
from app.fitting.prescription import Prescription
from app.plausibility.check import Seen, check
from app.plausibility.facts import Facts
from app.plausibility.finding import Severity
from app.plausibility.prescription_values import QUERY, READ_BACK, eyes_of, power_value
from app.plausibility.value import Stated, Value, amount, power
from app.reference.bibliography import COMMON_PRACTICE

ASK, NOTE, STOP = Severity.ASK, Severity.NOTE, Severity.STOP
FAMILY = "prescription"
LARGE_PRISM = 5.0


@check(
    "prescription-age",
    family=FAMILY,
    title="Age of the prescription",
    looks_at="date of the prescription, the day it is judged on, and the patient's age",
    why="Eyes change; in many places an old prescription may not be dispensed.",
    limits="note above 1 year under 16, ask above 2 years (both settings), ask where it is dated later than today, "
    "stop without a date",
    suggest="Ask for a new test, or give the registered practitioner's reason.",
    cost="Lenses to an old prescription, and perhaps against local rules.",
    source="Sale of Optical Appliances Order 1984 (United Kingdom): two years; confirm locally. "
    "Children: common practice",
    severities=(NOTE, ASK, STOP),
    holds_back=False,
)
def prescription_age(facts: Facts) -> Iterator[Seen]:
    """Days since the prescription was written."""
    for path, prescription in facts.prescriptions:
        written = facts.stated(f"{path}.written", prescription.written)
        if prescription.written is None:
            yield Seen(
                severity=STOP,
                on=(written,),
                message="The prescription has no date.",
                suggest="Look for the date on the prescription, or ask the prescriber.",
            )
            continue
        days = (facts.day - date.fromisoformat(prescription.written)).days
        severity = None
        ahead = days < 0 and facts.today is not None
        if ahead or days > facts.settings.prescription_ask_days:
            severity = ASK
        elif facts.child and days > facts.settings.child_prescription_note_days:
            severity = NOTE
        if severity is not None:
            when = f"{-days} days ahead of" if days < 0 else f"{days} days before"
            yield Seen(
                severity=severity,
                on=(written,),
                message=f"The prescription is dated {prescription.written}, {when} {facts.day.isoformat()}.",
            )


@check(
    "one-eye-prescribed",
    family=FAMILY,
    title="A prescription for one eye",
    looks_at="both eyes of each prescription",
    why="A lens without power is written too, as plano; a line left blank is a line left out.",
    limits="ask where only one eye is written, unless the other is a prosthesis or does not see",
    suggest=f"{READ_BACK} {QUERY}",
    cost="The lens maker stops and asks for the other eye.",
    source=COMMON_PRACTICE,
    severities=(ASK,),
    holds_back=False,
)
def one_eye_prescribed(facts: Facts) -> Iterator[Seen]:
    """R without L, or L without R."""
    if facts.one_eye:
        return
    for path, prescription in facts.prescriptions:
        written = [side for side in SIDES if prescription.eye(side) is not None]
        if len(written) == 1:
            (left_out,) = (side for side in SIDES if side not in written)
            blank = facts.stated(f"{path}.{left_out}.sphere", side=left_out)
            yield Seen(
                severity=ASK,
                on=(blank,),
                message=f"The prescription has no line for the {SIDE_WORDS[left_out]} eye.",
                suspect=blank.subject,
            )


@check(
    "prism-bases",
    family=FAMILY,
    title="Prism bases of the two eyes",
    looks_at="base directions and amounts of both eyes",
    why="Up with up, down with down, or in with an equal out cancel one another; a base left out can be anything.",
    limits="stop where a base is missing; ask where both eyes have the same vertical base, or one base in and the "
    "other an equal base out",
    suggest=QUERY,
    cost="A prism that cancels itself, or is made the wrong way round.",
    source="optics of two eyes together; common practice",
    severities=(ASK, STOP),
)
def prism_bases(facts: Facts) -> Iterator[Seen]:
    """Bases that are missing or cancel out."""
    for path, side, eye in eyes_of(facts):
        for prism in eye.prism:
            if prism.base is None and prism.amount:
                yield Seen(
                    severity=STOP,
                    on=(power_value(path, side, "prism", prism.amount, "prism"),),
                    message=f"{amount(prism.amount, 'prism').capitalize()}, {SIDE_WORDS[side]}, without a base.",
                    suggest=f"{READ_BACK} {QUERY}",
                )
    for path, prescription in facts.prescriptions:
        yield from _cancelling(facts, path, prescription)


def _cancelling(facts: Facts, path: str, prescription: Prescription) -> Iterator[Seen]:
    right, left = prescription.right, prescription.left
    if right is None or left is None:
        return
    for one in right.prism:
        for other in left.prism:
            same_vertical = one.base == other.base and one.base in ("up", "down")
            against = {one.base, other.base} == {"in", "out"} and one.amount == other.amount
            if (same_vertical or against) and one.amount and other.amount:
                yield Seen(
                    severity=ASK,
                    on=(
                        power_value(path, "R", "prism", one.amount, "prism"),
                        power_value(path, "L", "prism", other.amount, "prism"),
                        facts.stated(f"{path}.R.prism", one.base),
                    ),
                    message=f"Prism R {amount(one.amount, '')} base {one.base}, L {amount(other.amount, '')} "
                    f"base {other.base}: the two cancel out, wholly or in part.",
                )


@check(
    "prism-without-deviation",
    family=FAMILY,
    title="A large prism where no deviation was seen",
    looks_at="prism of both eyes together, and the cover test",
    why="A large prism goes with a deviation that the prescriber knows of.",
    limits="ask from 5 prism dioptres in all where the cover test found no movement at either distance",
    suggest=QUERY,
    cost="A prism copied from another's prescription, or in the wrong box.",
    source=COMMON_PRACTICE,
    severities=(ASK,),
)
def prism_without_deviation(facts: Facts) -> Iterator[Seen]:
    """Prism of 5 or more, cover test without movement."""
    test = facts.fitting.cover_test
    found = [part.finding for part in (test.distance, test.near) if part is not None]
    if not found or any(finding != "none" for finding in found):
        return
    for path, prescription in facts.prescriptions:
        prisms: list[Value | Stated] = [
            power_value(path, side, "prism", prism.amount, "prism")
            for side in SIDES
            for prism in (getattr(prescription.eye(side), "prism", ()))
        ]
        total = sum(value.number for value in prisms if isinstance(value, Value))
        if total >= LARGE_PRISM:
            yield Seen(
                severity=ASK,
                on=tuple(prisms),
                message=f"{amount(total, 'prism').capitalize()} of prism in all, and the cover test "
                "saw no movement.",
            )


@check(
    "two-prescriptions",
    family=FAMILY,
    title="Two prescriptions for the same use",
    looks_at="prescriptions and uses of the two pairs",
    why="Two pairs for the same use with different powers are usually two sheets mixed up.",
    limits="ask where both pairs have the same use and different prescriptions",
    suggest="Look at both papers: which is meant for which pair?",
    cost="Both pairs come back wrong.",
    source=COMMON_PRACTICE,
    severities=(ASK,),
    holds_back=False,
)
def two_prescriptions(facts: Facts) -> Iterator[Seen]:
    """Pair 1 ≠ pair 2, same use."""
    first, second = facts.fitting.pair(1), facts.fitting.pair(2)
    if first is None or second is None or first.use is None or first.use != second.use:
        return
    one, other = facts.prescription_of(first), facts.prescription_of(second)
    if one is None or other is None or (one.right, one.left) == (other.right, other.left):
        return
    yield Seen(
        severity=ASK,
        on=(
            facts.stated("pair.1.prescription", _words(one)),
            facts.stated("pair.2.prescription", _words(other)),
        ),
        message=f"Both pairs are for {first.use}, and their prescriptions differ: "
        f"{_words(one)} and {_words(other)}.",
    )


def _words(prescription: Prescription) -> str:
    eyes = ((side, prescription.eye(side)) for side in SIDES)
    return " ".join(f"{side} {power(eye.sphere)}" for side, eye in eyes if eye is not None) or "none"

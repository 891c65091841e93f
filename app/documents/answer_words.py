"""Answers from lists, prescriptions and cover tests, written for people."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from app.catalogue.choice import Choice
from app.catalogue.choices import CHOICES, PAIR_CHOICES
from app.catalogue.measurement import SIDES, Side
from app.documents.written import day, power
from app.fitting.cover_test import CoverFinding
from app.fitting.details import PAIR_DETAILS
from app.fitting.entry import show_number
from app.fitting.field_paths import HISTORY_QUESTIONS
from app.fitting.field_text import SEVERAL_ANSWERS_SEPARATOR
from app.fitting.fitting import Fitting
from app.fitting.pair import Pair
from app.fitting.prescription import EyePrescription, Prescription, Prism
from app.fitting.written_date import NotADate, read_date


@dataclass(frozen=True, slots=True)
class Said:
    """One question and its answer in words."""

    label: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class EyeRow:
    """One eye of a prescription as a row of a table."""

    side: Side
    sphere: str = ""
    cylinder: str = ""
    axis: str = ""
    add: str = ""
    prism: str = ""


def answer_words(choice: Choice, text: str) -> str:
    """The words of an answer, of all of them where several are ticked."""
    if choice.date:
        return _day_or_words(text)
    keys = text.split(SEVERAL_ANSWERS_SEPARATOR) if choice.several else [text]
    return ", ".join(choice.words(key.strip()) for key in keys if key.strip())


def _day_or_words(text: str) -> str:
    """A date as the sheets write it; files may hold other words in its place, which are shown as they are."""
    try:
        return day(read_date(text))
    except NotADate:
        return text


NOTHING_SAID = frozenset({"none", "clear", "sound", "straight"})
"""Answers that change nothing for the bench."""
SIZES_FOR_AN_ORDER = frozenset({"longest_diameter_mm"})
ALWAYS_SAID = frozenset({"allergy"})
"""Asked of every patient because a bench relies on the answer, none too. Common practice."""


def history_said(fitting: Fitting, *, for_order: bool = False) -> tuple[Said, ...]:
    """What was asked of the person; for an order only what the bench needs."""
    return tuple(
        Said(choice.label, answer_words(choice, fitting.history[choice.key]))
        for choice in HISTORY_QUESTIONS.values()
        if fitting.history.get(choice.key)
        and (not for_order or _for_the_bench(choice, fitting.history[choice.key]))
    )


def _for_the_bench(choice: Choice, answer: str) -> bool:
    return choice.on_order and (choice.key in ALWAYS_SAID or answer not in NOTHING_SAID)


def pair_said(pair: Pair, *, leave_out: Iterable[str] = (), for_order: bool = False) -> tuple[Said, ...]:
    """What was chosen for a pair, in the order of the catalogue, then its sizes in mm.

    An order has its sizes among its dimensions, apart from the longest diameter, which a lens maker wants.
    """
    left_out = set(leave_out)
    chosen = [
        Said(choice.label, words)
        for choice, words in _pair_answers(pair)
        if choice.key not in left_out and (choice.on_order or not for_order)
    ]
    sizes = [
        Said(f"{detail.label} ({detail.unit})", pair_value(pair, detail.key))
        for detail in PAIR_DETAILS
        if detail.key not in CHOICES and pair_value(pair, detail.key)
        if not for_order or detail.key in SIZES_FOR_AN_ORDER
    ]
    return (*chosen, *sizes)


def _pair_answers(pair: Pair) -> Iterator[tuple[Choice, str]]:
    for choice in PAIR_CHOICES:
        value = pair_value(pair, choice.key)
        if value:
            yield choice, answer_words(choice, value)


def pair_value(pair: Pair, key: str) -> str:
    """One answer of a pair as text, wherever the pair keeps it; empty where there is none."""
    if key in ("segment_shape", "segment_diameter"):
        part = getattr(pair.segment, key.removeprefix("segment_"), None)
    else:
        part = getattr(pair, key, None)
    if part is None:
        return pair.choices.get(key, "")
    return show_number(part) if isinstance(part, float | int) else str(part)


def cover_words(finding: CoverFinding | None) -> str:
    """A cover test at one distance in one line; empty where it was not tested."""
    if finding is None:
        return ""
    size = f"{show_number(finding.size)} prism dioptres" if finding.size is not None else ""
    spectacles = {True: "with spectacles", False: "without spectacles", None: ""}[finding.with_spectacles]
    eye = {"R": "right eye", "L": "left eye", "alternating": "either eye"}.get(finding.eye or "", "")
    recovery = f"recovery {finding.recovery}" if finding.recovery else ""
    known = {
        "yes": "known to the prescriber",
        "no": "not known to the prescriber",
        "not_known": "not known whether the prescriber knows",
    }
    parts = (
        CHOICES["finding"].words(finding.finding).partition(":")[0],
        eye,
        finding.direction,
        finding.size_words,
        size,
        recovery,
        finding.constancy,
        spectacles,
        known.get(finding.known or ""),
        finding.note,
    )
    return ", ".join(part for part in parts if part)


def eye_rows(prescription: Prescription | None) -> tuple[EyeRow, EyeRow]:
    """Both eyes as written, right first; blank where there is nothing."""
    right, left = (_eye_row(side, prescription.eye(side) if prescription else None) for side in SIDES)
    return right, left


def _eye_row(side: Side, eye: EyePrescription | None) -> EyeRow:
    if eye is None:
        return EyeRow(side=side)
    return EyeRow(
        side=side,
        sphere=power(eye.sphere),
        cylinder=power(eye.cylinder) if eye.cylinder else "",
        axis=show_number(eye.axis) if eye.cylinder and eye.axis is not None else "",
        add=power(eye.add) if eye.add is not None else "",
        prism=prism_words(eye.prism),
    )


def prism_words(prisms: Iterable[Prism]) -> str:
    """Prism with its base in words, never by a sign."""
    return " and ".join(
        f"{show_number(prism.amount)} " + (f"base {prism.base}" if prism.base else "(base not given)")
        for prism in prisms
    )

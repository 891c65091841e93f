"""Which dotted path names which detail of a fitting, and in what words it is called."""

from app.catalogue.choice import Choice
from app.catalogue.choices import HISTORY_CHOICES, PAIR_CHOICES
from app.catalogue.choices_eyes import PRESCRIPTION_CHOICES
from app.catalogue.measurement import SIDE_WORDS, SIDES, Side
from app.fitting.details import (
    COVER_DETAILS,
    EYE_DETAILS,
    PAIR_DETAILS,
    PRESCRIPTION_DETAILS,
    PRISM_DETAILS,
    SEGMENT_DETAILS,
    TAKEN_DETAILS,
    Detail,
)

PAIR_NUMBERS = (1, 2)
KIND_OF_PAIR = {1: "handmade", 2: "own_frame"}
"""What a pair is where nothing was said: the order of the two pairs in this app."""
DISTANCES = ("distance", "near")
PRESCRIPTION_HOLDERS = ("prescription", *(f"pair.{number}.prescription" for number in PAIR_NUMBERS))
MOST_PRISMS = 4
"""Prism components of one eye: one sideways and one up or down, and room for a prescription that splits them."""


HISTORY_QUESTIONS: dict[str, Choice] = {
    choice.key: choice for choice in (*HISTORY_CHOICES, *PRESCRIPTION_CHOICES) if choice.key != "base"
}
"""Questions whose answers stand in a fitting's history; the base of a prism stands in the prescription."""
DETAILS_OF_PAIR = {
    *(detail.key for detail in PAIR_DETAILS),
    *(f"segment_{detail.key}" for detail in SEGMENT_DETAILS),
}
PAIR_QUESTIONS: dict[str, Choice] = {
    choice.key: choice for choice in PAIR_CHOICES if choice.key not in DETAILS_OF_PAIR
}
"""Questions whose answers stand among a pair's choices, since the pair has no attribute for them."""


class UnknownField(KeyError):
    """There is no field of that path."""

    def __str__(self) -> str:
        return f"A fitting has no field called “{self.args[0]}”."


def detail_at(path: str) -> Detail | Choice:
    """What a path names. Raises UnknownField.

    >>> detail_at("prescription.R.prism.1.base").label
    'Base'
    """
    found = _detail_at(path.split("."))
    if found is None:
        raise UnknownField(path)
    return found


def label_at(path: str) -> str:
    """The field in words, with eye and pair, for messages far from its box.

    >>> label_at("pair.2.prescription.L.sphere")
    "Pair 2, patient's left, Sphere"
    """
    words = []
    steps = path.split(".")
    if steps[0] == "pair":
        words.append(f"Pair {steps[1]}")
    if steps[0] == "cover_test":
        words.append(f"Cover test, {steps[1]}")
    side: Side | None = next((known for known in SIDES if known in steps), None)
    if side is not None:
        words.append(SIDE_WORDS[side])
    return ", ".join([*words, detail_at(path).label])


def _detail_at(steps: list[str]) -> Detail | Choice | None:
    match steps:
        case ["taken", key]:
            return _of(TAKEN_DETAILS, key)
        case ["history", choice]:
            return HISTORY_QUESTIONS.get(choice)
        case ["cover_test", distance, key] if distance in DISTANCES:
            return _of(COVER_DETAILS, key)
        case ["prescription", *rest]:
            return _in_prescription(rest)
        case ["pair", number, *rest] if number in map(str, PAIR_NUMBERS):
            return _in_pair(rest)
    return None


def _in_prescription(steps: list[str]) -> Detail | None:
    match steps:
        case [key]:
            return _of(PRESCRIPTION_DETAILS, key)
        case [side, key] if side in SIDES:
            return _of(EYE_DETAILS, key)
        case [side, "prism", number, key] if side in SIDES and number in map(str, range(1, MOST_PRISMS + 1)):
            return _of(PRISM_DETAILS, key)
    return None


def _in_pair(steps: list[str]) -> Detail | Choice | None:
    match steps:
        case [key]:
            return _of(PAIR_DETAILS, key)
        case ["segment", key]:
            return _of(SEGMENT_DETAILS, key)
        case ["choices", choice]:
            return PAIR_QUESTIONS.get(choice)
        case ["prescription", *rest]:
            return _in_prescription(rest)
    return None


def _of(details: tuple[Detail, ...], key: str) -> Detail | None:
    return next((detail for detail in details if detail.key == key), None)

"""Which dotted path names which part of a fitting, and in what words it is called."""

from app.catalogue.choice import Choice
from app.catalogue.choices import CHOICES
from app.catalogue.measurement import SIDE_WORDS, SIDES, Side
from app.fitting.parts import (
    COVER_PARTS,
    EYE_PARTS,
    PAIR_PARTS,
    PRESCRIPTION_PARTS,
    PRISM_PARTS,
    SEGMENT_PARTS,
    TAKEN_PARTS,
    Part,
)

PAIR_NUMBERS = (1, 2)
DISTANCES = ("distance", "near")
PRESCRIPTION_HOLDERS = ("prescription", *(f"pair.{number}.prescription" for number in PAIR_NUMBERS))
MOST_PRISMS = 4
"""Prism components of one eye: one sideways and one up or down, and room for a prescription that splits them."""


class UnknownField(KeyError):
    """There is no field of that path."""

    def __str__(self) -> str:
        return f"A fitting has no field called “{self.args[0]}”."


def part_at(path: str) -> Part | Choice:
    """What a path names. Raises UnknownField.

    >>> part_at("prescription.R.prism.1.base").label
    'Base'
    """
    found = _part_at(path.split("."))
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
    return ", ".join([*words, part_at(path).label])


def _part_at(steps: list[str]) -> Part | Choice | None:
    match steps:
        case ["taken", key]:
            return _of(TAKEN_PARTS, key)
        case ["history", choice]:
            return CHOICES.get(choice)
        case ["cover_test", distance, key] if distance in DISTANCES:
            return _of(COVER_PARTS, key)
        case ["prescription", *rest]:
            return _in_prescription(rest)
        case ["pair", number, *rest] if number in map(str, PAIR_NUMBERS):
            return _in_pair(rest)
    return None


def _in_prescription(steps: list[str]) -> Part | None:
    match steps:
        case [key]:
            return _of(PRESCRIPTION_PARTS, key)
        case [side, key] if side in SIDES:
            return _of(EYE_PARTS, key)
        case [side, "prism", number, key] if side in SIDES and number in map(str, range(1, MOST_PRISMS + 1)):
            return _of(PRISM_PARTS, key)
    return None


def _in_pair(steps: list[str]) -> Part | Choice | None:
    match steps:
        case [key]:
            return _of(PAIR_PARTS, key)
        case ["segment", key]:
            return _of(SEGMENT_PARTS, key)
        case ["choices", choice]:
            return CHOICES.get(choice)
        case ["prescription", *rest]:
            return _in_prescription(rest)
    return None


def _of(parts: tuple[Part, ...], key: str) -> Part | None:
    return next((part for part in parts if part.key == key), None)

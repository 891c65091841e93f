"""Fingerprints: the values that a finding was found on, in one line of text, and the readings read back from it."""

from collections.abc import Iterable, Iterator

from app.catalogue.catalogue import MEASUREMENTS
from app.catalogue.measurement import SIDES, Side
from app.fitting.entry import show_number
from app.plausibility.finding import Subject
from app.plausibility.value import Stated, Value

BETWEEN, EQUALS, PAIR = ";", "=", "pair "


def fingerprint_of(leaves: Iterable[Value | Stated]) -> str:
    """Each value with its place: `head_width=168;temple_width=154`."""
    return BETWEEN.join(
        f"{place_of(leaf.subject)}{EQUALS}{show_number(leaf.number) if isinstance(leaf, Value) else leaf.words}"
        for leaf in leaves
    )


def place_of(subject: Subject) -> str:
    """A subject as it stands in a fingerprint: `pd_monocular.R`, `lens_width.pair 2`."""
    parts = [subject.measurement, subject.side, subject.method]
    if subject.pair is not None:
        parts.append(f"{PAIR}{subject.pair}")
    return ".".join(part for part in parts if part)


def readings_in(fingerprint: str) -> tuple[tuple[Subject, str], ...]:
    """The readings of a fingerprint with their values as written; empty where it rests on anything else besides."""
    found = tuple(_readings(fingerprint))
    return found if len(found) == len(fingerprint.split(BETWEEN)) else ()


def _readings(fingerprint: str) -> Iterator[tuple[Subject, str]]:
    for part in fingerprint.split(BETWEEN):
        place, equals, number = part.rpartition(EQUALS)
        names = place.split(".")
        if equals and names[0] in MEASUREMENTS:
            yield _subject(names), number


def _subject(names: list[str]) -> Subject:
    side: Side | None = next((one for one in SIDES if one in names[1:]), None)
    pair = next((int(name.removeprefix(PAIR)) for name in names[1:] if name.startswith(PAIR)), None)
    method = next((name for name in names[1:] if name not in SIDES and not name.startswith(PAIR)), None)
    return Subject(measurement=names[0], side=side, pair=pair, method=method)

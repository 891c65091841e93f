"""The eyes of every prescription of a fitting, and a power as a value that findings can point at."""

from collections.abc import Iterator

from app.catalogue.measurement import SIDES, Side
from app.fitting.prescription import EyePrescription
from app.plausibility.facts import Facts
from app.plausibility.finding import Subject
from app.plausibility.value import Value

READ_BACK = "Read it back from the paper, one eye at a time."
QUERY = "Ask the prescriber before ordering."


def eyes_of(facts: Facts) -> Iterator[tuple[str, Side, EyePrescription]]:
    """Each eye of each prescription once: the part of the record that it stands in, its side, and its powers."""
    for path, prescription in facts.prescriptions:
        for side in SIDES:
            eye = prescription.eye(side)
            if eye is not None:
                yield path, side, eye


def power_value(path: str, side: Side, part: str, number: float, unit: str = "D") -> Value:
    """A power as written: sphere, cylinder, add or prism of one eye."""
    return Value(subject=Subject(measurement=f"{path}.{side}.{part}", side=side), number=number, unit=unit)

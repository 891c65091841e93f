"""Likely slips: which slip of the hand would turn a doubted reading into one that the others expect."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import exp, pi, sqrt

from app.catalogue.catalogue import MEASUREMENTS
from app.catalogue.measurement import Measurement
from app.fitting.entry import show_number
from app.plausibility.finding import Offer, Subject

MILLIMETRES_IN_AN_INCH = 25.4
"""International inch, 1959."""
FITS_WITHIN_SDS = 2.0
"""A slip explains a reading where the value meant lies within this many SDs of the expectation. Judgement."""
SHARE_OF_EACH_SLIP = 0.04
"""How often one named slip is behind a wrong reading, against gross errors of any size. Judgement: there are
about ten, and about half of all wrong readings are not one of them."""
SHARE_GROSS = 0.6
FARTHEST_SDS = 6.0
"""A guess further off than this adds nothing."""
MOST_OFFERS = 3


@dataclass(frozen=True, slots=True)
class Guess:
    """A value that was perhaps meant, and the slip in words."""

    slip: str
    meant: float

    def words(self, value: float) -> str:
        """The question for the person, with the value meant and the value typed."""
        return f"{self.slip}? {show_number(self.meant)}, not {show_number(value)}"


def guesses(measurement: Measurement, value: float) -> Iterator[Guess]:
    """Every value that a slip with one reading alone would have come from.

    Digits exchanged, decimal point, centimetres or inches for millimetres, the lost sign, the whole angle
    for half, the angle from the other line, diameter for radius. Source: common practice, the slips that
    people make.
    """
    for meant in exchanged_digits(value):
        yield Guess("Digits exchanged", meant)
    if measurement.unit == "deg":
        yield Guess("The whole angle for half", value / 2)
        yield Guess("Read from the other line", 90 - value)
    else:
        yield Guess("Centimetres, or the decimal point", round(value * 10, 4))
        inches = round(value * MILLIMETRES_IN_AN_INCH / measurement.scale_step) * measurement.scale_step
        yield Guess("Inches", round(inches, 4))
    yield Guess("The decimal point", round(value / 10, 4))
    if measurement.signed and value:
        yield Guess("The other sign", -value)
    if measurement.key == "apical_radius":
        yield Guess("A diameter for the radius", value / 2)


def exchanged_digits(value: float) -> tuple[float, ...]:
    """The numbers that arise when two neighbouring digits change places; the decimal point stays.

    >>> exchanged_digits(120.0), exchanged_digits(61.5)
    ((210.0, 102.0), (16.5, 65.1))
    """
    text = f"{abs(value):.4f}".rstrip("0").rstrip(".")
    places = [place for place, letter in enumerate(text) if letter != "."]
    found = []
    for first, second in pairwise(places):
        letters = list(text)
        letters[first], letters[second] = letters[second], letters[first]
        number = float("".join(letters)) * (-1 if value < 0 else 1)
        if number != value:
            found.append(number)
    return tuple(found)


def explanation_density(
    subject: Subject, *, value: float, mean: float, sd: float, typed_again: bool = False
) -> float:
    """How well some error of this reading explains it, as a density in 1/unit: named slips, and gross errors.

    Σ share · N(value meant; mean, sd) + share of gross errors / width of what is believed at all; for the
    value of the box before typed again, share / step. It decides, with the reading's deviation, which of
    several readings that disagree is the wrong one.
    """
    declared = MEASUREMENTS[subject.measurement]
    believed = declared.adult.stop
    density = SHARE_GROSS / (believed.high - believed.low)
    if typed_again:
        density += SHARE_OF_EACH_SLIP / declared.scale_step
    for guess in guesses(declared, value):
        off = (guess.meant - mean) / sd
        if abs(off) < FARTHEST_SDS:
            density += SHARE_OF_EACH_SLIP * exp(-(off**2) / 2) / (sd * sqrt(2 * pi))
    return density


def offers_for(
    subject: Subject,
    *,
    value: float,
    mean: float,
    sd: float,
    others: tuple[tuple[Subject, float], ...] = (),
) -> tuple[Offer, ...]:
    """Slips that would explain a reading, likeliest first: by itself, or a value that stands in another box too.

    `others` are the readings of the same fitting with their values: a value equal to one of them, where the
    expectation is another, was perhaps typed again.
    """
    fitting_guesses = sorted(
        (
            (abs(guess.meant - mean), guess)
            for guess in guesses(MEASUREMENTS[subject.measurement], value)
            if abs(guess.meant - mean) <= FITS_WITHIN_SDS * sd and guess.meant != value
        ),
        key=lambda found: found[0],
    )
    found = [
        Offer(words=guess.words(value), corrections=((subject, guess.meant),)) for _, guess in fitting_guesses
    ]
    found += _other_boxes(subject, value, others)
    return tuple(found[:MOST_OFFERS])


def _other_boxes(
    subject: Subject, value: float, others: tuple[tuple[Subject, float], ...]
) -> Iterator[Offer]:
    """The PD typed in the near box, or the value of another box typed again."""
    unit = MEASUREMENTS[subject.measurement].unit
    for other, number in others:
        same_thing = other.measurement == subject.measurement
        if number != value or same_thing or MEASUREMENTS[other.measurement].unit != unit:
            continue
        label = MEASUREMENTS[other.measurement].label
        yield Offer(words=f"The value of “{label}” typed again? Both are {show_number(value)}")
        return

"""Slips of the hand: which slip would explain a number that cannot be right, and numbers that look copied."""

from collections.abc import Iterator
from itertools import pairwise

from app.catalogue.measurement import Measurement, Range
from app.fitting.entry import on_scale_step, show_number
from app.plausibility.check import Seen, check
from app.plausibility.facts import Facts, declared
from app.plausibility.finding import Offer, Severity, Subject
from app.plausibility.value import Value

MOST_OFFERS = 3
MILLIMETRES_IN_AN_INCH = 25.4
PAIRED_AT_LEAST = 4
"""So many two-sided measurements at least before “all equal” says anything. Common practice."""
SINGLE_EYE_PD = Range(25.0, 40.0)
"""A PD in this range may be one eye's, or have its digits exchanged: 36 for 63. Common practice."""

Guess = tuple[float, str]
"""A value that a slip would have come from, and the slip in words."""


def guess_slip(
    measurement: Measurement, value: float, child: bool, subject: Subject | None = None
) -> tuple[Offer, ...]:
    """The values that were probably meant, likeliest first; none where the value is believable as it stands.

    Tried: centimetres typed as millimetres, a decimal point lost or added, two neighbouring digits exchanged,
    inches, a lost sign, an angle read from the other line or across both sides. A guess counts only where it
    lands in the usual range, or failing that in the range that is not questioned, on the step of the scale.
    Source: common practice; these are the slips that people make.
    """
    limits = measurement.limits(child=child)
    if limits.ask.holds(value):
        return ()
    about = subject or Subject(measurement=measurement.key)
    guesses = [guess for guess in _guesses(measurement, value) if on_scale_step(measurement, guess[0])]
    believable = [guess for guess in guesses if limits.usual.holds(guess[0])]
    believable += [guess for guess in guesses if limits.ask.holds(guess[0]) and guess not in believable]
    offers: dict[float, Offer] = {}
    for meant, slip in believable:
        offers.setdefault(meant, Offer(words=_words(meant, slip), corrections=((about, meant),)))
    return tuple(offers.values())[:MOST_OFFERS]


def _words(meant: float, slip: str) -> str:
    if slip == "digits":
        return exchanged_words(meant)
    return f"Did you mean {show_number(meant)}?" + (f" ({slip})" if slip else "")


def exchanged_words(meant: float) -> str:
    """The words of an offer to exchange two digits; the value offered comes first, since it stands on a button.

    >>> exchanged_words(63.0)
    '63? (digits exchanged)'
    """
    return f"{show_number(meant)}? (digits exchanged)"


def _guesses(measurement: Measurement, value: float) -> Iterator[Guess]:
    if measurement.unit == "deg":
        yield from _angle_guesses(value)
    else:
        yield round(value * 10, 4), "centimetres?" if measurement.unit == "mm" and value >= 2 else ""
        yield round(value / 10, 4), ""
    for exchanged in neighbouring_digits_exchanged(value):
        yield exchanged, "digits"
    if measurement.signed:
        yield -value, "the other sign?"
    if measurement.unit != "deg":
        inches = round(value * MILLIMETRES_IN_AN_INCH / measurement.scale_step) * measurement.scale_step
        yield round(inches, 4), "inches?"


def _angle_guesses(value: float) -> Iterator[Guess]:
    yield 90 - value, "read from the other line?"
    yield 180 - value, "the supplement?"
    yield value / 2, "both sides together?"
    yield round(value * 10, 4), ""
    yield round(value / 10, 4), ""


def neighbouring_digits_exchanged(value: float) -> tuple[float, ...]:
    """The numbers that arise when two neighbouring digits change places; the decimal point stays.

    >>> neighbouring_digits_exchanged(120.0)
    (210.0, 102.0)
    >>> neighbouring_digits_exchanged(36.0)
    (63.0,)
    """
    text = f"{abs(value):.4f}".rstrip("0").rstrip(".")
    sign = -1 if value < 0 else 1
    places = [place for place, letter in enumerate(text) if letter != "."]
    found = []
    for first, second in pairwise(places):
        letters = list(text)
        letters[first], letters[second] = letters[second], letters[first]
        number = sign * float("".join(letters))
        if number != value:
            found.append(number)
    return tuple(found)


@check(
    "single-eye-in-pd-box",
    family="slips",
    title="One eye's PD in the PD box",
    looks_at="a PD, or a PD with the pair on, of 25 to 40 mm",
    why="So small a PD is usually one eye's, or has its digits exchanged (36 for 63).",
    limits="ask from 25 to 40 mm, unless the patient is a child for whom that is not questioned",
    suggest="Look at the instrument again: is this one eye, or are the digits exchanged?",
    cost="Lenses centred to half a PD come back unwearable.",
    source="common practice",
    severities=(Severity.ASK,),
)
def single_eye_in_pd_box(facts: Facts) -> Iterator[Seen]:
    """One eye's PD typed where both belong."""
    boxes = [*facts.all("pd_distance"), *facts.all("pd_near")]
    boxes += [worn for pair in facts.pairs if (worn := pair.reading("pd_worn")) is not None]
    for value in boxes:
        limits = facts.limits(value.subject.measurement)
        if not SINGLE_EYE_PD.holds(value.number) or limits.ask.holds(value.number):
            continue
        offers = guess_slip(declared(value), value.number, facts.child, value.subject)
        yield Seen(
            severity=Severity.ASK,
            on=(value,),
            message=f"A PD of {value} is about what one eye alone measures.",
            suspect=value.subject,
            offers=(*offers, Offer(words="One eye's PD typed here?")),
        )


@check(
    "both-sides-equal",
    family="slips",
    title="Right and left equal everywhere",
    looks_at="every reading that was taken right and left",
    why="Few faces are the same on both sides in everything; equal numbers are often copied, not measured.",
    limits="note where four or more measurements were taken on both sides and every one is equal",
    suggest="Say whether both sides were measured.",
    cost="A side that was copied fits only the side that was measured.",
    source="common practice; small differences between right and left are the rule (Arenas and others 2014, "
    "doi 10.1155/2014/347826: 79 % have unequal single-eye PDs)",
    severities=(Severity.NOTE,),
)
def both_sides_equal(facts: Facts) -> Iterator[Seen]:
    """Every paired reading has R equal to L."""
    sided = {(one.measurement, one.pair) for one in facts.working if one.side is not None}
    found: list[tuple[Value, Value]] = []
    for measurement, pair in sorted(sided, key=lambda key: (key[1] or 0, key[0])):
        both = facts.both(measurement, pair=pair)
        if both is None:
            continue
        if both[0].number != both[1].number:
            return
        found.append(both)
    if len(found) >= PAIRED_AT_LEAST:
        yield Seen(
            severity=Severity.NOTE,
            on=tuple(value for both in found for value in both),
            message=f"All {len(found)} measurements that were taken on both sides are equal right and left.",
            about=tuple(
                Subject(measurement=both[0].subject.measurement, pair=both[0].subject.pair) for both in found
            ),
        )


def exchanged_offers(right: Value, left: Value, suspect: Subject | None = None) -> tuple[Offer, ...]:
    """Offers where one side is the other with two neighbouring digits exchanged: 120 for 102."""
    if left.number not in neighbouring_digits_exchanged(right.number):
        return ()
    return tuple(
        Offer(
            words=exchanged_words(meant.number),
            corrections=((wrong.subject, meant.number),),
        )
        for wrong, meant in ((right, left), (left, right))
        if suspect in (None, wrong.subject)
    )

"""Reading one value as a person types it, and showing a stored value back to people."""

from dataclasses import dataclass
from fractions import Fraction

from app.catalogue.measurement import UNIT_WORDS, Measurement, SignWords
from app.fitting.written_number import (
    LONGEST,
    EnteredUnit,
    NotWritten,
    WrittenNumber,
    plain_text,
    quoted,
    read_written_number,
)

TEN_THOUSANDTHS = 10_000
"""Readings are whole numbers of one ten-thousandth: 1/16 inch is 1.5875 mm exactly (an inch is 25.4 mm)."""
FINEST_INCH_DENOMINATOR = 16
"""Finest division of an inch scale that is read. Common practice."""
ABSURD_FACTOR = 20
"""Beyond this many times the limit of belief nothing is offered, it is refused. Ours: a slip by ten is 10 times."""

UNITS_ENTERED: dict[str, tuple[EnteredUnit, ...]] = {
    "mm": ("mm", "cm", "in"),
    "cm": ("cm", "mm", "in"),
    "deg": ("deg",),
}
"""Units that a reading may be entered in, by the measurement's own unit."""
MILLIMETRES: dict[str, Fraction] = {"mm": Fraction(1), "cm": Fraction(10), "in": Fraction(254, 10)}
"""Exact by definition (international inch, 1959)."""
ENTERED_UNIT_WORDS: dict[str, str] = {"mm": "mm", "cm": "cm", "in": "in", "deg": "degrees"}


class NotUsable(ValueError):
    """The text cannot be this reading. The message is for the person who typed it and ends with an example."""

    def __init__(self, message: str, example: str) -> None:
        super().__init__(message)
        self.message = message
        self.example = example


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A value read. `value` is in the measurement's own unit and a whole number of ten-thousandths.

    `text` is what was entered; a unit or sign word that was chosen beside the box is written into it, so that
    reading `text` again gives the same value. `unit` is the unit it was entered in. `notes` are for the person.
    """

    value: float
    text: str
    unit: EnteredUnit
    notes: tuple[str, ...] = ()


def read_entry(
    measurement: Measurement, text: str, unit: str | None = None, sign_word: str | None = None
) -> Entry:
    """Reads a typed value: decimal point or comma, common fraction, unit, sign or sign word.

    `unit` is the unit chosen beside the box, if any; `sign_word` is "plus", "level", "minus" or one of the
    measurement's own sign words. Centimetres and inches are converted exactly, never rounded.
    Raises NotUsable with a message in the user's words.
    """
    typed = text.strip()
    direction = _direction(measurement, plain_text((sign_word or "")[:LONGEST]), typed)
    word_of_text = _direction_of_word(measurement.sign_words, plain_text(typed))
    if word_of_text == "level" or (direction == "level" and not typed):
        return Entry(value=0.0, text=typed or _level_word(measurement), unit=_own_unit(measurement))
    written = _written(measurement, typed)
    sign = _sign(measurement, written, direction, typed)
    entered_unit = _unit(measurement, written, unit, typed)
    value = sign * _ten_thousandths(measurement, written, entered_unit, typed) / TEN_THOUSANDTHS
    _refuse_absurd(measurement, value, typed)
    return Entry(
        value=value + 0.0,  # −0 is shown as 0
        text=_full_text(measurement, typed, written, unit, direction),
        unit=entered_unit,
        notes=_notes(measurement, value, typed, entered_unit),
    )


def lacks_direction(measurement: Measurement, text: str, sign_word: str | None) -> bool:
    """True where a number other than 0 was typed with neither sign nor word, and could go either way.

    For measurements with sign words only: “2” may be in front or behind, and a slip would not show. A tablet
    asks then; in a fitting file a number without a sign is plus. Text that cannot be read lacks nothing.
    """
    words = measurement.sign_words
    if words is None or (sign_word or "").strip():
        return False
    if _direction_of_word(words, plain_text(text[:LONGEST])) is not None:
        return False
    try:
        written = read_written_number(text.strip())
    except NotWritten:
        return False
    return written.number != 0 and written.sign is None and not written.words


def show_value(measurement: Measurement, value: float) -> str:
    """The value for people, without its unit: a true minus sign (U+2212), no needless zeros, four decimals at most.

    Works for any number in the measurement's unit, a mean of two readings too.
    """
    return show_number(value)


def show_number(value: float) -> str:
    """A number for people: true minus sign, no needless zeros, at most four decimals.

    >>> show_number(-3.50), show_number(62.0), show_number(-0.00001)
    ('−3.5', '62', '0')
    """
    shown = f"{abs(value):.4f}".rstrip("0").rstrip(".")
    return f"−{shown}" if value < 0 and shown != "0" else shown


def in_words(measurement: Measurement, value: float) -> str:
    """The value in the measurement's sign words ("inset 3.5", "level"), else with its unit ("62.5 mm")."""
    words = measurement.sign_words
    if words is None:
        space = "" if measurement.unit == "deg" else " "
        return f"{show_value(measurement, value)}{space}{UNIT_WORDS[measurement.unit]}"
    amount = show_number(abs(value))
    if amount == "0":
        return words.level
    return f"{words.plus if value > 0 else words.minus} {amount}"


def example_of(measurement: Measurement) -> str:
    """A believable value to show as an example: the middle of the usual range, on the scale step."""
    usual = measurement.adult.usual
    middle = (usual.low + usual.high) / 2
    steps = round(middle / measurement.scale_step)
    return (
        in_words(measurement, steps * measurement.scale_step)
        if measurement.sign_words
        else show_number(steps * measurement.scale_step)
    )


def _refusal(measurement: Measurement, why: str) -> NotUsable:
    example = example_of(measurement)
    return NotUsable(f"{measurement.label}: {why} Example: {example}.", example)


def _written(measurement: Measurement, typed: str) -> WrittenNumber:
    if not typed:
        raise _refusal(measurement, "nothing was typed.")
    try:
        return read_written_number(typed)
    except NotWritten as reason:
        raise _refusal(measurement, f"{quoted(typed)} {reason}.") from None


def _direction(measurement: Measurement, word: str, text: str) -> str | None:
    if not word:
        return None
    if word in ("plus", "+", "level", "minus", "-"):
        return {"+": "plus", "-": "minus"}.get(word, word)
    direction = _direction_of_word(measurement.sign_words, word)
    if direction is None:
        raise _refusal(
            measurement, f"{quoted(word)} does not say which way {quoted(text) if text else 'it'} goes."
        )
    return direction


def _direction_of_word(words: SignWords | None, word: str) -> str | None:
    if words is None or not word:
        return None
    spellings = {
        "plus": (words.plus, *words.plus_also),
        "level": (words.level, *words.level_also),
        "minus": (words.minus, *words.minus_also),
    }
    return next((key for key, known in spellings.items() if word in map(plain_text, known)), None)


def _level_word(measurement: Measurement) -> str:
    return measurement.sign_words.level if measurement.sign_words else "0"


def _own_unit(measurement: Measurement) -> EnteredUnit:
    return measurement.unit


def _sign(measurement: Measurement, written: WrittenNumber, chosen: str | None, typed: str) -> int:
    said = [chosen, {"+": "plus", "-": "minus"}.get(written.sign or "")]
    if written.words:
        said.append(_direction_of_word(measurement.sign_words, written.words))
        if said[-1] is None:
            raise _refusal(
                measurement, f"{quoted(typed)} has a word or unit that is not known here: {written.words}."
            )
    ways = {way for way in said if way}
    if len(ways) > 1 or (ways == {"level"} and written.number != 0):
        raise _refusal(measurement, f"{quoted(typed)} says two different things about which way it goes.")
    if ways == {"minus"} and not measurement.signed and written.number != 0:
        raise _refusal(
            measurement, f"{quoted(typed)} is below zero, which it can never be. Leave out the minus sign."
        )
    return -1 if ways == {"minus"} else 1


def _unit(measurement: Measurement, written: WrittenNumber, chosen: str | None, typed: str) -> EnteredUnit:
    allowed = UNITS_ENTERED[measurement.unit]
    if chosen and written.unit and chosen != written.unit:
        raise _refusal(measurement, f"{quoted(typed)} names a unit other than {chosen}, the one chosen.")
    for known in allowed:
        if known == (written.unit or chosen or measurement.unit):
            return known
    *first, last = (ENTERED_UNIT_WORDS[known] for known in allowed)
    choice = f"{', '.join(first)} or {last}" if first else last
    other = ENTERED_UNIT_WORDS.get(written.unit or "", chosen)
    raise _refusal(measurement, f"it is measured in {choice}, not in {other}.")


def _ten_thousandths(measurement: Measurement, written: WrittenNumber, unit: EnteredUnit, typed: str) -> int:
    if unit == "in" and written.fraction and written.denominator > FINEST_INCH_DENOMINATOR:
        raise _refusal(measurement, f"{quoted(typed)} is finer than a sixteenth of an inch. Type it in mm.")
    exact = written.number * TEN_THOUSANDTHS
    if unit != measurement.unit:
        exact = exact * MILLIMETRES[unit] / MILLIMETRES[measurement.unit]
    if exact.denominator != 1:
        own = ENTERED_UNIT_WORDS[measurement.unit]
        raise _refusal(
            measurement,
            f"{quoted(typed)} has more than four decimals in {own}. Type it as read from the scale.",
        )
    return exact.numerator


def _refuse_absurd(measurement: Measurement, value: float, typed: str) -> None:
    low, high = _limits_of_belief(measurement)
    if abs(value) > ABSURD_FACTOR * max(abs(low), abs(high)):
        unit = ENTERED_UNIT_WORDS[measurement.unit]
        between = f"{show_number(low)} to {show_number(high)} {unit}"
        raise _refusal(measurement, f"{quoted(typed)} cannot be right; it lies somewhere from {between}.")


def _limits_of_belief(measurement: Measurement) -> tuple[float, float]:
    ranges = [measurement.adult.stop] + ([measurement.child.stop] if measurement.child else [])
    return min(limit.low for limit in ranges), max(limit.high for limit in ranges)


def greatest_number_entered(measurement: Measurement) -> float:
    """The greatest number that is taken in any of its units: in mm for a length kept in cm."""
    own = MILLIMETRES.get(measurement.unit, Fraction(1))
    smallest = min(MILLIMETRES.get(unit, Fraction(1)) for unit in UNITS_ENTERED[measurement.unit])
    return float(ABSURD_FACTOR * max(map(abs, _limits_of_belief(measurement))) * own / smallest)


def _full_text(
    measurement: Measurement, typed: str, written: WrittenNumber, unit: str | None, direction: str | None
) -> str:
    text = typed if written.unit or unit in (None, measurement.unit) else f"{typed} {unit}"
    if direction in ("plus", "minus") and written.sign is None and not written.words and written.number != 0:
        words = measurement.sign_words
        signs = {"plus": "+", "minus": "−"} if words is None else {"plus": words.plus, "minus": words.minus}
        return f"{signs[direction]} {text}"
    return text


def _notes(measurement: Measurement, value: float, typed: str, unit: EnteredUnit) -> tuple[str, ...]:
    own = ENTERED_UNIT_WORDS[measurement.unit]
    off_step = f"kept as entered; the scale is read to {show_number(measurement.scale_step)}"
    notes = []
    if unit != measurement.unit:
        entered = (
            typed if any(letter.isalpha() or letter in "\"'″" for letter in typed) else f"{typed} {unit}"
        )
        notes.append(f"{entered} is {show_number(value)} {own}")
    if not on_scale_step(measurement, value):
        notes.append(off_step)
    return tuple(notes)


def on_scale_step(measurement: Measurement, value: float) -> bool:
    """True where the value is a whole number of scale steps, compared in ten-thousandths."""
    step = round(measurement.scale_step * TEN_THOUSANDTHS)
    return step <= 0 or round(value * TEN_THOUSANDTHS) % step == 0

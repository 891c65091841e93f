"""One single-valued detail as text: read from what a person typed, and written so that it reads back the same."""

from collections.abc import Callable, Iterable
from decimal import Decimal

from app.catalogue.choice import Choice
from app.fitting.details import Detail
from app.fitting.entry import MILLIMETRES, TEN_THOUSANDTHS, NotUsable
from app.fitting.written_date import NotADate, read_date
from app.fitting.written_number import NotWritten, WrittenNumber, plain_text, quoted, read_written_number

DetailValue = str | float | bool

NO_POWER = frozenset({"plano", "plan", "pl", "∞", "0"})
"""Ways in which no power is written on a prescription. Common practice."""
POWER_WORDS = frozenset({"", "d", "ds", "dc", "sph", "cyl", "dioptre", "dioptres", "add"})
SEVERAL_ANSWERS_SEPARATOR = ","
"""Between the keys of a question that takes several answers."""
UNITS_OF_DETAIL = {"mm": ("mm", "cm", "in"), "deg": ("deg",)}


def read_detail(detail: Detail, text: str) -> DetailValue:
    """The value that a text gives to a detail. Raises NotUsable with a message for the person."""
    read: dict[str, Callable[[Detail, str], DetailValue]] = {
        "words": lambda _, words: words,
        "number": _read_number,
        "power": _read_power,
        "yes_no": _read_yes_no,
        "date": _read_date,
        "one_of": _read_one_of,
    }
    return read[detail.kind](detail, text.strip())


def write_detail(detail: Detail, value: DetailValue) -> str:
    """The text of a value, in a form that `read_detail` reads as the same value."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return value
    return power_text(value) if detail.kind == "power" else number_text(value)


def number_text(value: float) -> str:
    """A number with a plain minus sign and no needless zeros, as files and boxes hold it.

    >>> number_text(61.50), number_text(-2.0), number_text(0.125)
    ('61.5', '-2', '0.125')
    """
    text = f"{Decimal(repr(float(value))):f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def power_text(value: float) -> str:
    """A power as prescriptions write it: always a sign, at least two decimals.

    >>> power_text(2.0), power_text(-0.125), power_text(0.0)
    ('+2.00', '-0.125', '+0.00')
    """
    whole, _, decimals = number_text(abs(value)).partition(".")
    return f"{'-' if value < 0 else '+'}{whole}.{decimals.ljust(2, '0')}"


def outside_sense(detail: Detail, value: DetailValue) -> str | None:
    """A message where a number is beyond what it could ever be, else None."""
    if detail.possible is None or isinstance(value, str | bool) or detail.possible.holds(value):
        return None
    low, high = number_text(detail.possible.low), number_text(detail.possible.high)
    unit = f" {UNIT_IN_WORDS.get(detail.unit, detail.unit)}" if detail.unit else ""
    return f"{detail.label}: it lies from {low} to {high}{unit}. Example: {detail.example}."


def choice_refusal(choice: Choice, text: str) -> str | None:
    """A message where an answer is none of those offered, contradicts another, or is no date; else None."""
    if choice.date:
        return _date_refusal(choice, text)
    if not choice.options:
        return None
    known = {key for key, _ in choice.options}
    answers = text.split(SEVERAL_ANSWERS_SEPARATOR) if choice.several else [text]
    wrong = [answer.strip() for answer in answers if answer.strip() not in known]
    if wrong:
        words = "; ".join(words for _, words in choice.options)
        return f"{choice.label}: {quoted(wrong[0])} is not one of these answers: {words}."
    return _contradiction(choice, dict.fromkeys(answer.strip() for answer in answers))


def _date_refusal(choice: Choice, text: str) -> str | None:
    try:
        read_date(text)
    except NotADate as refusal:
        return f"{choice.label}: {refusal}"
    return None


def _contradiction(choice: Choice, answers: Iterable[str]) -> str | None:
    others = [choice.words(answer) for answer in answers if answer != choice.alone]
    if choice.alone not in answers or not others:
        return None
    return (
        f"{choice.label}: “{choice.words(choice.alone)}” and “{others[0]}” contradict each other. "
        "Untick one of them."
    )


def kept_as(detail: Detail | Choice, text: str) -> str:
    """The text as it is kept: a date that can be read as year-month-day, anything else as it was typed."""
    dated = detail.date if isinstance(detail, Choice) else detail.kind == "date"
    if not dated:
        return text
    try:
        return read_date(text)
    except NotADate:
        return text


UNIT_IN_WORDS = {"D": "dioptres", "deg": "degrees"}


def _refusal(detail: Detail, why: str) -> NotUsable:
    return NotUsable(f"{detail.label}: {why} Example: {detail.example}.", detail.example)


def _number(detail: Detail, text: str) -> tuple[float, WrittenNumber]:
    try:
        written = read_written_number(text)
    except NotWritten as reason:
        raise _refusal(detail, f"{quoted(text)} {reason}.") from None
    if written.unit is not None and written.unit not in UNITS_OF_DETAIL.get(detail.unit, ()):
        raise _refusal(detail, f"{quoted(text)} is in a unit that does not belong here.")
    exact = written.number * TEN_THOUSANDTHS
    if detail.unit == "mm" and written.unit is not None:
        exact *= MILLIMETRES[written.unit]
    if exact.denominator != 1:
        raise _refusal(detail, f"{quoted(text)} has more than four decimals.")
    return (-1 if written.sign == "-" else 1) * exact.numerator / TEN_THOUSANDTHS + 0.0, written


def _read_number(detail: Detail, text: str) -> float:
    value, written = _number(detail, text)
    if written.words:
        raise _refusal(detail, f"{quoted(text)} has words in it.")
    return value


def _read_power(detail: Detail, text: str) -> float:
    if plain_text(text) in NO_POWER:
        return 0.0
    value, written = _number(detail, text)
    if written.words not in POWER_WORDS:
        raise _refusal(detail, f"{quoted(text)} has words in it.")
    return value


def _read_yes_no(detail: Detail, text: str) -> bool:
    if plain_text(text) not in ("yes", "no"):
        raise _refusal(detail, f"{quoted(text)} is neither yes nor no.")
    return plain_text(text) == "yes"


def _read_date(detail: Detail, text: str) -> str:
    try:
        return read_date(text)
    except NotADate as refusal:
        raise NotUsable(f"{detail.label}: {refusal}", detail.example) from None


def _read_one_of(detail: Detail, text: str) -> str:
    if text not in detail.options:
        choices = ", ".join(option.replace("_", " ") for option in detail.options)
        raise _refusal(detail, f"{quoted(text)} is not one of {choices}.")
    return text

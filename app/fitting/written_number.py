"""The grammar of a typed reading: an optional word, a sign, a number or fraction, a unit; read exactly."""

import re
import unicodedata
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

EnteredUnit = Literal["mm", "cm", "in", "deg"]

UNIT_SPELLINGS: dict[str, EnteredUnit] = {
    "mm": "mm",
    "millimetre": "mm",
    "millimetres": "mm",
    "millimeter": "mm",
    "millimeters": "mm",
    "cm": "cm",
    "centimetre": "cm",
    "centimetres": "cm",
    "centimeter": "cm",
    "centimeters": "cm",
    "in": "in",
    "in.": "in",
    "inch": "in",
    "inches": "in",
    '"': "in",
    "''": "in",
    "°": "deg",
    "deg": "deg",
    "degree": "deg",
    "degrees": "deg",
}
LOOK_ALIKES = str.maketrans(
    {dash: "-" for dash in "\u2212\u2010\u2011\u2012\u2013\u2014\ufe63"}
    | {quote: '"' for quote in "\u2033\u201c\u201d"}
    | {quote: "'" for quote in "\u2032\u2019"}
    | {ring: "°" for ring in "\u00ba\u02da"}
    | {"\u066b": ".", "\u2044": "/", "\t": " "}
)
LONGEST = 80
"""Characters of one typed number with its sign, unit and words; ours. Python reads no number of 4300 digits."""
QUOTED_AT_MOST = 30
FULL_WIDTH = range(0xFF01, 0xFF5F)
FULL_WIDTH_OFFSET = 0xFEE0

WRITTEN = re.compile(
    r"""(?P<before>[a-z][a-z ]*?)?\s*
        (?P<sign>[+-])?\s*
        (?:(?:(?P<whole>\d+)\ )?(?P<over>\d+)\ ?/\ ?(?P<under>\d+)|(?P<decimal>\d+(?:[.,]\d+)?|[.,]\d+))\s*
        (?P<after>[a-z°"'][a-z .°"']*)?""",
    re.VERBOSE,
)


class NotWritten(ValueError):
    """The text is not one plain number; the message says what is wrong with it, without naming the reading."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WrittenNumber:
    """What a text says. `number` carries no sign; `words` are what stood beside it, unit taken out."""

    number: Fraction
    sign: Literal["+", "-"] | None
    unit: EnteredUnit | None
    words: str
    fraction: bool
    """Written as a common fraction such as 2 1/4."""
    denominator: int
    """As written: 16 for 2 4/16; 1 where no fraction was written."""


def plain_text(text: str) -> str:
    """The text in lower case with full-width figures, dashes, quotes and odd spaces in their plain form."""
    return " ".join("".join(_plain_character(character) for character in text).lower().split())


def quoted(text: str) -> str:
    """What was typed, in quotation marks, cut off where it is long: for messages.

    >>> quoted("6 2"), quoted("9" * 1000)
    ('“6 2”', '“999999999999999999999999999999…”')
    """
    return f"“{text}”" if len(text) <= QUOTED_AT_MOST else f"“{text[:QUOTED_AT_MOST]}…”"


def _plain_character(character: str) -> str:
    if unicodedata.category(character) == "Nd":
        return str(unicodedata.decimal(character))
    if ord(character) in FULL_WIDTH:
        return chr(ord(character) - FULL_WIDTH_OFFSET)
    # ½ and its like; superscripts are left alone, since 6² must never become 62
    if unicodedata.category(character) == "No" and "\u2044" in unicodedata.normalize("NFKC", character):
        return " " + unicodedata.normalize("NFKC", character).replace("\u2044", "/")
    if unicodedata.category(character) == "Zs":
        return " "
    return character.translate(LOOK_ALIKES)


def read_written_number(text: str) -> WrittenNumber:
    """Reads one number with its sign, unit and words, exactly; no rounding anywhere.

    Raises NotWritten, whose message says in plain words why the text is not one number.

    >>> read_written_number('2 1/4 in').number
    Fraction(9, 4)
    >>> read_written_number('− 62,5 mm').sign
    '-'
    """
    if len(text) > LONGEST:
        raise NotWritten("is too long to be one number")
    match = WRITTEN.fullmatch(plain_text(text))
    if match is None:
        raise NotWritten(_why_not(plain_text(text)))
    unit, words_after = _unit_and_words(match["after"] or "")
    denominator = int(match["under"] or 1)
    if denominator == 0:
        raise NotWritten("has a fraction with nothing under the line")
    number = (
        Fraction(match["decimal"].replace(",", "."))
        if match["decimal"]
        else int(match["whole"] or 0) + Fraction(int(match["over"]), denominator)
    )
    sign: Literal["+", "-"] | None = {"+": "+", "-": "-"}.get(match["sign"] or "")  # type: ignore[assignment]
    return WrittenNumber(
        number=number,
        sign=sign,
        unit=unit,
        words=" ".join(((match["before"] or "").strip() + " " + words_after).split()),
        fraction=match["over"] is not None,
        denominator=denominator,
    )


def _unit_and_words(after: str) -> tuple[EnteredUnit | None, str]:
    whole = after.strip()
    # "in front" begins like an inch; only a whole spelling counts, the longest first
    if whole in UNIT_SPELLINGS:
        return UNIT_SPELLINGS[whole], ""
    first, _, rest = whole.partition(" ")
    if first in UNIT_SPELLINGS and not whole.startswith("in front"):
        return UNIT_SPELLINGS[first], rest.strip()
    return None, whole


def _why_not(plain: str) -> str:
    if not re.search(r"\d", plain):
        return "is not a number"
    if re.search(r"\d*[.,]\d*[.,]", plain):
        return "has more than one decimal point"
    if re.search(r"\d[.,](?!\d)", plain):
        return "ends with a decimal point"
    if re.search(r"\d\s+[.,]?\d", plain):
        return "has two numbers in it"
    if re.search(r"[+-]\s*[+-]", plain):
        return "has two signs"
    return "is not a plain number"

"""A date read as people write it, and saying in their words what cannot be read."""

import re
from datetime import date

from app.fitting.written_number import plain_text, quoted

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
MONTH_NUMBER = {month.lower(): number for number, month in enumerate(MONTHS, start=1)}
EXAMPLE = "Write day, month and year: 30-05-1961, 30 May 1961 or 1961-05-30."

YEAR_FIRST = re.compile(r"(\d{4})[-/. ](\d{1,2})[-/. ](\d{1,2})")
DAY_FIRST = re.compile(r"(\d{1,2})[-/. ](\d{1,2})[-/. ](\d{2,4})")
RUN_TOGETHER = re.compile(r"(\d{2})(\d{2})(\d{4})")
IN_WORDS = re.compile(r"(\d{1,2})(?:st|nd|rd|th)?[-/., ]*([a-z]{3,9})\.?[-/., ]*(\d{2,4})")


class NotADate(ValueError):
    """The text is not a date that can be meant; the message says why and gives an example."""


def read_date(text: str) -> str:
    """A written date as ISO 8601.

    Raises NotADate. Day comes before month unless the year comes first.

    >>> read_date("30 May 1961"), read_date("30/5/1961"), read_date("1961-05-30")
    ('1961-05-30', '1961-05-30', '1961-05-30')
    """
    plain = plain_text(text)
    if match := YEAR_FIRST.fullmatch(plain):
        year, month, day = match.groups()
    elif match := DAY_FIRST.fullmatch(plain) or RUN_TOGETHER.fullmatch(plain):
        day, month, year = match.groups()
    elif match := IN_WORDS.fullmatch(plain):
        day, month, year = match[1], month_number(match[2], text), match[3]
    else:
        raise NotADate(f"{quoted(text.strip())} cannot be read as a date. {EXAMPLE}")
    return whole_date(text, year=year, month=month, day=day)


def month_number(word: str, text: str) -> str:
    """The number of a month by its name or its first letters."""
    number = MONTH_NUMBER.get(word[:3])
    if number is None:
        raise NotADate(f"{quoted(text.strip())} names no month. {EXAMPLE}")
    return str(number)


def whole_date(text: str, *, year: str, month: str, day: str) -> str:
    """The date of three written numbers, with words for each way in which they can be wrong."""
    if len(year) != 4:
        raise NotADate(
            f"Write the year with all four digits, so that nobody is a century too young. {EXAMPLE}"
        )
    if not 1 <= int(month) <= 12:
        raise NotADate(f"{quoted(text.strip())} has no month {int(month)}. {EXAMPLE}")
    try:
        return date(int(year), int(month), int(day)).isoformat()
    except ValueError:
        raise NotADate(f"{quoted(text.strip())}: that month has no day {int(day)}. {EXAMPLE}") from None

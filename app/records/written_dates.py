"""Dates of birth as people type them into a search box."""

import re
from datetime import date

from app.fitting.written_date import MONTH_NUMBER

_YEAR_FIRST = re.compile(r"(\d{4})[-/. ](\d{1,2})[-/. ](\d{1,2})")
_YEAR_LAST = re.compile(r"(\d{1,2})[-/. ](\d{1,2})[-/. ](\d{4}|\d{2})")
_IN_WORDS = re.compile(r"(\d{1,2})(?:st|nd|rd|th)?[-/. ]*([a-z]{3})[a-z]*[-/., ]*(\d{4}|\d{2})")
_RUN_TOGETHER = re.compile(r"(\d{2})(\d{2})(\d{4})")


def possible_dates(text: str, *, today: date) -> tuple[str, ...]:
    """The days that the text can mean, as ISO 8601, the likeliest first; none where it is no date.

    Day before month, as in most of the world; month before day where only that is possible.

    >>> possible_dates("30/5/61", today=date(2026, 10, 2))
    ('1961-05-30',)
    >>> possible_dates("5 June 2018", today=date(2026, 10, 2))
    ('2018-06-05',)
    """
    plain = " ".join(text.casefold().split())
    if not plain.isascii():
        return ()
    found = [
        made
        for year, month, day in _readings(plain)
        if (made := _made(year, month, day)) is not None and made <= today
    ]
    return tuple(dict.fromkeys(day.isoformat() for day in found))


def _readings(text: str) -> list[tuple[int, int, int]]:
    """Every (year, month, day) that the text can be read as, possible or not."""
    if match := _YEAR_FIRST.fullmatch(text):
        return [(int(match[1]), int(match[2]), int(match[3]))]
    if match := _IN_WORDS.fullmatch(text):
        if match[2] not in MONTH_NUMBER:
            return []
        return [(year, MONTH_NUMBER[match[2]], int(match[1])) for year in _years(match[3])]
    match = _YEAR_LAST.fullmatch(text) or _RUN_TOGETHER.fullmatch(text)
    if not match:
        return []
    first, second = int(match[1]), int(match[2])
    years = _years(match[3])
    return [(year, second, first) for year in years]


def _years(text: str) -> tuple[int, ...]:
    """A year of four digits, or the two centuries that two digits can mean: people live to over a hundred."""
    return (int(text),) if len(text) == 4 else (1900 + int(text), 2000 + int(text))


def _made(year: int, month: int, day: int) -> date | None:
    """The day of the calendar; month and day exchanged where only that exists."""
    for month_of_year, day_of_month in ((month, day), (day, month)):
        try:
            return date(year, month_of_year, day_of_month)
        except ValueError:
            continue
    return None

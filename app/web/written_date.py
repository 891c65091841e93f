"""A date of birth, or the day on which something was taken, read as people write it."""

from datetime import date

from app.fitting.written_date import NotADate, read_date

__all__ = ["NotADate", "read_born", "read_date", "read_day_taken"]

OLDEST_YEARS = 120
"""Nobody measured is older: the longest well recorded life is 122 years (Jeanne Calment, 1875 to 1997)."""


def read_born(text: str, *, today: date) -> str:
    """A date of birth as ISO 8601: a date that is not to come and not longer ago than anybody has lived."""
    born = read_date(text)
    if born > today.isoformat():
        raise NotADate(f"“{text.strip()}” is still to come. Check the year.")
    if int(born[:4]) < today.year - OLDEST_YEARS:
        raise NotADate(f"“{text.strip()}” is more than {OLDEST_YEARS} years ago. Check the year.")
    return born


def read_day_taken(text: str, *, today: date) -> str:
    """The day on which something was taken, as ISO 8601: not to come."""
    taken = read_date(text)
    if taken > today.isoformat():
        raise NotADate(f"“{text.strip()}” is still to come. Write the day on which it was taken.")
    return taken

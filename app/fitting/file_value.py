"""A value inside a fitting file together with its place, so that every refusal names where it is."""

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from difflib import get_close_matches

from app.fitting.entry import TEN_THOUSANDTHS
from app.fitting.file_place import entry_place, member_place

LONGEST_TEXT = 4000
"""Characters in one text of a fitting file; ours, so that a note cannot fill the store."""
LONGEST_NAME = 200
"""Characters in a name, an instrument or the text of a reading, as the store keeps them."""
LONGEST_REFERENCE = 100
"""Characters in a person's reference, as the store keeps it."""
GREATEST_NUMBER = 1_000_000
"""Beyond this a number is no length, angle or power whatever its unit; ours."""
DAY_FORM = r"^\d{4}-\d{2}-\d{2}$"
MOMENT_FORM = r"^\d{4}-\d{2}-\d{2}([T ]\d{2}:\d{2}(:\d{2}(\.\d{1,6})?)?(Z|[+-]\d{2}:\d{2})?)?$"
"""How a day and a moment are written; whether there are such is another question."""
_DAY = r"\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])"
_HOUR, _SIXTIETH = r"([01]\d|2[0-3])", r"[0-5]\d"
_TIME = rf"{_HOUR}:{_SIXTIETH}(:{_SIXTIETH}(\.\d{{1,6}})?)?"
DAY_PATTERN = rf"^{_DAY}$"
MOMENT_PATTERN = rf"^{_DAY}([T ]{_TIME}(Z|[+-]{_HOUR}:{_SIXTIETH})?)?$"
"""Days and moments as far as a pattern can tell that there are such: ISO 8601, the hour from 00 to 23."""
CONTROL_CHARACTERS = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]")


class NotAFitting(ValueError):
    """The document is not a fitting file. Its text is one line: the place, a colon, the reason."""

    def __init__(self, place: str, reason: str) -> None:
        super().__init__(" ".join(f"{place}: {reason}".split()))
        self.place = place
        self.reason = reason


@dataclass(frozen=True, slots=True)
class FileValue:
    """One JSON value and its place, such as `readings[3].unit`."""

    value: object
    place: str = ""

    def refused(self, reason: str) -> NotAFitting:
        """The error to raise about this value."""
        return NotAFitting(self.place or "file", reason)

    def members(
        self, *, required: Iterable[str] = (), optional: Iterable[str] = ()
    ) -> dict[str, "FileValue"]:
        """The members of an object by key. Null stands for a left-out member. Refuses unknown and missing keys."""
        if not isinstance(self.value, Mapping):
            raise self._wrong("an object")
        required, known = tuple(required), (*required, *optional)
        for key in self.value:
            if key not in known:
                raise self._at(str(key)).refused(f"is not a key known here{_known_keys(str(key), known)}")
        for key in required:
            if key not in self.value:
                raise self._at(key).refused("is missing")
        return {key: self._at(key) for key in known if key in required or self.value.get(key) is not None}

    def entries(self) -> list["FileValue"]:
        """The entries of a list, each with its place."""
        if not isinstance(self.value, list | tuple):
            raise self._wrong("a list")
        return [FileValue(entry, entry_place(self.place, index)) for index, entry in enumerate(self.value)]

    def words(self, *, longest: int = LONGEST_TEXT) -> str:
        """A text that is not blank, without space around it."""
        if not isinstance(self.value, str):
            raise self._wrong("text")
        if not self.value.strip():
            raise self.refused("is blank; leave it out instead")
        if len(self.value) > longest:
            raise self.refused(f"is longer than {longest} characters")
        try:
            self.value.encode()
        except UnicodeEncodeError:
            raise self.refused("holds half a character") from None
        if CONTROL_CHARACTERS.search(self.value):
            raise self.refused("holds a control character")
        return self.value.strip()

    def one_of(self, options: Iterable[str]) -> str:
        """A text that is one of the options."""
        options = tuple(options)
        if isinstance(self.value, str) and self.value in options:
            return self.value
        if not isinstance(self.value, str):
            raise self._wrong(f"one of {', '.join(options)}")
        raise self.refused(f"must be one of {', '.join(options)}, not {_shown(self.value)}")

    def flag(self) -> bool:
        """True or false."""
        if not isinstance(self.value, bool):
            raise self._wrong("true or false")
        return self.value

    def number(self) -> float:
        """A number of at most four decimals, as floating point: −0 reads as 0."""
        self.exact_number()
        return float(self.exact_number()) + 0.0

    def exact_number(self) -> Decimal:
        """A number of at most four decimals, exactly as written."""
        if isinstance(self.value, bool) or not isinstance(self.value, int | float | Decimal):
            raise self._wrong("a number")
        exact = Decimal(repr(self.value)) if isinstance(self.value, float) else Decimal(self.value)
        if not exact.is_finite() or abs(exact) > GREATEST_NUMBER:
            raise self.refused("is too large a number, or none")
        if exact * TEN_THOUSANDTHS != int(exact * TEN_THOUSANDTHS):
            raise self.refused(f"{_shown(self.value)} has more than four decimals")
        return exact

    def day(self) -> str:
        """A date written as year-month-day."""
        return self._time(DAY_FORM, DAY_PATTERN, "2026-10-02", date.fromisoformat)

    def moment(self) -> str:
        """A date, or a date and time, written as ISO 8601."""
        return self._time(MOMENT_FORM, MOMENT_PATTERN, "2026-10-02T14:30:00Z", datetime.fromisoformat)

    def _time(self, form: str, pattern: str, example: str, parse: Callable[[str], date]) -> str:
        if not isinstance(self.value, str):
            raise self._wrong(f"a date such as {example}")
        if not re.fullmatch(form, self.value, re.ASCII):
            raise self.refused(f"must be written like {example}, not {_shown(self.value)}")
        try:
            parse(self.value)
        except ValueError:
            raise self.refused(f"there is no such time as {_shown(self.value)}") from None
        if not re.fullmatch(pattern, self.value, re.ASCII):
            raise self.refused(f"there is no such time as {_shown(self.value)}")
        return self.value

    def _at(self, key: str) -> "FileValue":
        value = self.value.get(key) if isinstance(self.value, Mapping) else None
        return FileValue(value, member_place(self.place, key))

    def _wrong(self, expected: str) -> NotAFitting:
        return self.refused(f"must be {expected}, not {_kind(self.value)}")


def _kind(value: object) -> str:
    if value is None:
        return "null"
    if isinstance(value, bool):
        return "true or false"
    if isinstance(value, int | float | Decimal):
        return "a number"
    if isinstance(value, str):
        return "text"
    return "a list" if isinstance(value, list | tuple) else "an object"


def _shown(value: object) -> str:
    text = CONTROL_CHARACTERS.sub("?", str(value).encode("utf-8", "replace").decode())
    return f"“{text[:60]}…”" if len(text) > 60 else f"“{text}”"


def _known_keys(word: str, known: Iterable[str]) -> str:
    """The closest of the keys, or where none is close, all of them."""
    return _did_you_mean(word, known) or f"; known are {', '.join(known)}"


def _did_you_mean(word: str, known: Iterable[str]) -> str:
    close = get_close_matches(word, list(known), n=1)
    return f"; {close[0]}?" if close else ""


def no_such(word: str, known: Iterable[str], *, kind: str) -> str:
    """A reason for a name that is none of those known, with the closest one offered."""
    return f"there is no {kind} called {_shown(word)}{_did_you_mean(word, known)}"

"""What a check looks at: a number with its unit, or something stated in words, and where each comes from."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from app.fitting.entry import show_number
from app.plausibility.finding import Subject

UNIT_SHOWN = {"mm": " mm", "cm": " cm", "deg": "°", "D": " D", "prism": " prism dioptres", "": ""}


@dataclass(frozen=True, slots=True, kw_only=True)
class Value:
    """A number in its unit. A number worked out from others names them in `parts`."""

    subject: Subject
    number: float
    unit: str = "mm"
    parts: tuple["Value", ...] = ()
    condition: str | None = None
    count: int = 1
    """How many readings it was made from; 0 where it was planned."""
    settled: bool = True
    """False where it was made from readings that do not agree: nothing else is judged on it until they do."""

    def __str__(self) -> str:
        return amount(self.number, self.unit)

    @property
    def leaves(self) -> Iterator["Value"]:
        """The readings themselves, where this number was worked out from several."""
        if not self.parts:
            yield self
        for part in self.parts:
            yield from part.leaves

    def with_number(self, number: float) -> "Value":
        """The same subject with another number, worked out from this one: an ordered value from a facial one."""
        return replace(self, number=number, parts=(self,))


@dataclass(frozen=True, slots=True, kw_only=True)
class Stated:
    """Something that was said or chosen, or left out (None), rather than measured."""

    subject: Subject
    words: str | None

    def __str__(self) -> str:
        return self.words or "nothing"

    @property
    def leaves(self) -> Iterator["Stated"]:
        """Itself: what is stated has no parts."""
        yield self


def amount(number: float, unit: str = "mm") -> str:
    """A number for people with its unit.

    >>> amount(62.5), amount(-3, "deg")
    ('62.5 mm', '−3°')
    """
    return show_number(number) + UNIT_SHOWN[unit]


def rounded(number: float, unit: str = "mm", *, digits: int = 1) -> str:
    """A worked-out number for people, to a tenth: more would pretend to know it better.

    >>> rounded(2.1801409, "deg")
    '2.2°'
    """
    return amount(round(number, digits), unit)


def power(number: float) -> str:
    """A lens power as the trade writes it: always a sign, two decimals.

    >>> power(1.75), power(-12.7512), power(0)
    ('+1.75', '−12.75', '0.00')
    """
    shown = f"{abs(number):.2f}"
    if shown == "0.00":
        return shown
    return ("−" if number < 0 else "+") + shown

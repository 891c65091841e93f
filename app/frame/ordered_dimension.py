"""One dimension of an order: facial value, adjustment and ordered value side by side, or what is missing."""

from dataclasses import dataclass
from typing import Literal

from app.catalogue.measurement import Side, Unit
from app.fitting.entry import show_number

Group = Literal["bridge", "front", "sides", "lenses"]
AS_MEASURED = "as measured"
AS_CHOSEN = "as chosen for this pair"
ON_THE_PAIR = "as measured on the pair"
READING_SOURCE = "reading of this fitting"
CHOICE_SOURCE = "choice of this fitting"


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderedDimension:
    """One line of an order sheet. `ordered` is None where a reading is missing, which `missing` then names.

    `facial` and `adjustment` are None where the dimension is chosen or worked out rather than taken off the face.
    """

    dimension: str
    label: str
    group: Group
    unit: Unit
    ordered: float | None
    basis: str
    """How the ordered value comes about, for people."""
    source: str
    """Who says that it is to be done so."""
    reference_line: str
    side: Side | None = None
    facial: float | None = None
    adjustment: float | None = None
    words: str = ""
    """The ordered value with its sign in words, for the dimensions whose sign is easily misread."""
    missing: tuple[str, ...] = ()
    uncertainty: float | None = None
    """Expanded uncertainty from the repeatability of the readings, k = 2; None where no reading enters."""
    low: float | None = None
    high: float | None = None
    """Where the uncertainty was simulated: the limits of its interval, which need not lie alike about the value."""
    dominated_by: str = ""
    """The reading that makes up most of the uncertainty, where one does."""
    after_repeating: float | None = None
    """What the uncertainty would be once that reading is taken again and agrees."""


def signed_words(value: float, *, plus: str, level: str, minus: str) -> str:
    """A signed value in words.

    >>> signed_words(-3.5, plus="outset", level="flush", minus="inset")
    'inset 3.5'
    """
    amount = show_number(abs(value))
    if amount == "0":
        return level
    return f"{plus if value > 0 else minus} {amount}"


def above_centre_line(value: float) -> str:
    """A height from the horizontal centre line in words.

    >>> above_centre_line(4.0), above_centre_line(-2.0)
    ('4 above the centre line', '2 below the centre line')
    """
    way = "above" if value > 0 else "below"
    amount = show_number(abs(value))
    return "on the centre line" if amount == "0" else f"{amount} {way} the centre line"

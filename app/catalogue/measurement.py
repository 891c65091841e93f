"""What the catalogue says about one measurement: plain data, declared once, read by everything else."""

from dataclasses import dataclass
from typing import Literal

Side = Literal["R", "L"]
SIDES: tuple[Side, Side] = ("R", "L")
SIDE_WORDS: dict[Side, str] = {"R": "patient's right", "L": "patient's left"}

Unit = Literal["mm", "cm", "deg"]
UNIT_WORDS: dict[Unit, str] = {"mm": "mm", "cm": "cm", "deg": "°"}

Sidedness = Literal["one", "each", "either"]
"""one: a single value. each: right and left. either: a single value, or right and left where they differ."""


@dataclass(frozen=True, slots=True)
class Range:
    """A closed interval, in the measurement's own unit."""

    low: float
    high: float

    def holds(self, value: float) -> bool:
        """True where the value lies in the interval, ends included; false for not-a-number."""
        return self.low <= value <= self.high


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """Single-reading limits of one age band. Outside `usual`: note; outside `ask`: ask; outside `stop`: stop."""

    usual: Range
    ask: Range
    stop: Range
    source: str
    provisional: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Method:
    """One way of taking a measurement whose readings are kept apart from those of the other ways."""

    key: str
    label: str
    repeat_tolerance: float | None = None
    """Two readings by this method agree within this; None: the measurement's own tolerance."""
    repeat_source: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SignWords:
    """Words in which a signed measurement is asked, so that nobody has to remember which way is plus."""

    plus: str
    level: str
    minus: str
    plus_also: tuple[str, ...] = ()
    level_also: tuple[str, ...] = ()
    minus_also: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Measurement:
    """One thing that is measured, wherever it is asked, judged, stored, drawn or handed over.

    Values are in `unit`; limits, scale step and repeat tolerance too.
    """

    key: str
    label: str
    unit: Unit
    scale_step: float
    """Smallest step that a person can repeat on the instrument; − and + move by it."""
    sides: Sidedness
    definition: str
    reference_line: str
    """From what to what, short enough to stand in the box."""
    how: str
    instruments: tuple[str, ...]
    becomes: str
    """What it turns into on the order."""
    adult: Limits
    child: Limits | None = None
    """Under 16. None: the adult limits hold."""
    repeat_tolerance: float
    repeat_source: str
    methods: tuple[Method, ...] = ()
    each_method: bool = False
    """Taken by every one of its methods, each in a box of its own, rather than by one of them."""
    conditions: tuple[str, ...] = ()
    """Keys of app.catalogue.conditions that may go with it."""
    cautions: tuple[str, ...] = ()
    errors: str = ""
    """The usual mistakes, for the help page."""
    cannot: str = ""
    """What to do when it cannot be taken."""
    sign_words: SignWords | None = None
    near_eye: bool = False
    """Taken with a tool near the eye, so never by an assistant."""
    assistant_may: bool = False
    off_pair: bool = False
    """Read off a pair of spectacles, or with that pair on: belongs to a pair."""
    optional: bool = False
    """May be left blank without a reason."""
    definition_is_ours: bool = False
    """Not in the frame standards: the help page says that the definition is this app's own."""
    drawing: str = ""
    """Name of the drawing that shows it, where that is not its step's."""

    def limits(self, *, child: bool) -> Limits:
        """The limits of the age band: under 16 (child) or adult."""
        return self.child if child and self.child is not None else self.adult

    def method(self, key: str | None) -> Method | None:
        """The method of that key, None where there is none."""
        return next((method for method in self.methods if method.key == key), None)

    def tolerance(self, method_key: str | None) -> float:
        """Greatest difference at which two readings by one method agree, in the measurement's unit."""
        method = self.method(method_key)
        if method is not None and method.repeat_tolerance is not None:
            return method.repeat_tolerance
        return self.repeat_tolerance

    @property
    def signed(self) -> bool:
        """True where a negative value can be right, so that the box needs a sign."""
        return self.adult.stop.low < 0 or (self.child is not None and self.child.stop.low < 0)

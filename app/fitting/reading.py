"""One reading as it was taken, and one reason why a reading was not taken."""

from dataclasses import dataclass
from typing import Literal

from app.catalogue.measurement import Side

Source = Literal["typed", "instrument", "paper", "file"]


@dataclass(frozen=True, slots=True, kw_only=True)
class EnteredInError:
    """Who marked a reading as entered in error, when, and why. The reading itself is kept."""

    by: str
    at: str
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One reading: the value in the measurement's own unit, and the text as it was entered.

    `value` is always a whole number of ten-thousandths, so storing it loses nothing.
    `pair` is None for a reading of the face, 1 or 2 for one read off or with that pair.
    """

    measurement: str
    value: float
    text: str
    side: Side | None = None
    method: str | None = None
    condition: str | None = None
    instrument: str | None = None
    pair: int | None = None
    by: str | None = None
    role: str | None = None
    at: str | None = None
    note: str | None = None
    source: Source = "typed"
    proposed: bool = False
    """Taken by an assistant and not yet accepted by a practitioner."""
    accepted_by: str | None = None
    replaces: str | None = None
    """Identity of the reading that this one corrects."""
    entered_in_error: EnteredInError | None = None
    identity: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class NotTaken:
    """A measurement that was left out, with its reason (a key of app.catalogue.reasons)."""

    measurement: str
    reason: str
    side: Side | None = None
    pair: int | None = None
    detail: str | None = None
    by: str | None = None
    at: str | None = None

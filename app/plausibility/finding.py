"""A finding: what was seen, what was expected, what to do now."""

from dataclasses import dataclass
from enum import StrEnum

from app.catalogue.measurement import Side


class Severity(StrEnum):
    """How a finding is handled, mildest first."""

    NOTE = "note"
    """Shown; nothing to do."""
    ASK = "ask"
    """Answer before sign-off: measured again, corrected, or right because …"""
    STOP = "stop"
    """Cannot be signed off as it stands; kept only by entering it again with a reason."""
    REFER = "refer"
    """Pause, and let the registered practitioner see this."""


@dataclass(frozen=True, slots=True)
class Subject:
    """What a finding is about: a measurement (or a part of the record), side, pair and method where they apply."""

    measurement: str
    side: Side | None = None
    pair: int | None = None
    method: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """A likely cause, offered first: the value that it would make right. Words such as "562?" or "swapped?"."""

    words: str
    corrections: tuple[tuple[Subject, float], ...] = ()
    """Each subject with the value that it should then have."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One finding. `fingerprint` names the values it was found on: an answer holds only for those."""

    check: str
    severity: Severity
    about: tuple[Subject, ...]
    message: str
    suggest: str
    source: str
    suspect: Subject | None = None
    offers: tuple[Offer, ...] = ()
    fingerprint: str = ""
    held_back_by: str | None = None
    """Check whose stop holds this one back until that is put right."""

"""A fitting as the records hold it: the fitting itself, and what surrounds it."""

from dataclasses import dataclass
from typing import Literal

from app.fitting.fitting import Fitting
from app.records.field_value import FieldValue

State = Literal["open", "signed"]


@dataclass(frozen=True, slots=True)
class StoredAnswer:
    """One answer to a finding; it holds for the values that its fingerprint names."""

    check: str
    fingerprint: str
    kind: str
    words: str
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class SignedVersion:
    """One signed version; its document is loaded apart."""

    number: int
    name: str
    registration: str
    reason: str | None
    document_sha256: str
    at: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredFitting:
    """One fitting. `fields` has a value with text None for a field that was emptied.

    `revision` grows with every write to the fitting: two loads with one revision are the same.
    """

    fitting_id: str
    person_id: str
    fitting: Fitting
    fields: dict[str, FieldValue]
    answers: tuple[StoredAnswer, ...]
    signed_versions: tuple[SignedVersion, ...]
    state: State
    previous_fitting_id: str | None
    sequence: int
    revision: int
    person_version: int


@dataclass(frozen=True, slots=True, kw_only=True)
class FittingSummary:
    """One line of a person's list of fittings."""

    fitting_id: str
    sequence: int
    taken_on: str
    taken_by: str | None
    from_paper: bool
    state: State
    signed_version: int | None
    """Number of the newest signed version."""

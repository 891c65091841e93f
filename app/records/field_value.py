"""One field of a record as it stands: its text, its version, and who put it there when."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class FieldValue:
    """`text` is None where the field was emptied; a field that was never filled has no FieldValue."""

    text: str | None
    version: int
    by: str
    at: str

"""All tables, for what has to see the whole form of the database at once."""

from sqlalchemy import MetaData
from sqlmodel import SQLModel

from app.records.tables import accounts, bench, contacts, fittings, people, practice, readings, receipts

METADATA: MetaData = SQLModel.metadata
SUBJECTS = (accounts, people, contacts, fittings, readings, practice, bench, receipts)

APPEND_ONLY = (
    "person_version",
    "field_version",
    "finding_answer",
    "signed_version",
    "reopening",
    "reading",
    "reading_error",
    "acceptance",
    "not_taken",
    "withdrawal",
    "pair_event",
    "contact",
    "settings_version",
    "maker_version",
    "dispatch",
    "acknowledgement",
    "bench_query",
    "bench_query_entry",
    "remake",
    "receipt_value",
    "receipt_decision",
    "collection",
    "adjusted_value",
)
"""Tables whose rows the database itself refuses to change or remove."""

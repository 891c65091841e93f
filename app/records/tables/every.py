"""All tables, for what has to see the whole form of the database at once."""

from sqlalchemy import MetaData
from sqlmodel import SQLModel

from app.records.tables import accounts, contacts, fittings, people, practice, readings

METADATA: MetaData = SQLModel.metadata
SUBJECTS = (accounts, people, contacts, fittings, readings, practice)

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
)
"""Tables whose rows the database itself refuses to change or remove."""

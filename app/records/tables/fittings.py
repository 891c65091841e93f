"""Tables of fittings: the visit, its fields, answers, versions and pairs."""

from sqlalchemy import CheckConstraint, Text, UniqueConstraint
from sqlmodel import Field, SQLModel

from app.records.tables import naming as wide


class FittingRow(SQLModel, table=True):
    """One fitting. `revision` counts every write to it, so that a reader knows whether anything moved."""

    __tablename__ = "fitting"
    __table_args__ = (
        UniqueConstraint("person_id", "sequence"),
        CheckConstraint("state IN ('open', 'signed')", name="state"),
    )

    id: int | None = Field(default=None, primary_key=True)
    identity: str = Field(max_length=wide.IDENTITY, unique=True)
    person_id: int = Field(foreign_key="person.id")
    sequence: int
    state: str = Field(default="open", max_length=wide.KEY, index=True)
    revision: int = 1
    taken_on: str = Field(max_length=10)
    taken_by: str | None = Field(default=None, max_length=wide.NAME)
    taken_role: str | None = Field(default=None, max_length=wide.KEY)
    from_paper: bool = False
    account: str = Field(max_length=wide.IDENTITY, foreign_key="account.identity")
    at: str = Field(max_length=wide.MOMENT)


class FieldRow(SQLModel, table=True):
    """A field as it stands now: the pointer that a save moves on from the version that it was based on."""

    __tablename__ = "field"
    __table_args__ = ({"sqlite_with_rowid": False},)  # a fitting's fields lie side by side

    fitting_id: int = Field(foreign_key="fitting.id", primary_key=True)
    path: str = Field(max_length=wide.PATH, primary_key=True)
    version: int
    text: str | None = Field(default=None, max_length=wide.FIELD_TEXT)
    by: str = Field(max_length=wide.NAME)
    at: str = Field(max_length=wide.MOMENT)


class FieldVersionRow(SQLModel, table=True):
    """One version of a field; never changed."""

    __tablename__ = "field_version"
    __table_args__ = (UniqueConstraint("fitting_id", "path", "version"),)

    id: int | None = Field(default=None, primary_key=True)
    fitting_id: int = Field(foreign_key="fitting.id")
    path: str = Field(max_length=wide.PATH)
    version: int
    text: str | None = Field(default=None, max_length=wide.FIELD_TEXT)
    account: str = Field(max_length=wide.IDENTITY, foreign_key="account.identity")
    by: str = Field(max_length=wide.NAME)
    at: str = Field(max_length=wide.MOMENT)


class AnswerRow(SQLModel, table=True):
    """One answer to a finding; never changed. It holds for the values that its fingerprint names."""

    __tablename__ = "finding_answer"

    id: int | None = Field(default=None, primary_key=True)
    fitting_id: int = Field(foreign_key="fitting.id", index=True)
    check: str = Field(max_length=wide.KEY)
    fingerprint: str = Field(max_length=wide.NOTE)
    kind: str = Field(max_length=wide.KEY)
    words: str = Field(max_length=wide.NOTE)
    account: str = Field(max_length=wide.IDENTITY, foreign_key="account.identity")
    by: str = Field(max_length=wide.NAME)
    at: str = Field(max_length=wide.MOMENT)


class SignedVersionRow(SQLModel, table=True):
    """What was signed, as a JSON document with its digest; never changed."""

    __tablename__ = "signed_version"
    __table_args__ = (UniqueConstraint("fitting_id", "number"),)

    id: int | None = Field(default=None, primary_key=True)
    fitting_id: int = Field(foreign_key="fitting.id")
    number: int
    name: str = Field(max_length=wide.NAME)
    registration: str = Field(max_length=wide.SHORT)
    reason: str | None = Field(default=None, max_length=wide.NOTE)
    document: str = Field(sa_type=Text)
    document_sha256: str = Field(max_length=wide.DIGEST)
    account: str = Field(max_length=wide.IDENTITY, foreign_key="account.identity")
    at: str = Field(max_length=wide.MOMENT, index=True)


class ReopeningRow(SQLModel, table=True):
    """A signed fitting was opened again for a new version, with the reason; never changed."""

    __tablename__ = "reopening"

    id: int | None = Field(default=None, primary_key=True)
    fitting_id: int = Field(foreign_key="fitting.id", index=True)
    after_number: int
    reason: str = Field(max_length=wide.NOTE)
    account: str = Field(max_length=wide.IDENTITY, foreign_key="account.identity")
    by: str = Field(max_length=wide.NAME)
    at: str = Field(max_length=wide.MOMENT)


class DraftRow(SQLModel, table=True):
    """What somebody was typing into one box, for when the sign-in runs out in the middle of it."""

    __tablename__ = "draft"
    __table_args__ = ({"sqlite_with_rowid": False},)

    account: str = Field(max_length=wide.IDENTITY, foreign_key="account.identity", primary_key=True)
    fitting_id: int = Field(foreign_key="fitting.id", primary_key=True)
    field: str = Field(max_length=wide.PATH, primary_key=True)
    text: str = Field(max_length=wide.FIELD_TEXT)
    at: str = Field(max_length=wide.MOMENT)


FITTING = SQLModel.metadata.tables["fitting"]
FIELD = SQLModel.metadata.tables["field"]
FIELD_VERSION = SQLModel.metadata.tables["field_version"]
ANSWER = SQLModel.metadata.tables["finding_answer"]
SIGNED_VERSION = SQLModel.metadata.tables["signed_version"]
REOPENING = SQLModel.metadata.tables["reopening"]
DRAFT = SQLModel.metadata.tables["draft"]

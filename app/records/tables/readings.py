"""Tables of readings: append-only; acceptance and errors are rows of their own."""

from sqlalchemy import CheckConstraint
from sqlmodel import Field, SQLModel

from app.records.storable import LARGEST_PARTS
from app.records.tables import naming as wide


class ReadingRow(SQLModel, table=True):
    """One reading; never changed. `id` is the order in which the server stored them."""

    __tablename__ = "reading"
    __table_args__ = (
        CheckConstraint(f"value_parts BETWEEN -{LARGEST_PARTS} AND {LARGEST_PARTS}", name="value"),
        CheckConstraint("pair BETWEEN 1 AND 9", name="pair"),
        CheckConstraint("side IN ('R', 'L')", name="side"),
    )

    id: int | None = Field(default=None, primary_key=True)
    identity: str = Field(max_length=wide.IDENTITY, unique=True)
    fitting_id: int = Field(foreign_key="fitting.id", index=True)
    measurement: str = Field(max_length=wide.KEY)
    value_parts: int
    """Whole ten-thousandths of the measurement's unit."""
    text: str = Field(max_length=wide.NAME)
    side: str | None = Field(default=None, max_length=1)
    method: str | None = Field(default=None, max_length=wide.KEY)
    condition: str | None = Field(default=None, max_length=wide.KEY)
    instrument: str | None = Field(default=None, max_length=wide.NAME)
    pair: int | None = None
    note: str | None = Field(default=None, max_length=wide.NOTE)
    source: str = Field(max_length=wide.KEY)
    proposed: bool
    replaces: str | None = Field(default=None, max_length=wide.IDENTITY, foreign_key="reading.identity")
    account: str = Field(max_length=wide.IDENTITY, foreign_key="account.identity")
    by: str = Field(max_length=wide.NAME)
    role: str = Field(max_length=wide.KEY)
    at: str = Field(max_length=wide.MOMENT)


class ReadingErrorRow(SQLModel, table=True):
    """A reading was entered in error: who says so, when and why; never changed."""

    __tablename__ = "reading_error"

    reading_id: int = Field(foreign_key="reading.id", primary_key=True)
    reason: str = Field(max_length=wide.NOTE)
    account: str = Field(max_length=wide.IDENTITY, foreign_key="account.identity")
    by: str = Field(max_length=wide.NAME)
    at: str = Field(max_length=wide.MOMENT)


class AcceptanceRow(SQLModel, table=True):
    """A practitioner accepted a proposed reading; never changed."""

    __tablename__ = "acceptance"

    reading_id: int = Field(foreign_key="reading.id", primary_key=True)
    account: str = Field(max_length=wide.IDENTITY, foreign_key="account.identity")
    by: str = Field(max_length=wide.NAME)
    at: str = Field(max_length=wide.MOMENT)


class NotTakenRow(SQLModel, table=True):
    """A measurement was left out, with its reason; never changed."""

    __tablename__ = "not_taken"

    id: int | None = Field(default=None, primary_key=True)
    fitting_id: int = Field(foreign_key="fitting.id", index=True)
    measurement: str = Field(max_length=wide.KEY)
    side: str | None = Field(default=None, max_length=1)
    pair: int | None = None
    reason: str = Field(max_length=wide.KEY)
    detail: str | None = Field(default=None, max_length=wide.NOTE)
    account: str = Field(max_length=wide.IDENTITY, foreign_key="account.identity")
    by: str = Field(max_length=wide.NAME)
    at: str = Field(max_length=wide.MOMENT)


class WithdrawalRow(SQLModel, table=True):
    """A "not taken" no longer holds; never changed."""

    __tablename__ = "withdrawal"

    not_taken_id: int = Field(foreign_key="not_taken.id", primary_key=True)
    account: str = Field(max_length=wide.IDENTITY, foreign_key="account.identity")
    by: str = Field(max_length=wide.NAME)
    at: str = Field(max_length=wide.MOMENT)


READING = SQLModel.metadata.tables["reading"]
READING_ERROR = SQLModel.metadata.tables["reading_error"]
ACCEPTANCE = SQLModel.metadata.tables["acceptance"]
NOT_TAKEN = SQLModel.metadata.tables["not_taken"]
WITHDRAWAL = SQLModel.metadata.tables["withdrawal"]

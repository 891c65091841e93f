"""Tables of what came back: measured values, the decision, and what was done at collection. Rows are never
changed.
"""

from sqlalchemy import CheckConstraint, Text
from sqlmodel import Field, SQLModel

from app.records.tables import naming as wide


class ReceiptValueRow(SQLModel, table=True):
    """One value measured on a received pair, in ten-thousandths. The last one of an item and side counts."""

    __tablename__ = "receipt_value"
    __table_args__ = (CheckConstraint("pair BETWEEN 1 AND 9", name="pair"),)

    id: int | None = Field(default=None, primary_key=True)
    fitting_id: int = Field(foreign_key="fitting.id", index=True)
    pair: int
    arrival: int
    item: str = Field(max_length=wide.KEY)
    side: str | None = Field(default=None, max_length=1)
    parts: int | None = None
    """None: taken back, not measured."""
    text: str = Field(max_length=wide.SHORT)
    account: str = Field(max_length=wide.IDENTITY, foreign_key="account.identity")
    by: str = Field(max_length=wide.NAME)
    at: str = Field(max_length=wide.MOMENT)


class ReceiptDecisionRow(SQLModel, table=True):
    """What was decided on a received pair, with every value as it was judged."""

    __tablename__ = "receipt_decision"
    __table_args__ = (CheckConstraint("pair BETWEEN 1 AND 9", name="pair"),)

    id: int | None = Field(default=None, primary_key=True)
    identity: str = Field(max_length=wide.IDENTITY, unique=True)
    fitting_id: int = Field(foreign_key="fitting.id", index=True)
    pair: int
    arrival: int
    version: int
    outcome: str = Field(max_length=wide.KEY)
    standard: str = Field(max_length=wide.KEY)
    reason: str = Field(max_length=wide.NOTE)
    document: str = Field(sa_type=Text)
    frame_maker: str | None = Field(default=None, max_length=wide.IDENTITY, index=True)
    lens_maker: str | None = Field(default=None, max_length=wide.IDENTITY, index=True)
    account: str = Field(max_length=wide.IDENTITY, foreign_key="account.identity")
    by: str = Field(max_length=wide.NAME)
    at: str = Field(max_length=wide.MOMENT)


class CollectionRow(SQLModel, table=True):
    """A pair was fitted and handed over: what was checked, what advice was given, and to whom."""

    __tablename__ = "collection"
    __table_args__ = (CheckConstraint("pair BETWEEN 1 AND 9", name="pair"),)

    id: int | None = Field(default=None, primary_key=True)
    identity: str = Field(max_length=wide.IDENTITY, unique=True)
    fitting_id: int = Field(foreign_key="fitting.id", index=True)
    pair: int
    practitioner: str = Field(max_length=wide.NAME)
    received_by: str = Field(max_length=wide.NAME)
    checks: str = Field(max_length=wide.NOTE)
    advice: str = Field(max_length=wide.NOTE)
    words: str = Field(max_length=wide.NOTE)
    account: str = Field(max_length=wide.IDENTITY, foreign_key="account.identity")
    by: str = Field(max_length=wide.NAME)
    at: str = Field(max_length=wide.MOMENT)


class AdjustedValueRow(SQLModel, table=True):
    """By how much one dimension was adjusted at collection, in ten-thousandths."""

    __tablename__ = "adjusted_value"

    id: int | None = Field(default=None, primary_key=True)
    collection_id: int = Field(foreign_key="collection.id", index=True)
    item: str = Field(max_length=wide.KEY)
    side: str | None = Field(default=None, max_length=1)
    parts: int


RECEIPT_VALUE = SQLModel.metadata.tables["receipt_value"]
RECEIPT_DECISION = SQLModel.metadata.tables["receipt_decision"]
COLLECTION = SQLModel.metadata.tables["collection"]
ADJUSTED_VALUE = SQLModel.metadata.tables["adjusted_value"]

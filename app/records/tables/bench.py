"""Tables of the bench: makers, what was sent to them, their questions, remakes. Rows are never changed."""

from sqlalchemy import CheckConstraint, UniqueConstraint
from sqlmodel import Field, SQLModel

from app.records.tables import naming as wide


class MakerVersionRow(SQLModel, table=True):
    """One version of a frame maker's or lens lab's entry in the address book. The highest number holds."""

    __tablename__ = "maker_version"
    __table_args__ = (UniqueConstraint("maker", "number"),)

    id: int | None = Field(default=None, primary_key=True)
    maker: str = Field(max_length=wide.IDENTITY)
    number: int
    kind: str = Field(max_length=wide.KEY)
    name: str = Field(max_length=wide.NAME)
    wants: str = Field(max_length=wide.NOTE)
    way: str = Field(max_length=wide.KEY)
    address: str = Field(max_length=wide.NOTE)
    telephone: str = Field(max_length=wide.SHORT)
    email: str = Field(max_length=wide.NAME)
    usual_days: int | None = None
    note: str = Field(max_length=wide.NOTE)
    active: bool
    account: str = Field(max_length=wide.IDENTITY, foreign_key="account.identity")
    by: str = Field(max_length=wide.NAME)
    at: str = Field(max_length=wide.MOMENT)


class DispatchRow(SQLModel, table=True):
    """A signed version of a pair's order was sent to a maker."""

    __tablename__ = "dispatch"
    __table_args__ = (CheckConstraint("pair BETWEEN 1 AND 9", name="pair"),)

    id: int | None = Field(default=None, primary_key=True)
    identity: str = Field(max_length=wide.IDENTITY, unique=True)
    fitting_id: int = Field(foreign_key="fitting.id", index=True)
    pair: int
    version: int
    maker: str = Field(max_length=wide.IDENTITY, index=True)
    kind: str = Field(max_length=wide.KEY)
    name: str = Field(max_length=wide.NAME)
    way: str = Field(max_length=wide.KEY)
    sent: str = Field(max_length=wide.NOTE)
    words: str = Field(max_length=wide.NOTE)
    account: str = Field(max_length=wide.IDENTITY, foreign_key="account.identity")
    by: str = Field(max_length=wide.NAME)
    at: str = Field(max_length=wide.MOMENT)


class AcknowledgementRow(SQLModel, table=True):
    """A maker confirmed an order, with the date that was promised."""

    __tablename__ = "acknowledgement"

    id: int | None = Field(default=None, primary_key=True)
    dispatch_id: int = Field(foreign_key="dispatch.id", index=True)
    promised: str | None = Field(default=None, max_length=10)
    words: str = Field(max_length=wide.NOTE)
    account: str = Field(max_length=wide.IDENTITY, foreign_key="account.identity")
    by: str = Field(max_length=wide.NAME)
    at: str = Field(max_length=wide.MOMENT)


class QueryRow(SQLModel, table=True):
    """A question from the bench on one line of an order, with the value as it then stood on the sheet."""

    __tablename__ = "bench_query"
    __table_args__ = (CheckConstraint("pair BETWEEN 1 AND 9", name="pair"),)

    id: int | None = Field(default=None, primary_key=True)
    identity: str = Field(max_length=wide.IDENTITY, unique=True)
    fitting_id: int = Field(foreign_key="fitting.id", index=True)
    pair: int
    version: int
    dimension: str = Field(max_length=wide.KEY)
    value: str = Field(max_length=wide.NOTE)
    account: str = Field(max_length=wide.IDENTITY, foreign_key="account.identity")
    by: str = Field(max_length=wide.NAME)
    at: str = Field(max_length=wide.MOMENT)


class QueryEntryRow(SQLModel, table=True):
    """One thing said in the thread of a question. `version` is the signed version that an answer makes new."""

    __tablename__ = "bench_query_entry"

    id: int | None = Field(default=None, primary_key=True)
    query_id: int = Field(foreign_key="bench_query.id", index=True)
    kind: str = Field(max_length=wide.KEY)
    words: str = Field(max_length=wide.NOTE)
    version: int | None = None
    account: str = Field(max_length=wide.IDENTITY, foreign_key="account.identity")
    by: str = Field(max_length=wide.NAME)
    at: str = Field(max_length=wide.MOMENT)


class RemakeRow(SQLModel, table=True):
    """A pair is made again: the version that was made, and the cause."""

    __tablename__ = "remake"
    __table_args__ = (CheckConstraint("pair BETWEEN 1 AND 9", name="pair"),)

    id: int | None = Field(default=None, primary_key=True)
    identity: str = Field(max_length=wide.IDENTITY, unique=True)
    fitting_id: int = Field(foreign_key="fitting.id", index=True)
    pair: int
    version: int
    cause: str = Field(max_length=wide.KEY)
    words: str = Field(max_length=wide.NOTE)
    account: str = Field(max_length=wide.IDENTITY, foreign_key="account.identity")
    by: str = Field(max_length=wide.NAME)
    at: str = Field(max_length=wide.MOMENT)


MAKER_VERSION = SQLModel.metadata.tables["maker_version"]
DISPATCH = SQLModel.metadata.tables["dispatch"]
ACKNOWLEDGEMENT = SQLModel.metadata.tables["acknowledgement"]
QUERY = SQLModel.metadata.tables["bench_query"]
QUERY_ENTRY = SQLModel.metadata.tables["bench_query_entry"]
REMAKE = SQLModel.metadata.tables["remake"]

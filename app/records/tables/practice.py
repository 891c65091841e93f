"""Tables of the practice: its settings and what happened to each pair."""

from sqlalchemy import CheckConstraint, Text
from sqlmodel import Field, SQLModel

from app.records.tables import naming as wide


class PairEventRow(SQLModel, table=True):
    """Something happened to a pair; never changed."""

    __tablename__ = "pair_event"
    __table_args__ = (CheckConstraint("pair BETWEEN 1 AND 9", name="pair"),)

    id: int | None = Field(default=None, primary_key=True)
    identity: str = Field(max_length=wide.IDENTITY, unique=True)
    fitting_id: int = Field(foreign_key="fitting.id", index=True)
    pair: int
    state: str = Field(max_length=wide.KEY)
    words: str = Field(max_length=wide.NOTE)
    promised: str | None = Field(default=None, max_length=10)
    account: str = Field(max_length=wide.IDENTITY, foreign_key="account.identity")
    by: str = Field(max_length=wide.NAME)
    at: str = Field(max_length=wide.MOMENT)


class SettingsVersionRow(SQLModel, table=True):
    """One version of the practice's settings as a JSON document; never changed. The highest number holds."""

    __tablename__ = "settings_version"

    number: int = Field(primary_key=True)
    document: str = Field(sa_type=Text)
    account: str = Field(max_length=wide.IDENTITY, foreign_key="account.identity")
    by: str = Field(max_length=wide.NAME)
    at: str = Field(max_length=wide.MOMENT)


PAIR_EVENT = SQLModel.metadata.tables["pair_event"]
SETTINGS_VERSION = SQLModel.metadata.tables["settings_version"]

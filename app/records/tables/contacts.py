"""Table of contacts with people: who rang, who was rung, and whether they were who they said."""

from sqlmodel import Field, SQLModel

from app.records.tables import naming as wide


class ContactRow(SQLModel, table=True):
    """One contact; never changed."""

    __tablename__ = "contact"

    id: int | None = Field(default=None, primary_key=True)
    identity: str = Field(max_length=wide.IDENTITY, unique=True)
    person_id: int = Field(foreign_key="person.id", index=True)
    kind: str = Field(max_length=wide.KEY)
    words: str = Field(max_length=wide.NOTE)
    account: str = Field(max_length=wide.IDENTITY, foreign_key="account.identity")
    by: str = Field(max_length=wide.NAME)
    at: str = Field(max_length=wide.MOMENT)


CONTACT = SQLModel.metadata.tables["contact"]

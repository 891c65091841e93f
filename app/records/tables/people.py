"""Tables of people: details as they stand, and every earlier version of them."""

from sqlalchemy import Text, UniqueConstraint
from sqlmodel import Field, SQLModel

from app.records.tables import naming as wide


class PersonRow(SQLModel, table=True):
    """One person. The last five columns are what search looks at, made from the others at every save."""

    __tablename__ = "person"

    id: int | None = Field(default=None, primary_key=True)
    identity: str = Field(max_length=wide.IDENTITY, unique=True)
    version: int
    reference: str = Field(max_length=wide.SHORT)
    family_name: str = Field(max_length=wide.NAME)
    given_name: str = Field(max_length=wide.NAME)
    preferred_name: str = Field(max_length=wide.NAME)
    born: str | None = Field(default=None, max_length=10, index=True)
    sex: str | None = Field(default=None, max_length=1)
    telephone: str = Field(max_length=wide.SHORT)
    email: str = Field(max_length=wide.NAME)
    address_line: str = Field(max_length=wide.NAME)
    contact_channel: str = Field(max_length=wide.KEY)
    leave_message: bool
    permission_to_speak: str = Field(max_length=wide.NAME)
    registered_sight_impaired: bool
    note: str = Field(max_length=wide.NOTE)
    account: str = Field(max_length=wide.IDENTITY, foreign_key="account.identity")
    by: str = Field(max_length=wide.NAME)
    at: str = Field(max_length=wide.MOMENT)
    search_text: str = Field(max_length=wide.NOTE)
    search_family: str = Field(max_length=2 * wide.NAME, index=True)
    search_given: str = Field(max_length=2 * wide.NAME, index=True)
    search_reference: str = Field(max_length=wide.SHORT, unique=True)
    search_telephone: str = Field(max_length=wide.SHORT, index=True)


class PersonVersionRow(SQLModel, table=True):
    """One version of a person's details as a JSON document; never changed."""

    __tablename__ = "person_version"
    __table_args__ = (UniqueConstraint("person_id", "version"),)

    id: int | None = Field(default=None, primary_key=True)
    person_id: int = Field(foreign_key="person.id")
    version: int
    document: str = Field(sa_type=Text)
    account: str = Field(max_length=wide.IDENTITY, foreign_key="account.identity")
    by: str = Field(max_length=wide.NAME)
    at: str = Field(max_length=wide.MOMENT)


PERSON = SQLModel.metadata.tables["person"]
PERSON_VERSION = SQLModel.metadata.tables["person_version"]

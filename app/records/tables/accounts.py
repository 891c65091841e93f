"""Tables of who may sign in, from where, and what was already answered to which request."""

from sqlalchemy import Text
from sqlmodel import Field, SQLModel

from app.records.tables import naming as wide


class AccountRow(SQLModel, table=True):
    """One account. `sign_in` is the casefolded sign-in name; no passphrase: it cannot sign in by one."""

    __tablename__ = "account"

    id: int | None = Field(default=None, primary_key=True)
    identity: str = Field(max_length=wide.IDENTITY, unique=True)
    sign_in: str = Field(max_length=wide.SHORT, unique=True)
    name: str = Field(max_length=wide.NAME)
    role: str = Field(max_length=wide.KEY)
    registration: str | None = Field(default=None, max_length=wide.SHORT)
    passphrase_hash: str | None = Field(default=None, max_length=wide.NAME)
    active: bool = True
    version: int = 1
    at: str = Field(max_length=wide.MOMENT)


class SessionRow(SQLModel, table=True):
    """One sign-in on one tablet. Only the digest of its token is kept."""

    __tablename__ = "session"

    id: int | None = Field(default=None, primary_key=True)
    token_sha256: str = Field(max_length=wide.DIGEST, unique=True)
    account: str = Field(max_length=wide.IDENTITY, foreign_key="account.identity", index=True)
    tablet: str = Field(max_length=wide.NAME)
    started_at: str = Field(max_length=wide.MOMENT)
    seen_at: str = Field(max_length=wide.MOMENT)
    ended_at: str | None = Field(default=None, max_length=wide.MOMENT)


class ApiTokenRow(SQLModel, table=True):
    """One bearer token of the programming interface. Only its digest is kept."""

    __tablename__ = "api_token"

    id: int | None = Field(default=None, primary_key=True)
    identity: str = Field(max_length=wide.IDENTITY, unique=True)
    token_sha256: str = Field(max_length=wide.DIGEST, unique=True)
    account: str = Field(max_length=wide.IDENTITY, foreign_key="account.identity", index=True)
    name: str = Field(max_length=wide.NAME)
    at: str = Field(max_length=wide.MOMENT)
    ended_at: str | None = Field(default=None, max_length=wide.MOMENT)


class RequestRow(SQLModel, table=True):
    """What was answered to a write, by the key that its sender gave it: a retry gets the same answer."""

    __tablename__ = "request"
    __table_args__ = ({"sqlite_with_rowid": False},)  # one tree to write to, not two

    key: str = Field(max_length=wide.REQUEST_KEY, primary_key=True)
    account: str | None = Field(default=None, max_length=wide.IDENTITY)
    action: str = Field(max_length=wide.KEY)
    body_sha256: str = Field(max_length=wide.DIGEST)
    answer: str = Field(sa_type=Text)
    at: str = Field(max_length=wide.MOMENT)


ACCOUNT = SQLModel.metadata.tables["account"]
SESSION = SQLModel.metadata.tables["session"]
API_TOKEN = SQLModel.metadata.tables["api_token"]
REQUEST = SQLModel.metadata.tables["request"]

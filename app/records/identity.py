"""Public identities and moments: opaque, unguessable, and in one form everywhere."""

import secrets
from datetime import UTC, datetime

IDENTITY_LENGTH = 32


def new_identity() -> str:
    """An opaque identity of 128 random bits, safe in an address, a file name and a selector."""
    return secrets.token_hex(IDENTITY_LENGTH // 2)


def new_key() -> str:
    """An idempotency key for a write that has no tablet behind it."""
    return new_identity()


def moment(at: datetime) -> str:
    """A moment as stored: ISO 8601 in UTC to the millisecond, so that text order is time order."""
    return at.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


def now() -> str:
    """This moment, as stored."""
    return moment(datetime.now(UTC))

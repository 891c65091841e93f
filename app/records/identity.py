"""Public identities and moments: opaque, unguessable, and in one form everywhere."""

import re
import secrets
import time
from datetime import UTC, datetime

_TIME_LENGTH, _RANDOM_BYTES = 12, 10
IDENTITY_PATTERN = re.compile(r"[0-9a-f]{32}")


def new_identity() -> str:
    """An opaque identity: milliseconds, then 80 random bits; safe in an address, a file name and a selector.

    As in UUID version 7 (RFC 9562 section 5.7) the time comes first, so that new rows land beside each other in
    an index however large it has grown; nobody guesses the rest.
    """
    return f"{time.time_ns() // 1_000_000:0{_TIME_LENGTH}x}" + secrets.token_hex(_RANDOM_BYTES)


def new_key() -> str:
    """An idempotency key for a write that has no tablet behind it."""
    return new_identity()


def moment(at: datetime) -> str:
    """A moment as stored: ISO 8601 in UTC to the millisecond, so that text order is time order."""
    return at.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


def now() -> str:
    """This moment, as stored."""
    return moment(datetime.now(UTC))

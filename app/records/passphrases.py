"""Passphrases: hashed with Argon2id, and as slow to refuse an unknown person as a known one."""

import threading

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError

from app.records.errors import NotStorable

SHORTEST, LONGEST = 8, 200
"""At least 8 characters, at least 64 allowed, no rules of composition: OWASP ASVS 5.0.0, 6.2.1, 6.2.5, 6.2.9."""

# Argon2id, 64 MiB, 3 passes, 4 lanes: RFC 9106 section 4, second recommended option (the library's default).
_HASHER = PasswordHasher()
# A flood of sign-ins may use two hashes' worth of the machine, not all of it: saving must go on.
_AT_ONCE = threading.BoundedSemaphore(2)
NOBODY = "$argon2id$v=19$m=65536,t=3,p=4$qLKluPw62RtZta1PmCQXhw$eGVGrud6WEYeVn3KpOkBvHC30WJnzQ8hN3F3xdQZalQ"
"""A hash of today's settings that nobody has: written down, as making it would slow down every start."""


def hash_of(passphrase: str) -> str:
    """The hash to store. Slow on purpose: never inside a write transaction."""
    if not SHORTEST <= len(passphrase) <= LONGEST:
        raise NotStorable(
            f"A passphrase needs {SHORTEST} to {LONGEST} characters, such as four words in a row."
        )
    with _AT_ONCE:
        return _HASHER.hash(passphrase)


def fits(passphrase: str, stored_hash: str | None) -> bool:
    """True where the passphrase is the one behind the hash. Without a hash it takes as long, and is false."""
    with _AT_ONCE:
        try:
            _HASHER.verify(stored_hash or NOBODY, passphrase[: LONGEST + 1])
        except (VerificationError, InvalidHashError):
            return False
    return stored_hash is not None


def is_outdated(stored_hash: str) -> bool:
    """True where the hash was made with weaker settings than today's."""
    return _HASHER.check_needs_rehash(stored_hash)

"""Who is doing something: the account behind every write."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Actor:
    """The signed-in person. `account` is the account's public identity, `name` what the record shows."""

    account: str
    name: str
    role: str

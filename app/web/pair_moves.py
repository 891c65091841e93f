"""What can happen next to a pair, as buttons: the changes of the state machine that need no page of their
own.
"""

from dataclasses import dataclass

from app.records.pair_machine import Route, changes_from


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """One thing that can be noted: its state, the words on its button, and what it needs besides."""

    state: str
    words: str
    asks_date: bool = False
    """A promised date can go with it."""
    asks_practitioner: bool = False
    """For a restricted group: the practitioner who was there is named."""


def moves_from(
    state: str, *, role: str, restricted: bool, route: Route | None = None, replaced: bool = False
) -> tuple[Move, ...]:
    """What this role may note next about a pair in that state."""
    return tuple(
        Move(
            state=change.after,
            words=change.words,
            asks_date=change.asks_date,
            asks_practitioner=restricted and change.names_practitioner,
        )
        for change in changes_from(state, role=role, restricted=restricted, route=route, replaced=replaced)
        if not change.own_page
    )

"""What can happen next to a pair, and what of it the desk may note. Common practice; a practice agrees its own."""

from dataclasses import dataclass

from app.records.pair_states import STATE_OF


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """One thing that can be noted: its state, the words on its button, and what it needs besides."""

    state: str
    words: str
    asks_date: bool = False
    """A promised date can go with it."""
    asks_practitioner: bool = False
    """For a restricted group: the practitioner who was there is named."""


WORDS = {
    "agreed": "Quote agreed",
    "ordered": "Ordered",
    "being_made": "Maker has it",
    "query": "Maker asks",
    "fit_up_booked": "Fit-up booked",
    "glazing": "Lenses being fitted",
    "received": "Received",
    "checked": "Checked, ready",
    "returned": "Sent back to the maker",
    "told": "Told",
    "collected": "Collected",
    "after_care": "After-care opened",
    "closed": "Closed",
    "on_hold": "Put on hold",
    "remake": "To be made again",
    "cancelled": "Cancelled",
}
NEXT: dict[str, tuple[str, ...]] = {
    "signed": ("agreed", "ordered", "on_hold"),
    "agreed": ("ordered", "on_hold"),
    "ordered": ("being_made", "query", "received"),
    "being_made": ("query", "fit_up_booked", "received"),
    "query": ("being_made", "on_hold"),
    "fit_up_booked": ("glazing",),
    "glazing": ("received",),
    "received": ("checked", "returned"),
    "returned": ("received",),
    "checked": ("told", "collected"),
    "told": ("told", "collected"),
    "collected": ("after_care", "closed"),
    "after_care": ("closed", "remake"),
    "on_hold": ("agreed", "ordered", "being_made"),
    "remake": ("being_made", "received"),
    "measuring": (),
    "choosing": (),
    "referred": (),
    "closed": ("after_care",),
    "cancelled": (),
}
"""By state: what usually comes next, likeliest first."""
NOT_AT_THE_DESK = ("checked", "returned", "remake", "closed")
"""Measuring a pair against its order, and what follows from it, is not reception's."""
WITH_A_DATE = ("ordered", "being_made", "fit_up_booked", "remake", "returned")
WITH_A_PRACTITIONER = ("fit_up_booked", "collected")


REPLACED = {
    "ordered": "New version ordered, old one recalled",
    "received": "Received",
    "on_hold": "Put on hold",
}
"""What can be noted of a pair made by a version that was replaced: first of all that the new one went out."""


def moves_from(state: str, *, role: str, restricted: bool, replaced: bool = False) -> tuple[Move, ...]:
    """What this role may note next about a pair in that state."""
    words = REPLACED if replaced else {after: WORDS[after] for after in NEXT[state]}
    barred = NOT_AT_THE_DESK if role == "receptionist" else ()
    return tuple(
        Move(
            state=after,
            words=said,
            asks_date=after in WITH_A_DATE,
            asks_practitioner=restricted and after in WITH_A_PRACTITIONER,
        )
        for after, said in words.items()
        if after not in barred and not STATE_OF[after].practitioner_only
    )

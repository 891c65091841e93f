"""The life of a pair as a state machine: what can come next, who may say so, and what must be there first.

Common practice in dispensing; a practice agrees its own. Restricted groups (under 16, registered sight
impaired): a registered practitioner is named at the fit-up and at collection, and measures what comes in (UK
Opticians Act 1989 s. 27 and its exemptions, as a default; local rules come first).
"""

from dataclasses import dataclass, replace
from typing import Literal

from app.records.pair_states import STATE_OF

Route = Literal["fit_up", "straight_through"]
OwnPage = Literal["", "receipt", "remake"]

EVERYBODY = frozenset({"practitioner", "assistant", "receptionist"})
MEASURING = frozenset({"practitioner", "assistant"})
PRACTITIONER = frozenset({"practitioner"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One change of state: `after`, the words on its button, who may, and what it needs."""

    after: str
    words: str
    roles: frozenset[str] = EVERYBODY
    asks_date: bool = False
    """A promised date can go with it."""
    names_practitioner: bool = False
    """For a restricted group: the practitioner who was there is named."""
    restricted_roles: frozenset[str] | None = None
    """Who may, where the person belongs to a restricted group; None: as for everybody."""
    own_page: OwnPage = ""
    """Not a button: the change is made by its own page, which asks for more (measured values, a cause)."""


def _change(after: str, words: str, **more: object) -> Change:
    return Change(after=after, words=words, **more)  # type: ignore[arg-type]


CHANGES: dict[str, Change] = {
    change.after: change
    for change in (
        _change("agreed", "Quote agreed"),
        _change("ordered", "Ordered", asks_date=True),
        _change("being_made", "Maker has it", asks_date=True),
        _change("query", "Maker asks"),
        _change("fit_up_booked", "Fit-up booked", asks_date=True, names_practitioner=True),
        _change("glazing", "Lenses being fitted"),
        _change("received", "Received"),
        _change(
            "checked",
            "Checked, ready",
            roles=MEASURING,
            restricted_roles=PRACTITIONER,
            own_page="receipt",
        ),
        _change("returned", "Sent back to the maker", roles=MEASURING, asks_date=True, own_page="receipt"),
        _change("told", "Told"),
        _change("collected", "Collected", names_practitioner=True),
        _change("after_care", "After-care opened"),
        _change("closed", "Closed", roles=MEASURING),
        _change("on_hold", "Put on hold"),
        _change("remake", "To be made again", roles=PRACTITIONER, asks_date=True, own_page="remake"),
        _change("cancelled", "Cancelled", roles=PRACTITIONER),
    )
}
"""By the state that it leads to."""

NEXT: dict[str, tuple[str, ...]] = {
    "signed": ("agreed", "ordered", "on_hold", "cancelled"),
    "agreed": ("ordered", "on_hold", "cancelled"),
    "ordered": ("being_made", "query", "received", "on_hold", "cancelled"),
    "being_made": ("query", "fit_up_booked", "received", "cancelled"),
    "query": ("being_made", "on_hold", "cancelled"),
    "fit_up_booked": ("glazing", "query"),
    "glazing": ("received", "query"),
    "received": ("checked", "returned"),
    "returned": ("received", "query", "remake", "cancelled"),
    "checked": ("told", "collected"),
    "told": ("told", "collected"),
    "collected": ("after_care", "closed", "remake"),
    "after_care": ("closed", "remake"),
    "on_hold": ("agreed", "ordered", "being_made", "cancelled"),
    "remake": ("being_made", "query", "received"),
    "measuring": (),
    "choosing": (),
    "referred": (),
    "closed": ("after_care",),
    "cancelled": (),
}
"""By state: what can come next, likeliest first."""
ONLY_BY_ROUTE: dict[tuple[str, str], Route] = {
    ("being_made", "fit_up_booked"): "fit_up",
    ("being_made", "received"): "straight_through",
    ("ordered", "received"): "straight_through",
}
"""A frame that comes back for a fit-up first is booked for it; one that goes straight through is received."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PairFacts:
    """What decides about a change: where the pair is, whose it is, its route, and what is there."""

    state: str
    restricted: bool = False
    route: Route | None = None
    practitioner: str = ""
    """The registered practitioner who is named."""
    decided: str = ""
    """Outcome of the measuring of what came in last: pass, concession, return, or nothing yet."""
    cause: str = ""
    """Why the pair is made again."""
    replaced: bool = False
    """It was ordered by a version that a newer one replaced."""


OUTCOMES_FOR = {"checked": ("pass", "concession"), "returned": ("return",)}


REPLACED: dict[str, str] = {
    "ordered": "New version ordered, old one recalled",
    "received": "Received",
    "on_hold": "Put on hold",
}
"""What can be said of a pair made by a version that was replaced: first of all that the new one went out."""


def changes_from(
    state: str, *, role: str, restricted: bool, route: Route | None = None, replaced: bool = False
) -> tuple[Change, ...]:
    """What this role may say next about a pair in that state, likeliest first."""
    if replaced:
        return tuple(
            replace(CHANGES[after], words=words)
            for after, words in REPLACED.items()
            if role in _roles(CHANGES[after], restricted=restricted)
        )
    return tuple(
        CHANGES[after]
        for after in NEXT[state]
        if _on_route(state, after, route) and role in _roles(CHANGES[after], restricted=restricted)
    )


def refusal(facts: PairFacts, after: str, *, role: str) -> str | None:
    """Why this role may not say now that the pair is `after`, in words; None where it may."""
    if after not in (REPLACED if facts.replaced else NEXT[facts.state]):
        return "This pair is elsewhere by now. Look where it is, then choose what happened next."
    change, wanted = CHANGES[after], STATE_OF[after].label
    if not facts.replaced and not _on_route(facts.state, after, facts.route):
        return f"This order goes another way: “{wanted}” does not come next on the route that was chosen."
    roles = _roles(change, restricted=facts.restricted)
    if role not in roles:
        return f"“{wanted}” is said by a {' or '.join(sorted(roles, reverse=True))}."
    if change.names_practitioner and facts.restricted and not facts.practitioner:
        return "For under-16s and people registered sight impaired: name the practitioner who is there."
    if after in OUTCOMES_FOR and facts.decided not in OUTCOMES_FOR[after]:
        return "Measure what came in against the order first, and decide there."
    if after == "remake" and not facts.cause:
        return "Choose the cause of the remake from the list."
    return None


def _on_route(state: str, after: str, route: Route | None) -> bool:
    """Where no route was chosen both are open."""
    return route is None or ONLY_BY_ROUTE.get((state, after), route) == route


def _roles(change: Change, *, restricted: bool) -> frozenset[str]:
    if restricted and change.restricted_roles is not None:
        return change.restricted_roles
    return change.roles

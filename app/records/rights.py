"""Which role may do what to the records, in one table.

Default policy of a practice, common practice in dispensing: an assistant takes what needs no tool near the eye
and types what is dictated; a practitioner accepts, judges and signs; reception keeps people and their pairs;
the manager keeps accounts and settings. Local rules come first.
"""

from app.records.actor import Actor
from app.records.errors import NotAllowed

ROLES = ("practitioner", "assistant", "receptionist", "manager")

RIGHTS: dict[str, frozenset[str]] = {
    "keep a person's details": frozenset({"practitioner", "assistant", "receptionist"}),
    "enter readings": frozenset({"practitioner", "assistant"}),
    "accept readings": frozenset({"practitioner"}),
    "answer findings": frozenset({"practitioner", "assistant"}),
    "decide that a finding is right": frozenset({"practitioner"}),
    "sign off": frozenset({"practitioner"}),
    "note what happens to a pair": frozenset({"practitioner", "assistant", "receptionist"}),
    "send orders": frozenset({"practitioner", "assistant"}),
    "answer the bench": frozenset({"practitioner"}),
    "measure what came in": frozenset({"practitioner", "assistant"}),
    "let a difference pass": frozenset({"practitioner"}),
    "hand over a pair": frozenset({"practitioner"}),
    "keep the address book": frozenset({"practitioner", "manager"}),
    "keep accounts": frozenset({"manager"}),
    "change the practice's settings": frozenset({"manager"}),
}


def may(actor: Actor, action: str) -> bool:
    """True where the actor's role includes the action (a key of RIGHTS)."""
    return actor.role in RIGHTS[action]


def require(actor: Actor, action: str) -> None:
    """Raise NotAllowed, in words, where the actor's role does not include the action."""
    if not may(actor, action):
        who = " or ".join(role for role in ROLES if role in RIGHTS[action])
        raise NotAllowed(f"To {action} takes a {who}; {actor.name} is signed in as {actor.role}.")

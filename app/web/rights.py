"""Who may do what: the one table that routes, tests and the help page share."""

from typing import Literal

Role = Literal["practitioner", "assistant", "receptionist", "manager"]
ROLES: tuple[Role, ...] = ("practitioner", "assistant", "receptionist", "manager")

Right = Literal[
    "desk",
    "edit_person",
    "see_fitting",
    "measure_head",
    "measure_face",
    "choose",
    "answer_findings",
    "sign_off",
    "pair_events",
    "see_orders",
    "bench",
    "answer_bench",
    "hand_over",
    "makers",
    "exchange",
    "practice_settings",
    "accounts",
    "help",
    "interface",
]

RIGHTS: dict[Right, tuple[frozenset[Role], str]] = {
    "desk": (
        frozenset({"practitioner", "assistant", "receptionist"}),
        "find a person, see both pairs' status",
    ),
    "edit_person": (
        frozenset({"practitioner", "assistant", "receptionist"}),
        "add and correct a person's details",
    ),
    "see_fitting": (frozenset({"practitioner", "assistant"}), "open a fitting"),
    "measure_head": (
        frozenset({"practitioner", "assistant"}),
        "take head measurements and sizes off a pair; an assistant's are proposed until accepted",
    ),
    "measure_face": (frozenset({"practitioner"}), "take every reading near the eye, and the cover test"),
    "choose": (frozenset({"practitioner"}), "enter the prescription and the choices for both pairs"),
    "answer_findings": (frozenset({"practitioner"}), "answer findings, accept proposed readings"),
    "sign_off": (frozenset({"practitioner"}), "sign off, and open a new version"),
    "pair_events": (
        frozenset({"practitioner", "assistant", "receptionist"}),
        "record where a pair is: ordered, received, told, collected",
    ),
    "see_orders": (frozenset({"practitioner", "assistant"}), "open and print order sheets"),
    "bench": (
        frozenset({"practitioner", "assistant"}),
        "send orders, note what the bench asks, measure what came in",
    ),
    "answer_bench": (
        frozenset({"practitioner"}),
        "answer the bench, let a difference pass, have a pair made again",
    ),
    "hand_over": (frozenset({"practitioner"}), "hand over a pair with its checks and advice"),
    "makers": (frozenset({"practitioner", "manager"}), "keep the address book of makers"),
    "exchange": (frozenset({"practitioner"}), "take files of a fitting out, take a prescription in"),
    "practice_settings": (frozenset({"manager"}), "change the practice's adjustments and ways of working"),
    "accounts": (frozenset({"manager"}), "add accounts"),
    "help": (frozenset(ROLES), "read the help pages"),
    "interface": (frozenset({"practitioner", "assistant"}), "use the JSON interface with a token"),
}


def may(role: str, right: Right) -> bool:
    """True where the role has the right."""
    return role in RIGHTS[right][0]

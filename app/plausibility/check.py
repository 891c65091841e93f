"""A check: one small pure function with its name, words, limits and source; and the decorator that enters it."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from app.plausibility.facts import Facts
from app.plausibility.finding import Offer, Severity, Subject
from app.plausibility.value import Stated, Value

CLOSE_ENOUGH = 1e-9
"""Differences of decimal fractions are compared with this much room, so that 60.6 − 60.1 is not above 0.5."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """What a check saw. `on` are the numbers it was seen on, and what it is about unless `about` says otherwise."""

    severity: Severity
    on: tuple[Value | Stated, ...]
    message: str
    suspect: Subject | None = None
    offers: tuple[Offer, ...] = ()
    suggest: str = ""
    """What to do, where it differs from what the check says in general."""
    about: tuple[Subject, ...] = ()
    root: tuple[Subject, ...] | None = None
    """Where this is a stop: the numbers that nothing else should be judged on. None: all it was seen on."""


Find = Callable[[Facts], Iterator[Seen]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One check. Its page of the help is made from these words."""

    name: str
    family: str
    title: str
    looks_at: str
    why: str
    limits: str
    suggest: str
    """What to do now."""
    cost: str
    """What it costs at the bench, or later, when it is ignored."""
    source: str
    severities: tuple[Severity, ...]
    find: Find
    holds_back: bool = True
    """Its stops hold back checks on the same numbers. False where no number is in doubt, only the record."""


ENTERED: dict[str, Check] = {}
"""All checks whose files were imported, by name. families.py imports every one and puts them in order."""


def check(
    name: str,
    *,
    family: str,
    title: str,
    looks_at: str,
    why: str,
    limits: str,
    suggest: str,
    cost: str,
    source: str,
    severities: tuple[Severity, ...],
    holds_back: bool = True,
) -> Callable[[Find], Find]:
    """Enters a function into ENTERED under a name in plain words. Raises ValueError where the name is taken."""

    def enter(find: Find) -> Find:
        if name in ENTERED:
            raise ValueError(f"there are two checks named {name}")
        ENTERED[name] = Check(
            name=name,
            family=family,
            title=title,
            looks_at=looks_at,
            why=why,
            limits=limits,
            suggest=suggest,
            cost=cost,
            source=source,
            severities=severities,
            find=find,
            holds_back=holds_back,
        )
        return find

    return enter


def exceeds(number: float, limit: float) -> bool:
    """True where a number lies above a limit; a number at the limit does not."""
    return number > limit + CLOSE_ENOUGH


def reaches(number: float, limit: float) -> bool:
    """True where a number lies at or above a limit."""
    return number >= limit - CLOSE_ENOUGH


def above(
    number: float,
    *,
    note: float | None = None,
    ask: float | None = None,
    stop: float | None = None,
    refer: float | None = None,
) -> Severity | None:
    """The severity of a number above the first limit that it exceeds, gravest first; None where it exceeds none."""
    return _graded(number, exceeds, note=note, ask=ask, stop=stop, refer=refer)


def at_least(
    number: float,
    *,
    note: float | None = None,
    ask: float | None = None,
    stop: float | None = None,
    refer: float | None = None,
) -> Severity | None:
    """As `above`, for limits that already count when they are reached."""
    return _graded(number, reaches, note=note, ask=ask, stop=stop, refer=refer)


def _graded(number: float, passes: Callable[[float, float], bool], **limits: float | None) -> Severity | None:
    for severity in (Severity.REFER, Severity.STOP, Severity.ASK, Severity.NOTE):
        limit = limits[severity.value]
        if limit is not None and passes(number, limit):
            return severity
    return None


def swapped(first: Value, second: Value) -> Offer:
    """The offer that two readings stand in each other's box."""
    return Offer(
        words=f"Swapped? {second} and {first}",
        corrections=((first.subject, second.number), (second.subject, first.number)),
    )

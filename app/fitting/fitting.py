"""A fitting as a value: everything that was taken, answered and chosen at one visit."""

from dataclasses import dataclass, field
from datetime import date
from typing import Literal

from app.fitting.cover_test import CoverTest
from app.fitting.pair import Pair
from app.fitting.prescription import Prescription
from app.fitting.reading import NotTaken, Reading

CHILD_UNDER_YEARS = 16
"""Under 16: child limits, and a restricted group. Source: UK Opticians Act 1989 s.27 (age 16), as a default."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """Who was measured. `born` is an ISO 8601 date; sex F, M or None (not stated)."""

    reference: str
    born: str | None = None
    sex: Literal["F", "M"] | None = None
    registered_sight_impaired: bool = False

    def age_on(self, day: str) -> int | None:
        """Whole years on an ISO 8601 date, None where the date of birth is not known."""
        if self.born is None:
            return None
        born, then = date.fromisoformat(self.born), date.fromisoformat(day)
        return then.year - born.year - ((then.month, then.day) < (born.month, born.day))


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """When and by whom the fitting was taken; `supervisor` is the registered practitioner present, by name."""

    on: str
    by: str | None = None
    role: str | None = None
    supervisor: str | None = None
    room_light: str | None = None
    from_paper: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitting:
    """One fitting. `history` holds answers to the person step's questions by key of app.catalogue.choices."""

    person: Person
    taken: Taken
    readings: tuple[Reading, ...] = ()
    not_taken: tuple[NotTaken, ...] = ()
    cover_test: CoverTest = field(default_factory=CoverTest)
    prescription: Prescription | None = None
    pairs: tuple[Pair, ...] = ()
    history: dict[str, str] = field(default_factory=dict)

    @property
    def age(self) -> int | None:
        """Whole years on the day of the fitting."""
        return self.person.age_on(self.taken.on)

    @property
    def child(self) -> bool:
        """True under 16; false where the age is not known, which is a finding of its own."""
        age = self.age
        return age is not None and age < CHILD_UNDER_YEARS

    @property
    def restricted(self) -> bool:
        """True for groups that law usually restricts: under 16, registered sight impaired."""
        return self.child or self.person.registered_sight_impaired

    def pair(self, number: int) -> Pair | None:
        """The pair of that number."""
        return next((pair for pair in self.pairs if pair.pair == number), None)

    def prescription_for(self, pair: Pair) -> Prescription | None:
        """The pair's own prescription where it has one, else the fitting's."""
        return pair.prescription or self.prescription

"""A person's details as the practice keeps them, and the columns that search looks at."""

from dataclasses import asdict, dataclass, fields
from datetime import date
from typing import Literal

from app.records.errors import NotStorable
from app.records.search_text import compact, digits_of, normalised
from app.records.storable import text_of
from app.records.tables import naming as wide


@dataclass(frozen=True, slots=True, kw_only=True)
class PersonDetails:
    """What the practice knows of a person. `born` is an ISO 8601 date; an empty reference is given at saving."""

    reference: str = ""
    family_name: str = ""
    given_name: str = ""
    preferred_name: str = ""
    born: str | None = None
    sex: Literal["F", "M"] | None = None
    telephone: str = ""
    email: str = ""
    address_line: str = ""
    contact_channel: str = ""
    leave_message: bool = False
    permission_to_speak: str = ""
    registered_sight_impaired: bool = False
    note: str = ""

    @property
    def name(self) -> str:
        """Given and family name, or the reference where no name is known."""
        return f"{self.given_name} {self.family_name}".strip() or self.reference


_LONGEST = {
    "reference": wide.SHORT,
    "telephone": wide.SHORT,
    "contact_channel": wide.KEY,
    "note": wide.NOTE,
}


def checked(details: PersonDetails) -> PersonDetails:
    """The details, refused in words where one of them cannot be kept."""
    for name, value in asdict(details).items():
        if isinstance(value, str):
            text_of(value, what=name.replace("_", " "), longest=_LONGEST.get(name, wide.NAME))
    if details.born is not None:
        checked_day(details.born, what="date of birth", example="1961-05-30")
    if details.sex not in ("F", "M", None):
        raise NotStorable("Sex is F, M or left out.")
    return details


def checked_day(day: str, *, what: str, example: str) -> str:
    """An ISO 8601 calendar day, refused in words where it is none."""
    try:
        if len(day) != len(example):
            raise ValueError(day)
        return date.fromisoformat(day).isoformat()
    except ValueError as error:
        raise NotStorable(f"The {what} is not a date; write it as {example}.") from error


def searchable(details: PersonDetails) -> dict[str, str]:
    """The columns that search looks at."""
    family, given = normalised(details.family_name), normalised(details.given_name)
    preferred, reference = normalised(details.preferred_name), normalised(details.reference)
    telephone = digits_of(details.telephone)
    words = (family, given, preferred, family, reference, compact(details.reference), telephone)
    return {
        "search_text": " ".join(word for word in words if word),
        "search_family": f"{family} {given}".strip(),
        "search_given": f"{preferred or given} {family}".strip(),
        "search_reference": compact(details.reference),
        "search_telephone": telephone[::-1],
    }


def from_document(document: dict[str, object]) -> PersonDetails:
    """The details of a stored version; what a later version of the app no longer knows is left out."""
    known = {field.name for field in fields(PersonDetails)}
    return PersonDetails(**{name: value for name, value in document.items() if name in known})  # type: ignore[arg-type]

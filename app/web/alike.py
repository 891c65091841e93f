"""People already here who may be the same as a new one: same name and birth, or same telephone."""

from dataclasses import dataclass

from app.records.database import Database
from app.records.person_details import PersonDetails
from app.records.search import PersonHit, find_people
from app.records.search_text import digits_of, normalised

MOST_SHOWN = 5
COMPARED_DIGITS = 9
"""From the end: with or without a leading 0 or a country's number it is the same telephone."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Alike:
    """Somebody already here, and why it may be the same person."""

    person_id: str
    name: str
    born_year: str
    reference: str
    why: str


def people_alike(database: Database, details: PersonDetails) -> tuple[Alike, ...]:
    """Possible doubles of a person about to be stored, most alike first."""
    found: dict[str, Alike] = {}
    for sought in (f"{details.given_name} {details.family_name}", details.family_name, details.telephone):
        for hit in find_people(database, sought) if sought.strip() else []:
            why = reasons(hit, details)
            if why and hit.person_id not in found:
                found[hit.person_id] = _alike(hit, why)
    most_reasons_first = sorted(found.values(), key=lambda one: -one.why.count("same"))
    return tuple(most_reasons_first[:MOST_SHOWN])


def reasons(hit: PersonHit, details: PersonDetails) -> str:
    """Why the two may be one person, in words; nothing where they need not be.

    The same name without a date of birth on one of the two is worth a look as well.
    """
    same_name = normalised(hit.name) == normalised(f"{details.given_name} {details.family_name}")
    same_family = normalised(hit.family_name) == normalised(details.family_name)
    same_birth = details.born is not None and hit.born == details.born
    unknown_birth = details.born is None or hit.born is None
    why = []
    if same_name and (same_birth or unknown_birth):
        why.append("same name")
    if same_birth and (same_name or same_family):
        why.append("same date of birth")
    if _same_telephone(hit.telephone, details.telephone):
        why.append("same telephone")
    return ", ".join(why)


def _same_telephone(one: str, other: str) -> bool:
    first, second = digits_of(one)[-COMPARED_DIGITS:], digits_of(other)[-COMPARED_DIGITS:]
    return bool(first) and first == second


def _alike(hit: PersonHit, why: str) -> Alike:
    return Alike(
        person_id=hit.person_id,
        name=hit.name,
        born_year=(hit.born or "")[:4],
        reference=hit.reference,
        why=why,
    )

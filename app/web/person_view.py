"""A person as pages show them: name, age, restricted group, visits."""

from dataclasses import dataclass
from datetime import date

from app.fitting.fitting import CHILD_UNDER_YEARS, Person
from app.records.database import Database
from app.records.fittings import fittings_of
from app.records.people import PersonRecord
from app.records.stored_fitting import FittingSummary


@dataclass(frozen=True, slots=True, kw_only=True)
class PersonView:
    """One person for a page."""

    person_id: str
    name: str
    called: str
    reference: str
    born: str | None
    age: int | None
    restricted: str
    """Why a practitioner must be there, in words; empty where the group is not restricted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Visit:
    """One fitting on a person's page."""

    address: str
    on: str
    state: str
    progress: str


def person_view(record: PersonRecord, *, today: date | None = None) -> PersonView:
    """A person as they are today."""
    details = record.details
    then = (today or date.today()).isoformat()
    age = Person(reference=details.reference, born=details.born).age_on(then)
    return PersonView(
        person_id=record.person_id,
        name=details.name,
        called=details.preferred_name,
        reference=details.reference,
        born=details.born,
        age=age,
        restricted=restricted_words(age, sight_impaired=details.registered_sight_impaired),
    )


def restricted_words(age: int | None, *, sight_impaired: bool) -> str:
    """Why the person belongs to a group for which a practitioner must be there; empty where they do not."""
    reasons = []
    if age is not None and age < CHILD_UNDER_YEARS:
        reasons.append(f"under {CHILD_UNDER_YEARS}")
    if sight_impaired:
        reasons.append("registered sight impaired")
    return ", ".join(reasons)


def visits_of(database: Database, person_id: str) -> tuple[Visit, ...]:
    """A person's fittings, the newest first."""
    return tuple(_visit(summary) for summary in fittings_of(database, person_id))


def _visit(summary: FittingSummary) -> Visit:
    base = f"/fittings/{summary.fitting_id}"
    signed = summary.state == "signed"
    by = f"by {summary.taken_by}" if summary.taken_by else ""
    return Visit(
        address=f"{base}/orders/1" if signed else f"{base}/overview",
        on=summary.taken_on,
        state=f"signed, version {summary.signed_version}" if signed else "open",
        progress=f"{by}, from paper" if summary.from_paper else by,
    )

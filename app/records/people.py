"""People: saving and loading their details, every version kept."""

import json
from collections.abc import Iterable
from dataclasses import asdict, dataclass, replace
from typing import Any

from sqlalchemy import Connection, Row, bindparam, func, insert, select, update
from sqlalchemy.exc import IntegrityError

from app.records.actor import Actor
from app.records.database import Database
from app.records.errors import AlreadyUsed, Conflict, NotFound
from app.records.field_value import FieldValue
from app.records.identity import new_identity, now
from app.records.person_details import PersonDetails, checked, from_document, searchable
from app.records.requests import Answer, Request, write_once
from app.records.rights import require
from app.records.search_text import compact
from app.records.tables.people import PERSON, PERSON_VERSION

_BY_IDENTITY = select(PERSON).where(PERSON.c.identity == bindparam("person"))
_VERSION = select(PERSON_VERSION.c.document).where(
    PERSON_VERSION.c.person_id == bindparam("person_row"), PERSON_VERSION.c.version == bindparam("wanted")
)
_DETAILS = tuple(PersonDetails.__dataclass_fields__)


@dataclass(frozen=True, slots=True)
class PersonRecord:
    """A person's details as they stand: the version, and who saved it when."""

    person_id: str
    version: int
    details: PersonDetails
    by: str
    at: str


def save_person(
    database: Database,
    *,
    key: str,
    actor: Actor,
    details: PersonDetails,
    person_id: str | None = None,
    base_version: int | None = None,
) -> str:
    """Save a new person, or changed details that were made from `base_version`; gives the person's identity.

    What others changed meanwhile in other details is kept; where the same detail was changed, Conflict.
    """
    require(actor, "keep a person's details")
    body = [asdict(checked(details)), person_id, base_version]
    wish = Request(key=key, actor=actor, action="save_person", body=body)

    def work(connection: Connection) -> Answer:
        if person_id is None:
            return {"person": add_person(connection, actor, details)}
        return {"person": change_person(connection, actor, details, person_id, base_version)}

    return str(write_once(database, wish, work).answer["person"])


def load_person(database: Database, person_id: str) -> PersonRecord:
    """The person of that identity."""
    with database.read() as connection:
        return _record(_row(connection, person_id))


def person_versions(database: Database, person_id: str) -> tuple[PersonRecord, ...]:
    """Every version of a person's details, the oldest first."""
    with database.read() as connection:
        person = _row(connection, person_id)
        rows = connection.execute(
            select(PERSON_VERSION)
            .where(PERSON_VERSION.c.person_id == person.id)
            .order_by(PERSON_VERSION.c.version)
        ).all()
    return tuple(
        PersonRecord(person_id, row.version, from_document(json.loads(row.document)), row.by, row.at)
        for row in rows
    )


def person_with_reference(database: Database, reference: str) -> str | None:
    """The identity of the person with that reference, None where there is none."""
    with database.read() as connection:
        known = person_referred_to(connection, reference)
    return None if known is None else known.person_id


def person_referred_to(connection: Connection, reference: str) -> PersonRecord | None:
    """The person with that reference, None where there is none."""
    row = connection.execute(select(PERSON).where(PERSON.c.search_reference == compact(reference))).first()
    return None if row is None else _record(row)


def add_person(connection: Connection, actor: Actor, details: PersonDetails) -> str:
    """Add a new person within a write that has begun; gives the identity."""
    if not compact(details.reference):
        details = replace(details, reference=_next_reference(connection))
    identity = new_identity()
    row = {**_columns(details, version=1, actor=actor), "identity": identity}
    with _reference_in_words(details):
        added = connection.execute(insert(PERSON), row).inserted_primary_key
    _keep_version(connection, person_row=added[0] if added else 0, row=row)
    return identity


def change_person(
    connection: Connection, actor: Actor, mine: PersonDetails, person_id: str, base_version: int | None
) -> str:
    """Change a person's details within a write that has begun. Raises Conflict as save_person does."""
    row = _row(connection, person_id)
    record = _record(row)
    base = record.details
    if base_version != row.version:
        stored = connection.execute(_VERSION, {"person_row": row.id, "wanted": base_version or 0}).scalar()
        base = from_document(json.loads(stored)) if stored is not None else PersonDetails()
    details = _merged(base=base, theirs=record, mine=mine)
    if details != record.details:
        columns = _columns(details, version=row.version + 1, actor=actor)
        with _reference_in_words(details):
            connection.execute(update(PERSON).where(PERSON.c.id == row.id).values(columns))
        _keep_version(connection, person_row=row.id, row=columns)
    return person_id


def _merged(*, base: PersonDetails, theirs: PersonRecord, mine: PersonDetails) -> PersonDetails:
    """Mine where I changed something, theirs elsewhere; Conflict where both changed one detail differently."""
    now_there = theirs.details
    changed = [name for name in _DETAILS if getattr(mine, name) != getattr(base, name)]
    clashing = [
        name for name in changed if getattr(now_there, name) not in (getattr(base, name), getattr(mine, name))
    ]
    if clashing:
        raise Conflict(dict(_shown(theirs, clashing)))
    return replace(now_there, **{name: getattr(mine, name) for name in changed})


def _shown(record: PersonRecord, names: Iterable[str]) -> Iterable[tuple[str, FieldValue]]:
    for name in names:
        value = getattr(record.details, name)
        text = None if value is None else {True: "yes", False: "no"}.get(value, str(value))
        yield name, FieldValue(text, record.version, record.by, record.at)


def _columns(details: PersonDetails, *, version: int, actor: Actor) -> dict[str, Any]:
    return {
        **asdict(details),
        **searchable(details),
        "version": version,
        "account": actor.account,
        "by": actor.name,
        "at": now(),
    }


def _keep_version(connection: Connection, *, person_row: int, row: dict[str, Any]) -> None:
    document = {name: row[name] for name in _DETAILS}
    kept = {name: row[name] for name in ("version", "account", "by", "at")}
    values = {**kept, "person_id": person_row, "document": json.dumps(document, ensure_ascii=False)}
    connection.execute(insert(PERSON_VERSION), values)


def _next_reference(connection: Connection) -> str:
    """The next number of the practice that is not in use."""
    number = connection.execute(select(func.coalesce(func.max(PERSON.c.id), 0))).scalar_one() + 1
    in_use = select(PERSON.c.id).where(PERSON.c.search_reference == bindparam("reference"))
    while connection.execute(in_use, {"reference": f"{number:05d}"}).first() is not None:
        number += 1
    return f"{number:05d}"


def _row(connection: Connection, person_id: str) -> Row[Any]:
    row = connection.execute(_BY_IDENTITY, {"person": person_id}).first()
    if row is None:
        raise NotFound("person")
    return row


def _record(row: Row[Any]) -> PersonRecord:
    details = PersonDetails(**{name: getattr(row, name) for name in _DETAILS})
    return PersonRecord(row.identity, row.version, details, row.by, row.at)


class _reference_in_words:
    """Says whose reference it is when the database refuses a second person with the same one."""

    def __init__(self, details: PersonDetails) -> None:
        self._reference = details.reference

    def __enter__(self) -> None:
        """Nothing to prepare."""

    def __exit__(self, _kind: object, error: BaseException | None, _trace: object) -> None:
        if isinstance(error, IntegrityError) and "search_reference" in str(error.orig):
            raise AlreadyUsed(
                f"Another person already has the reference {self._reference}; "
                "look that person up, or choose another reference."
            ) from error

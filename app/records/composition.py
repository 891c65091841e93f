"""Putting a fitting together from its rows, in a fixed number of queries."""

from collections.abc import Sequence
from typing import Any

from sqlalchemy import BindParameter, Connection, Row, bindparam, select

from app.fitting.entry import NotUsable
from app.fitting.field_paths import UnknownField
from app.fitting.fields import check_field, fitting_with_fields
from app.fitting.fitting import Fitting, Person, Taken
from app.fitting.reading import EnteredInError, NotTaken, Reading
from app.records.errors import NotFound
from app.records.field_value import FieldValue
from app.records.kept import Kept
from app.records.storable import PARTS
from app.records.stored_fitting import SignedVersion, StoredAnswer, StoredFitting
from app.records.tables.fittings import ANSWER, FIELD, FITTING, SIGNED_VERSION
from app.records.tables.people import PERSON
from app.records.tables.readings import ACCEPTANCE, NOT_TAKEN, READING, READING_ERROR, WITHDRAWAL

_OF_FITTING: BindParameter[int] = bindparam("fitting_row")
_EARLIER = FITTING.alias("earlier")

_FITTING = (
    select(
        FITTING,
        PERSON.c.identity.label("person"),
        PERSON.c.version.label("person_version"),
        PERSON.c.reference,
        PERSON.c.born,
        PERSON.c.sex,
        PERSON.c.registered_sight_impaired,
        select(_EARLIER.c.identity)
        .where(_EARLIER.c.person_id == FITTING.c.person_id, _EARLIER.c.sequence < FITTING.c.sequence)
        .order_by(_EARLIER.c.sequence.desc())
        .limit(1)
        .scalar_subquery()
        .label("previous"),
    )
    .join(PERSON, PERSON.c.id == FITTING.c.person_id)
    .where(FITTING.c.identity == bindparam("fitting"))
)
_READINGS = (
    select(
        READING.c.measurement,
        READING.c.value_parts,
        READING.c.text,
        READING.c.side,
        READING.c.method,
        READING.c.condition,
        READING.c.instrument,
        READING.c.pair,
        READING.c.by,
        READING.c.role,
        READING.c.at,
        READING.c.note,
        READING.c.source,
        READING.c.proposed,
        ACCEPTANCE.c.by,
        READING.c.replaces,
        READING_ERROR.c.by,
        READING_ERROR.c.at,
        READING_ERROR.c.reason,
        READING.c.identity,
    )
    .outerjoin(ACCEPTANCE, ACCEPTANCE.c.reading_id == READING.c.id)
    .outerjoin(READING_ERROR, READING_ERROR.c.reading_id == READING.c.id)
    .where(READING.c.fitting_id == _OF_FITTING)
    .order_by(READING.c.id)
)
_NOT_TAKEN = (
    select(NOT_TAKEN)
    .outerjoin(WITHDRAWAL, WITHDRAWAL.c.not_taken_id == NOT_TAKEN.c.id)
    .where(NOT_TAKEN.c.fitting_id == _OF_FITTING, WITHDRAWAL.c.not_taken_id.is_(None))
    .order_by(NOT_TAKEN.c.id)
)
_FIELDS = (
    select(FIELD.c.path, FIELD.c.text, FIELD.c.version, FIELD.c.by, FIELD.c.at)
    .where(FIELD.c.fitting_id == _OF_FITTING)
    .order_by(FIELD.c.path)
)
_ANSWERS = (
    select(ANSWER.c.check, ANSWER.c.fingerprint, ANSWER.c.kind, ANSWER.c.words, ANSWER.c.by, ANSWER.c.at)
    .where(ANSWER.c.fitting_id == _OF_FITTING)
    .order_by(ANSWER.c.id)
)
_VERSIONS = (
    select(
        SIGNED_VERSION.c.number,
        SIGNED_VERSION.c.name,
        SIGNED_VERSION.c.registration,
        SIGNED_VERSION.c.reason,
        SIGNED_VERSION.c.document_sha256,
        SIGNED_VERSION.c.at,
    )
    .where(SIGNED_VERSION.c.fitting_id == _OF_FITTING)
    .order_by(SIGNED_VERSION.c.number)
)


def composed(connection: Connection, fitting_id: str, kept: Kept[StoredFitting]) -> StoredFitting:
    """The fitting of that identity, with all that surrounds it: one query where it did not change, else six.

    Every write to a fitting raises its revision and every change of the person's details their version, in the
    same transaction: what was made from the same two numbers is the same.
    """
    row: Any = connection.execute(_FITTING, {"fitting": fitting_id}).first()
    if row is None:
        raise NotFound("fitting")
    revision = (row.revision, row.person_version)
    known = kept.get(fitting_id, revision)
    if known is None:
        known = _made(connection, row)
        kept.keep(fitting_id, revision, known)
    return known


def _made(connection: Connection, row: Row[Any]) -> StoredFitting:
    wanted = {"fitting_row": row.id}
    fields = {path: FieldValue(*value) for path, *value in connection.execute(_FIELDS, wanted)}
    fitting = Fitting(
        person=_person(row),
        taken=_taken(row),
        readings=tuple(_reading(*columns) for columns in _rows(connection, _READINGS, wanted)),
        not_taken=tuple(_not_taken(gap) for gap in connection.execute(_NOT_TAKEN, wanted)),
    )
    texts = {path: value.text for path, value in fields.items() if value.text is not None}
    return StoredFitting(
        fitting_id=row.identity,
        person_id=row.person,
        fitting=_filled(fitting, texts),
        fields=fields,
        answers=tuple(StoredAnswer(*columns) for columns in connection.execute(_ANSWERS, wanted)),
        signed_versions=tuple(SignedVersion(*columns) for columns in connection.execute(_VERSIONS, wanted)),
        state=row.state,
        previous_fitting_id=row.previous,
        sequence=row.sequence,
        revision=row.revision,
        person_version=row.person_version,
    )


def _filled(fitting: Fitting, texts: dict[str, str]) -> Fitting:
    """The fitting with its fields. A field that this version of the app does not know stays in the store only.

    A question may leave the catalogue; the fittings in which it was answered must still open.
    """
    try:
        return fitting_with_fields(fitting, texts)
    except (NotUsable, UnknownField):
        known = {path: text for path, text in texts.items() if check_field(path, text) is None}
        return fitting_with_fields(fitting, known)


def _rows(connection: Connection, query: Any, wanted: dict[str, int]) -> Sequence[Any]:
    """All rows of a query with more columns than type checkers count."""
    rows: Sequence[Any] = connection.execute(query, wanted).all()
    return rows


def _person(row: Row[Any]) -> Person:
    return Person(
        reference=row.reference,
        born=row.born,
        sex=row.sex,
        registered_sight_impaired=row.registered_sight_impaired,
    )


def _taken(row: Row[Any]) -> Taken:
    return Taken(on=row.taken_on, by=row.taken_by, role=row.taken_role, from_paper=row.from_paper)


def _reading(
    measurement: str,
    value_parts: int,
    text: str,
    side: Any,
    method: str | None,
    condition: str | None,
    instrument: str | None,
    pair: int | None,
    by: str,
    role: str,
    at: str,
    note: str | None,
    source: Any,
    proposed: bool,
    accepted_by: str | None,
    replaces: str | None,
    error_by: str | None,
    error_at: str,
    error_reason: str,
    identity: str,
) -> Reading:
    """One reading from its columns, in the order in which they are selected."""
    error = EnteredInError(by=error_by, at=error_at, reason=error_reason) if error_by is not None else None
    return Reading(
        measurement=measurement,
        value=value_parts / PARTS,
        text=text,
        side=side,
        method=method,
        condition=condition,
        instrument=instrument,
        pair=pair,
        by=by,
        role=role,
        at=at,
        note=note,
        source=source,
        proposed=proposed and accepted_by is None,
        accepted_by=accepted_by,
        replaces=replaces,
        entered_in_error=error,
        identity=identity,
    )


def _not_taken(row: Row[Any]) -> NotTaken:
    return NotTaken(
        measurement=row.measurement,
        reason=row.reason,
        side=row.side,
        pair=row.pair,
        detail=row.detail,
        by=row.by,
        at=row.at,
    )

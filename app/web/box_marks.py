"""Marks on a box other than readings: not taken, entered in error, accepted."""

from datetime import UTC, datetime
from typing import Annotated

from fastapi import APIRouter, Form, Request
from fastapi.responses import Response

from app.catalogue.reasons import REASONS
from app.fitting.reading import NotTaken
from app.records.readings import accept_readings, add_not_taken, mark_entered_in_error, withdraw_not_taken
from app.web.box import pair_of, read_box
from app.web.chair import take_chair
from app.web.entry_view import Entered
from app.web.readings import Text, answer, refuse_near_eye, stay, stored
from app.web.session import MayAnswer, MayMeasure, Records

router = APIRouter()


@router.post("/fittings/{fitting_id}/not-taken")
def leave_out(
    request: Request,
    records: Records,
    fitting_id: str,
    box: Text,
    key: Text,
    reason: Text = "",
    detail: Text = "",
    *,
    who: MayMeasure,
) -> Response:
    """Note why a reading was not taken. A blank is information: it never becomes a zero."""
    place = read_box(box)
    refuse_near_eye(who, place)
    if reason not in REASONS:
        chair = take_chair(request, records, fitting_id)
        problem = "Choose the reason why this reading is not taken."
        return answer(request, chair, who, place, Entered(problem=problem), 422)
    gap = NotTaken(
        measurement=place.measurement.key,
        side=place.side,
        pair=pair_of(place.measurement),
        reason=reason,
        detail=detail.strip() or None,
        by=who.name,
        at=datetime.now(UTC).isoformat(timespec="seconds"),
    )
    add_not_taken(records, key=key, actor=who.actor, fitting_id=fitting_id, not_taken=gap)
    return stored(request, take_chair(request, records, fitting_id), who, place)


@router.post("/fittings/{fitting_id}/not-taken/withdraw")
def take_after_all(
    request: Request,
    records: Records,
    fitting_id: str,
    box: Text,
    key: Text,
    *,
    who: MayMeasure,
) -> Response:
    """The reading can be taken after all."""
    place = read_box(box)
    withdraw_not_taken(
        records,
        key=key,
        actor=who.actor,
        fitting_id=fitting_id,
        measurement=place.measurement.key,
        side=place.side,
        pair=pair_of(place.measurement),
    )
    return stay(request, take_chair(request, records, fitting_id), who, place)


@router.post("/fittings/{fitting_id}/entered-in-error")
def enter_in_error(
    request: Request,
    records: Records,
    fitting_id: str,
    box: Text,
    key: Text,
    identity: Text,
    reason: Text = "",
    *,
    who: MayMeasure,
) -> Response:
    """Strike a reading through: it stays legible, with who, when and why."""
    place = read_box(box)
    refuse_near_eye(who, place)
    if not reason.strip():
        chair = take_chair(request, records, fitting_id)
        problem = "Say in a few words why this reading was entered in error, for example “other patient”."
        return answer(request, chair, who, place, Entered(problem=problem), 422)
    mark_entered_in_error(
        records, key=key, actor=who.actor, fitting_id=fitting_id, identity=identity, reason=reason.strip()
    )
    return stay(request, take_chair(request, records, fitting_id), who, place)


@router.post("/fittings/{fitting_id}/accept")
def accept(
    request: Request,
    records: Records,
    fitting_id: str,
    box: Text,
    key: Text,
    identity: Annotated[list[str], Form()],
    *,
    who: MayAnswer,
) -> Response:
    """Accept the proposed readings that the practitioner saw in a box, and no other that came meanwhile."""
    place = read_box(box)
    accept_readings(records, key=key, actor=who.actor, fitting_id=fitting_id, identities=tuple(identity))
    return stored(request, take_chair(request, records, fitting_id), who, place)

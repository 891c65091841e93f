"""Answering a finding where it is shown: the reading is right, or one tap puts it right."""

from dataclasses import replace
from datetime import UTC, datetime
from typing import Annotated

from fastapi import APIRouter, Form, Request
from fastapi.responses import Response

from app.catalogue.catalogue import MEASUREMENTS
from app.fitting.reading import Reading
from app.plausibility.answers import not_an_answer
from app.records.answers import answer_finding
from app.records.readings import add_reading
from app.web.box import BoxKey, read_box
from app.web.chair import Chair, finding_of, take_chair
from app.web.entry_view import Entered
from app.web.readings import Text, answer, refuse_near_eye, stored
from app.web.session import MayAnswer, MayMeasure, Records, Who
from app.web.step_view import standing_in

router = APIRouter()


@router.post("/fittings/{fitting_id}/right-because")
def answer_beside_box(
    request: Request,
    records: Records,
    fitting_id: str,
    box: Text,
    key: Text,
    check: Text,
    fingerprint: Text,
    words: Text = "",
    *,
    who: MayAnswer,
) -> Response:
    """Answer a finding where it is shown: the reading is right, and why."""
    place = read_box(box)
    chair = take_chair(request, records, fitting_id)
    asked = finding_of(chair.open_findings, check, fingerprint)
    if asked is None:
        return stored(request, chair, who, place)
    problem = not_an_answer(asked, kind="right_because", words=words, working=chair.judgement.working)
    if problem:
        return answer(request, chair, who, place, Entered(problem=problem), 422)
    answer_finding(
        records,
        key=key,
        actor=who.actor,
        fitting_id=fitting_id,
        check=check,
        fingerprint=fingerprint,
        kind="right_because",
        words=words.strip(),
    )
    return stored(request, take_chair(request, records, fitting_id), who, place)


@router.post("/fittings/{fitting_id}/put-right")
def put_right(
    request: Request,
    records: Records,
    fitting_id: str,
    box: Text,
    key: Text,
    check: Text,
    fingerprint: Text,
    offer: Annotated[int, Form(ge=0, le=9)],
    *,
    who: MayMeasure,
) -> Response:
    """Take up an offer: each reading that it names is corrected, the old one staying legible."""
    place = read_box(box)
    chair = take_chair(request, records, fitting_id)
    asked = finding_of(chair.open_findings, check, fingerprint)
    if asked is None or offer >= len(asked.offers):
        return stored(request, chair, who, place)
    taken = asked.offers[offer]
    for count, (subject, value) in enumerate(taken.corrections):
        target = BoxKey(MEASUREMENTS[subject.measurement], subject.side, subject.method)
        refuse_near_eye(who, target)
        reading = corrected(who, chair, target, value, why=taken.words)
        add_reading(records, key=f"{key}-{count}", actor=who.actor, fitting_id=fitting_id, reading=reading)
    return stored(request, take_chair(request, records, fitting_id), who, place)


def corrected(who: Who, chair: Chair, place: BoxKey, value: float, *, why: str) -> Reading:
    """The reading that takes the place of a box's last one, with the offer's words as its note."""
    last = standing_in(chair, place)[-1]
    return replace(
        last,
        value=value,
        text=f"{value:g}",
        note=f"put right: {why}",
        by=who.name,
        role=who.role,
        at=datetime.now(UTC).isoformat(timespec="seconds"),
        replaces=last.identity,
        identity=None,
        proposed=who.role == "assistant",
        accepted_by=None,
    )

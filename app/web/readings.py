"""Taking a reading, correcting one, leaving one out: each stored before the answer goes out."""

from dataclasses import replace
from datetime import UTC, datetime
from typing import Annotated

from fastapi import APIRouter, Form, Request
from fastapi.responses import RedirectResponse, Response

from app.catalogue.catalogue import MEASUREMENTS, STEP_OF
from app.catalogue.reasons import REASONS
from app.fitting.entry import Entry, NotUsable, read_entry
from app.fitting.reading import NotTaken, Reading
from app.plausibility.answers import not_an_answer
from app.plausibility.slips import guess_slip
from app.records.answers import answer_finding
from app.records.drafts import save_draft
from app.records.errors import NotAllowed
from app.records.readings import (
    accept_readings,
    add_not_taken,
    add_reading,
    mark_entered_in_error,
    withdraw_not_taken,
)
from app.web.box import BoxKey, pair_of, read_box
from app.web.chair import Chair, take_chair
from app.web.rendering import is_fragment
from app.web.screens import screen_with
from app.web.session import MayAnswer, MayMeasure, Records, Who
from app.web.step_view import findings_about, standing_in
from app.web.steps import Entered, next_box, show_step

router = APIRouter()
Text = Annotated[str, Form()]
STAY = ("ask", "stop", "refer")


@router.post("/fittings/{fitting_id}/readings")
def take_reading(
    request: Request,
    records: Records,
    fitting_id: str,
    box: Text,
    key: Text,
    text: Text = "",
    sign_word: Text = "",
    method: Text = "",
    condition: Text = "",
    instrument: Text = "",
    note: Text = "",
    as_entered: Text = "",
    way: Text = "another",
    again: Text = "",
    source: Text = "typed",
    *,
    who: MayMeasure,
) -> Response:
    """Read what was typed; ask before storing what looks like a slip by ten; store; say how it stands."""
    place = read_box(box)
    refuse_near_eye(who, place)
    chosen = {"method": method, "condition": condition, "instrument": instrument, "note": note}
    kept = Entered(text=text, sign_word=sign_word, chosen=chosen, again=bool(again))
    chair = take_chair(request, records, fitting_id)
    try:
        entry = read_entry(place.measurement, text, sign_word=sign_word or None)
    except NotUsable as problem:
        return answer(request, chair, who, place, replace(kept, problem=problem.message), 422)
    offers = () if as_entered else guess_slip(place.measurement, entry.value, child=chair.fitting.child)
    if offers:
        return answer(request, chair, who, place, replace(kept, offers=offers), 422)
    last = standing_in(chair, place)
    corrects = last[-1].identity if way == "correction" and last else None
    reading = make_reading(who, place, entry, chosen, chair, source=source, replaces=corrects)
    add_reading(records, key=key, actor=who.actor, fitting_id=fitting_id, reading=reading)
    save_draft(records, account=who.account, fitting_id=fitting_id, field=box, text="")
    return stored(request, take_chair(request, records, fitting_id), who, place)


def make_reading(
    who: Who,
    place: BoxKey,
    entry: Entry,
    chosen: dict[str, str],
    chair: Chair,
    *,
    source: str,
    replaces: str | None,
) -> Reading:
    """The reading as it will be kept."""
    paper = chair.fitting.taken.from_paper
    return Reading(
        measurement=place.measurement.key,
        value=entry.value,
        text=entry.text,
        side=place.side,
        method=place.method or chosen["method"] or None,
        condition=chosen["condition"] or None,
        instrument=chosen["instrument"] or None,
        note=chosen["note"].strip() or None,
        pair=pair_of(place.measurement),
        by=who.name,
        role=who.role,
        at=datetime.now(UTC).isoformat(timespec="seconds"),
        source="paper" if paper else "instrument" if source == "instrument" else "typed",
        proposed=who.role == "assistant",
        replaces=replaces,
    )


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
    return answer(request, take_chair(request, records, fitting_id), who, place, Entered())


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
    return answer(request, take_chair(request, records, fitting_id), who, place, Entered())


@router.post("/fittings/{fitting_id}/accept")
def accept(
    request: Request,
    records: Records,
    fitting_id: str,
    box: Text,
    key: Text,
    *,
    who: MayAnswer,
) -> Response:
    """Accept an assistant's proposed readings in a box."""
    place = read_box(box)
    chair = take_chair(request, records, fitting_id)
    proposed = [
        reading.identity for reading in standing_in(chair, place) if reading.proposed and reading.identity
    ]
    accept_readings(records, key=key, actor=who.actor, fitting_id=fitting_id, identities=tuple(proposed))
    return stored(request, take_chair(request, records, fitting_id), who, place)


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
    asked = [one for one in chair.open_findings if (one.check, one.fingerprint) == (check, fingerprint)]
    if not asked:
        return stored(request, chair, who, place)
    problem = not_an_answer(asked[0], kind="right_because", words=words, working=chair.judgement.working)
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
    asked = [one for one in chair.open_findings if (one.check, one.fingerprint) == (check, fingerprint)]
    if not asked or offer >= len(asked[0].offers):
        return stored(request, chair, who, place)
    taken = asked[0].offers[offer]
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


@router.post("/fittings/{fitting_id}/draft")
def keep_draft(
    records: Records,
    fitting_id: str,
    box: Text,
    text: Text = "",
    *,
    who: MayMeasure,
) -> Response:
    """Keep a half-typed number, so that a reload, a lock or a dead battery does not lose it."""
    save_draft(records, account=who.account, fitting_id=fitting_id, field=str(read_box(box)), text=text[:80])
    return Response(status_code=204)


def refuse_near_eye(who: Who, place: BoxKey) -> None:
    """An assistant takes no reading with a tool near the eye."""
    if who.role == "assistant" and not place.measurement.assistant_may:
        raise NotAllowed(f"{place.measurement.label} is taken by the practitioner.")


def stored(request: Request, chair: Chair, who: Who, place: BoxKey) -> Response:
    """After storing: stay where something must be looked at, else arm the next box."""
    found = findings_about(chair.beside, place)
    stay = any(finding.severity in STAY for finding in found)
    step = STEP_OF[place.measurement.key]
    target = place if stay else next_box(chair, step, place)
    if not is_fragment(request):
        base = f"/fittings/{chair.stored.fitting_id}/steps/{step.key}"
        return RedirectResponse(f"{base}?box={target}&after={place}", status_code=303)
    return answer(request, chair, who, target, Entered(after=place))


def answer(
    request: Request, chair: Chair, who: Who, place: BoxKey, entered: Entered, status: int = 200
) -> Response:
    """The step again, with the box armed."""
    step = STEP_OF[place.measurement.key]
    return show_step(
        request, chair, who, step, screen_with(step, place.measurement.key), place, entered, status
    )

"""Taking a reading, correcting one, leaving one out: each stored before the answer goes out."""

from dataclasses import replace
from datetime import UTC, datetime
from typing import Annotated

from fastapi import APIRouter, Form, Request
from fastapi.responses import RedirectResponse, Response

from app.catalogue.catalogue import STEP_OF
from app.fitting.entry import Entry, NotUsable, read_entry
from app.fitting.reading import Reading
from app.plausibility.slips import guess_slip
from app.records.drafts import save_draft
from app.records.errors import NotAllowed
from app.records.readings import add_reading, withdraw_not_taken
from app.web.box import BoxKey, pair_of, read_box
from app.web.chair import Chair, take_chair
from app.web.entry_view import Entered
from app.web.rendering import is_fragment
from app.web.screens import screen_with
from app.web.session import MayMeasure, Records, Who
from app.web.step_view import findings_about, not_taken_in, standing_in
from app.web.steps import next_box, show_step

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
    last: Text = "",
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
    # The reading that the person saw, not the newest: another tablet may have added one meanwhile.
    seen = {reading.identity for reading in standing_in(chair, place)}
    corrects = last if way == "correction" and last in seen else None
    reading = make_reading(who, place, entry, chosen, chair, source=source, replaces=corrects)
    take_back_gap(records, who, chair, place, key)
    add_reading(records, key=key, actor=who.actor, fitting_id=fitting_id, reading=reading)
    clear_draft(records, who, fitting_id, box)
    return stored(request, take_chair(request, records, fitting_id), who, place)


def take_back_gap(records: Records, who: Who, chair: Chair, place: BoxKey, key: str) -> None:
    """A reading that could be taken after all is no longer "not taken"."""
    gap = not_taken_in(chair, place)
    if gap is None:
        return
    withdraw_not_taken(
        records,
        key=f"{key}-gap",
        actor=who.actor,
        fitting_id=chair.stored.fitting_id,
        measurement=gap.measurement,
        side=gap.side,
        pair=gap.pair,
    )


def clear_draft(records: Records, who: Who, fitting_id: str, box: str) -> None:
    """Forget the half-typed number that became a reading; costs a write only where there was one."""
    save_draft(records, account=who.account, fitting_id=fitting_id, field=box, text="")


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


def stay(request: Request, chair: Chair, who: Who, place: BoxKey) -> Response:
    """After a mark on a box: the same box again."""
    if not is_fragment(request):
        step = STEP_OF[place.measurement.key]
        base = f"/fittings/{chair.stored.fitting_id}/steps/{step.key}"
        return RedirectResponse(f"{base}?box={place}", status_code=303)
    return answer(request, chair, who, place, Entered())


def answer(
    request: Request, chair: Chair, who: Who, place: BoxKey, entered: Entered, status: int = 200
) -> Response:
    """The step again, with the box armed."""
    step = STEP_OF[place.measurement.key]
    return show_step(
        request, chair, who, step, screen_with(step, place.measurement.key), place, entered, status
    )

"""Step pages with readings: showing a step, and one box of it armed for entry."""

import secrets
from dataclasses import dataclass, field
from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, RedirectResponse

from app.catalogue.catalogue import STEP_OF
from app.catalogue.conditions import CONDITIONS
from app.catalogue.instruments import INSTRUMENTS
from app.catalogue.measurement import Measurement
from app.catalogue.reasons import REASONS
from app.catalogue.step import Step
from app.fitting.entry import in_words
from app.plausibility.finding import Offer
from app.records.drafts import load_draft
from app.records.errors import NotFound
from app.web import step_fields
from app.web.band_view import BandShown, shown_band, too_few
from app.web.box import BoxKey, read_box
from app.web.chair import Chair, take_chair
from app.web.rail import ordered_steps, rail, step_address, step_state
from app.web.rendering import render
from app.web.screens import STEPS_BY_KEY, Screen, screen_of, screen_with, screens_of
from app.web.session import MaySeeFitting, Records, Who
from app.web.step_moves import moves
from app.web.step_view import (
    SEVERITY_WORDS,
    box_keys,
    findings_about,
    is_open,
    not_taken_in,
    rows,
    shown_findings,
    side_words,
    standing_in,
    taken_in,
)

router = APIRouter()


@dataclass(frozen=True, slots=True, kw_only=True)
class Entered:
    """What the entry shows besides the box itself: kept text, a message, a guard's offers, the last outcome."""

    text: str = ""
    sign_word: str = ""
    problem: str = ""
    offers: tuple[Offer, ...] = ()
    after: BoxKey | None = None
    again: bool = False
    chosen: dict[str, str] = field(default_factory=dict)
    """Method, condition, instrument and note as chosen, to be shown again after a mistake."""


def step_of(key: str) -> Step:
    """The step of that key; NotFound where there is none."""
    if key not in STEPS_BY_KEY:
        raise NotFound("step")
    return STEPS_BY_KEY[key]


@router.get("/fittings/{fitting_id}")
@router.get("/fittings/{fitting_id}/resume")
def resume(
    request: Request,
    records: Records,
    fitting_id: str,
    *,
    who: MaySeeFitting,
) -> RedirectResponse:
    """Back to where a half-typed reading waits, else to the first step that is not done."""
    chair = take_chair(request, records, fitting_id)
    draft = load_draft(records, account=who.account, fitting_id=fitting_id)
    if draft is not None and draft.text:
        box = read_box(draft.field)
        address = step_address(chair, STEP_OF[box.measurement.key].key)
        return RedirectResponse(f"{address}?box={box}", status_code=303)
    steps = ordered_steps(chair)
    unfinished = next((step for step in steps if step_state(chair, step) in ("open", "begun")), steps[0])
    return RedirectResponse(step_address(chair, unfinished.key), status_code=303)


@router.get("/fittings/{fitting_id}/steps/{step}")
def open_step(
    request: Request,
    records: Records,
    fitting_id: str,
    step: str,
    part: str | None = None,
    box: str | None = None,
    after: str | None = None,
    again: bool = False,
    *,
    who: MaySeeFitting,
) -> HTMLResponse:
    """A step's page. `box` arms a box, `after` says how the reading just taken in another one stands."""
    declared = step_of(step)
    chair = take_chair(request, records, fitting_id)
    armed = read_box(box) if box else None
    screen = screen_with(declared, armed.measurement.key) if armed else screen_of(declared, part)
    if screen.kind != "readings":
        return step_fields.show(request, chair, who, declared, screen)
    draft = load_draft(records, account=who.account, fitting_id=fitting_id)
    text = draft.text if draft and armed and draft.field == str(armed) else ""
    entered = Entered(text=text, after=read_box(after) if after else None, again=again)
    return show_step(request, chair, who, declared, screen, armed, entered)


def show_step(
    request: Request,
    chair: Chair,
    who: Who,
    step: Step,
    screen: Screen,
    armed: BoxKey | None,
    entered: Entered,
    status: int = 200,
) -> HTMLResponse:
    """The page or fragment of a step with one box armed."""
    keys = box_keys(step, screen)
    armed = armed if armed in keys else first_open(chair, keys)
    taken = taken_in(chair, armed)
    hidden = entered.again and chair.settings.second_reading_blind and bool(standing_in(chair, armed))
    key = secrets.token_urlsafe(12)
    return render(
        request,
        "steps/readings.html",
        status,
        chair=chair,
        step=step,
        screen=screen,
        screens=screens_of(step),
        rail=rail(chair, step.key),
        rows=rows(chair, step, screen, armed, again=entered.again),
        armed=armed,
        armed_side=side_words(armed),
        measurement=armed.measurement,
        start=start_value(armed.measurement),
        usual_method=usual_method(chair, armed.measurement),
        guards=guards(armed, key, entered),
        condition_matters=condition_matters(chair, armed.measurement),
        entered=entered,
        taken=taken,
        last_seen=next((reading.identity for reading in reversed(standing_in(chair, armed))), ""),
        proposed_seen=[reading.identity for reading in standing_in(chair, armed) if reading.proposed],
        gap=not_taken_in(chair, armed),
        findings=shown_findings(chair, armed),
        outcome=outcome(chair, entered.after, armed),
        band_after=band_after(chair, entered.after, armed),
        previous=previous_value(chair, armed),
        key=key,
        reasons=REASONS,
        conditions=CONDITIONS,
        instruments=INSTRUMENTS,
        assistant_stopped=who.role == "assistant" and not armed.measurement.assistant_may,
        hidden=hidden,
        band=shown_band(chair, armed, hidden=hidden),
        too_few=too_few(chair, armed),
        moves=moves(chair, step, screen),
    )


def start_value(measurement: Measurement) -> str:
    """Where − and + start from in an empty box: the middle of the usual range, on the scale."""
    if measurement.signed:
        return "0"
    middle = (measurement.adult.usual.low + measurement.adult.usual.high) / 2
    return f"{round(middle / measurement.scale_step) * measurement.scale_step:g}"


def usual_method(chair: Chair, measurement: Measurement) -> str:
    """The method marked beforehand: the fellow eye covered where a squint is recorded, else the first."""
    keys = [method.key for method in measurement.methods]
    if chair.fitting.cover_test.squint and "fellow_eye_covered" in keys:
        return "fellow_eye_covered"
    return keys[0] if keys else ""


def condition_matters(chair: Chair, measurement: Measurement) -> bool:
    """True where the patient wears hearing aids and the reading depends on them: it is taken in and out."""
    aids = chair.fitting.history.get("hearing_aids", "none")
    return aids not in ("", "none") and "hearing_aid_in" in measurement.conditions


def guards(armed: BoxKey, key: str, entered: Entered) -> tuple[dict[str, Any], ...]:
    """The buttons of the out-by-ten guard: each likely value, and the value as it was typed."""
    if not entered.offers:
        return ()
    same = {"box": str(armed), "as_entered": "1", **entered.chosen}
    as_typed = {"text": entered.text, "sign_word": entered.sign_word}
    likely = [
        {
            "words": offer.words,
            "likely": True,
            "fields": {**same, "key": f"{key}-{place}", "text": f"{value:g}"},
        }
        for place, offer in enumerate(entered.offers, start=1)
        for _, value in offer.corrections[:1]
    ]
    kept = {
        "words": f"{entered.text} is what I read",
        "likely": False,
        "fields": {**same, **as_typed, "key": f"{key}-0"},
    }
    return (*likely, kept)


def first_open(chair: Chair, keys: tuple[BoxKey, ...]) -> BoxKey:
    """The first box without reading or reason, else the first."""
    return next((key for key in keys if is_open(chair, key)), keys[0])


def next_box(chair: Chair, step: Step, after: BoxKey) -> BoxKey:
    """Where to go after a reading: the next open box of the step, from here on first; itself when all are done."""
    keys = box_keys(step, screen_with(step, after.measurement.key))
    place = keys.index(after) if after in keys else -1
    ahead = [*keys[place + 1 :], *keys[: max(place, 0)]]
    return next((key for key in ahead if is_open(chair, key)), after)


def band_after(chair: Chair, after: BoxKey | None, armed: BoxKey) -> BandShown | None:
    """The band of the reading just taken, where the next box is armed already."""
    return (
        shown_band(chair, after)
        if after is not None and after != armed and standing_in(chair, after)
        else None
    )


def outcome(chair: Chair, after: BoxKey | None, armed: BoxKey) -> dict[str, str] | None:
    """How the reading just taken stands, in words; None where none was just taken."""
    if after is None:
        return None
    taken = standing_in(chair, after)
    if not taken:
        return {"words": f"{after.name}: noted as not taken.", "severity": "fine"}
    value = in_words(after.measurement, taken[-1].value)
    found = findings_about(chair.beside, after)
    if not found:
        return {"words": f"{after.name}: {value}, fine.", "severity": "fine"}
    # Still in the box that it is about, the finding stands in full beside it and need not be said twice.
    said = f"{SEVERITY_WORDS[found[0].severity]}: see beside." if after == armed else found[0].message
    return {"words": f"{after.name}: {value} kept. {said}", "severity": str(found[0].severity)}


def previous_value(chair: Chair, armed: BoxKey) -> str:
    """The last visit's value, only once the new one has been entered: seeing it first would lead the hand."""
    if chair.previous is None or not standing_in(chair, armed):
        return ""
    earlier = [
        reading
        for reading in chair.previous.readings
        if (reading.measurement, reading.side) == (armed.measurement.key, armed.side)
        and reading.entered_in_error is None
    ]
    return in_words(armed.measurement, earlier[-1].value) if earlier else ""

"""Step pages with readings: showing a step, and one box of it armed for entry."""

import secrets
from dataclasses import replace

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, RedirectResponse

from app.catalogue.catalogue import STEP_OF
from app.catalogue.conditions import CONDITIONS
from app.catalogue.instruments import INSTRUMENTS
from app.catalogue.reasons import REASONS
from app.catalogue.step import Step
from app.fitting.working import counting, waits
from app.records.drafts import load_draft, load_drafts
from app.records.errors import NotFound
from app.web import step_fields
from app.web.band_view import band_after, shown_band, too_few
from app.web.box import BoxKey, read_box
from app.web.chair import Chair, take_chair
from app.web.entry_view import (
    Entered,
    condition_matters,
    guards,
    half_typed,
    outcome,
    previous_value,
    start_value,
    third_wanted,
    usual_method,
)
from app.web.rail import ordered_steps, rail, step_address, step_state
from app.web.rendering import render
from app.web.screens import STEPS_BY_KEY, Screen, screen_of, screen_with, screens_of
from app.web.session import MaySeeFitting, Records, Who, database_of
from app.web.step_moves import moves
from app.web.step_view import (
    box_keys,
    findings_about,
    is_open,
    not_taken_in,
    rows,
    shown_findings,
    standing_in,
    taken_in,
)

router = APIRouter()


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
    entered = Entered(after=read_box(after) if after else None, again=again)
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
    records = database_of(request)
    keys = box_keys(step, screen)
    armed = armed if armed in keys else first_open(chair, keys)
    taken = taken_in(chair, armed)
    drafts = load_drafts(records, account=who.account, fitting_id=chair.stored.fitting_id)
    if not (entered.text or entered.problem or entered.offers):
        entered = replace(entered, text=next((one.text for one in drafts if one.field == str(armed)), ""))
    blind = chair.settings.second_reading_blind
    again = (entered.again or third_wanted(chair, armed)) and blind and bool(standing_in(chair, armed))
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
        rows=rows(chair, step, screen, armed, again=again),
        armed=armed,
        measurement=armed.measurement,
        start=start_value(armed.measurement),
        usual_method=usual_method(chair, armed.measurement),
        guards=guards(armed, key, entered),
        condition_matters=condition_matters(chair, armed.measurement),
        entered=entered,
        taken=taken,
        last_seen=next((reading.identity for reading in reversed(standing_in(chair, armed))), ""),
        proposed_seen=[reading.identity for reading in counting(standing_in(chair, armed)) if waits(reading)],
        gap=not_taken_in(chair, armed),
        findings=shown_findings(chair, findings_about(chair.judgement.findings, armed)),
        outcome=outcome(chair, entered.after, armed),
        previous=previous_value(chair, armed),
        key=key,
        reasons=REASONS,
        conditions=CONDITIONS,
        instruments=INSTRUMENTS,
        assistant_stopped=who.role == "assistant" and not armed.measurement.assistant_may,
        hidden=again,
        half_typed=half_typed(chair, drafts, armed),
        band=shown_band(chair, armed, hidden=again),
        band_after=band_after(chair, entered.after, armed),
        too_few=too_few(chair, armed),
        moves=moves(chair, step, screen),
    )


def first_open(chair: Chair, keys: tuple[BoxKey, ...]) -> BoxKey:
    """The first box without reading or reason, else the first."""
    return next((key for key in keys if is_open(chair, key)), keys[0])


def next_box(chair: Chair, step: Step, after: BoxKey) -> BoxKey:
    """Where to go after a reading: the next open box of the step, from here on first; itself when all are done."""
    keys = box_keys(step, screen_with(step, after.measurement.key))
    place = keys.index(after) if after in keys else -1
    ahead = [*keys[place + 1 :], *keys[: max(place, 0)]]
    return next((key for key in ahead if is_open(chair, key)), after)

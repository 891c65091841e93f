"""Step pages with questions: person, cover test, prescription, choices for the pairs."""

import re
import secrets
from collections.abc import Mapping

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from starlette.datastructures import FormData

from app.catalogue.step import Step
from app.fitting.field_paths import label_at
from app.fitting.fields import check_field, field_kept_as
from app.records.errors import Conflict, KeyReused, NotAllowed
from app.records.field_value import FieldValue
from app.records.field_values import save_fields
from app.web.chair import Chair, take_chair
from app.web.field_view import choice_at, field_box
from app.web.powers import power_table, read_back
from app.web.rail import rail, step_address
from app.web.rendering import is_fragment, render
from app.web.screens import STEPS_BY_KEY, Screen, screen_of, screens_of
from app.web.session import MayMeasure, Records, Who
from app.web.step_findings import findings_of_step
from app.web.step_moves import moves

router = APIRouter()
ASSISTANT_STEPS = frozenset({"person"})
VERSION = re.compile("[0-9]{1,9}")


def paths_of(screen: Screen) -> tuple[str, ...]:
    """The paths of the fields on a screenful."""
    return power_table(screen.holds[0]) if screen.kind == "powers" else screen.holds


def show(
    request: Request,
    chair: Chair,
    who: Who,
    step: Step,
    screen: Screen,
    typed: Mapping[str, str] | None = None,
    problems: Mapping[str, str] | None = None,
    status: int = 200,
) -> HTMLResponse:
    """The page of a screenful of fields, with what was typed and what is wrong beside each."""
    typed, problems = typed or {}, problems or {}
    boxes = {
        path: field_box(path, chair.stored.fields, typed.get(path), problems.get(path, ""))
        for path in paths_of(screen)
    }
    return render(
        request,
        "steps/powers.html" if screen.kind == "powers" else "steps/fields.html",
        status,
        chair=chair,
        step=step,
        screen=screen,
        screens=screens_of(step),
        rail=rail(chair, step.key),
        boxes=boxes,
        prefix=screen.holds[0],
        read_back=read_back(chair, screen.holds[0]) if screen.kind == "powers" else (),
        key=secrets.token_urlsafe(12),
        may_change=may_change(who, step) and not chair.frozen,
        findings=findings_of_step(chair, step),
        moves=moves(chair, step, screen),
        problems=[(box.identity, box.problem) for box in boxes.values() if box.problem],
    )


def may_change(who: Who, step: Step) -> bool:
    """Practitioners change every step's fields; an assistant those of the person's."""
    return who.may("choose") or (who.may("measure_head") and step.key in ASSISTANT_STEPS)


@router.post("/fittings/{fitting_id}/fields")
async def save(
    request: Request,
    records: Records,
    fitting_id: str,
    *,
    who: MayMeasure,
) -> Response:
    """Keep what was answered. htmx: after each answer, in place. Otherwise: all at once, then on."""
    form = await request.form()
    step = STEPS_BY_KEY.get(str(form.get("step")), STEPS_BY_KEY["person"])
    screen = screen_of(step, str(form.get("screen")))
    if not may_change(who, step):
        raise NotAllowed("These questions are for the practitioner.")
    chair = take_chair(request, records, fitting_id)
    only = form.get("only")
    typed = read_form(form, paths_of(screen) if only is None else tuple({str(only)} & set(paths_of(screen))))
    problems = {path: problem for path, text in typed.items() if (problem := check_field(path, text))}
    changes = changed(form, typed, chair.stored.fields, problems)
    try:
        keep(records, who, fitting_id, str(form.get("key")), changes)
    except Conflict as conflict:
        return show_conflict(request, chair, step, screen, conflict, typed)
    chair = take_chair(request, records, fitting_id)
    if is_fragment(request):
        return kept(request, chair, step, screen, typed, problems)
    if problems:
        return show(request, chair, who, step, screen, typed, problems, 422)
    return RedirectResponse(after(chair, step, screen, str(form.get("go", ""))), status_code=303)


def read_form(form: FormData, paths: tuple[str, ...]) -> dict[str, str]:
    """The text of each field as it is stored: several ticked answers joined, dates as year-month-day."""
    found = {}
    for path in paths:
        texts = [str(text).strip() for text in form.getlist(f"f:{path}")]
        found[path] = field_kept_as(path, ",".join(text for text in texts if text))
    return found


def changed(
    form: FormData, typed: Mapping[str, str], stored: Mapping[str, FieldValue], problems: Mapping[str, str]
) -> dict[str, tuple[str | None, int]]:
    """What the person changed on this page: text differing from what it was served with, and usable."""
    found: dict[str, tuple[str | None, int]] = {}
    for path, text in typed.items():
        served, now = str(form.get(f"o:{path}", "")), stored.get(path)
        if path in problems or text == served or (now is not None and (now.text or "") == text):
            continue
        version = str(form.get(f"v:{path}", "0"))
        found[path] = (text or None, int(version) if VERSION.fullmatch(version) else 0)
    return found


def keep(
    records: Records, who: Who, fitting_id: str, key: str, changes: dict[str, tuple[str | None, int]]
) -> None:
    """Store the changes. A page sent again with more on it gets a key of its own: versions guard each field."""
    if not changes:
        return
    try:
        save_fields(records, key=key, actor=who.actor, fitting_id=fitting_id, changes=changes)
    except KeyReused:
        save_fields(
            records, key=secrets.token_urlsafe(12), actor=who.actor, fitting_id=fitting_id, changes=changes
        )


def kept(
    request: Request,
    chair: Chair,
    step: Step,
    screen: Screen,
    typed: Mapping[str, str],
    problems: Mapping[str, str],
) -> HTMLResponse:
    """The answer to one change: a line that it is kept, fresh versions, and messages beside fields."""
    boxes = [
        field_box(path, chair.stored.fields, typed.get(path), problems.get(path, ""))
        for path in paths_of(screen)
    ]
    return render(
        request,
        "steps/fields_kept.html",
        422 if problems else 200,
        boxes=boxes,
        key=secrets.token_urlsafe(12),
        findings=findings_of_step(chair, step),
        chair=chair,
        read_back=read_back(chair, screen.holds[0]) if screen.kind == "powers" else (),
    )


def show_conflict(
    request: Request, chair: Chair, step: Step, screen: Screen, conflict: Conflict, typed: Mapping[str, str]
) -> HTMLResponse:
    """Both texts, who wrote the other and when; the person decides."""
    both = [
        {
            "label": label_at(path),
            "path": path,
            "theirs": spoken(path, theirs.text or ""),
            "mine": spoken(path, typed[path]),
            "text": typed[path],
            "version": theirs.version,
            "by": theirs.by,
            "at": theirs.at,
        }
        for path, theirs in conflict.fields.items()
    ]
    return render(
        request,
        "steps/conflict.html",
        409,
        both=both,
        chair=chair,
        step=step,
        screen=screen,
        key=secrets.token_urlsafe(12),
    )


def spoken(path: str, text: str) -> str:
    """A field's answer in words."""
    choice = choice_at(path)
    if choice is None or not choice.options:
        return text or "blank"
    return ", ".join(choice.words(part) for part in text.split(",")) or "blank"


def after(chair: Chair, step: Step, screen: Screen, go: str) -> str:
    """Where to go after keeping a screenful: the next one, else the next step; or another one asked for."""
    base = step_address(chair, step.key)
    screens = screens_of(step)
    if go in {one.key for one in screens}:
        return f"{base}?part={go}"
    place = screens.index(screen)
    if place + 1 < len(screens):
        return f"{base}?part={screens[place + 1].key}"
    return moves(chair, step, screen).get("on", base)

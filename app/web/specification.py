"""The page “What it becomes”: one pair drawn to scale with its consequences, tried out before it is kept."""

import secrets
from collections.abc import Mapping
from dataclasses import replace
from datetime import date

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from app.catalogue.catalogue import STEPS
from app.documents.traced_outline import outline_in
from app.fitting.fields import check_field, fields_of, fitting_with_fields
from app.fitting.fitting import Fitting
from app.frame.specification import pair_specification
from app.plausibility.finding import Finding
from app.plausibility.judge import judge
from app.records.errors import NotAllowed, NotFound
from app.web.chair import Chair, take_chair
from app.web.field_view import field_box
from app.web.rail import rail
from app.web.rendering import render
from app.web.screens import pair_path, screens_of
from app.web.session import MayMeasure, MaySeeFitting, Records, Who
from app.web.specification_view import becomes
from app.web.step_fields import keep
from app.web.step_view import SEVERITY_ORDER, SEVERITY_WORDS, Shown

router = APIRouter()
PAIRS = (1, 2)
SIZES = (
    "lens_width",
    "lens_height",
    "distance_between_lenses",
    "longest_diameter_mm",
    "lug_width_mm",
    "centre_line_above_lid_mm",
)
TRIED = {1: ("outline", *SIZES, "index", "base_curve"), 2: ("longest_diameter_mm", "index", "base_curve")}
"""What may be tried out, by pair: an existing frame keeps its sizes."""
LENS_WIDTH = "lens_width"


def tried_paths(number: int) -> tuple[str, ...]:
    """The paths of the fields that may be tried out."""
    return tuple(pair_path(number, key) for key in TRIED[number])


@router.get("/fittings/{fitting_id}/specification/{number}")
def open_specification(
    request: Request,
    records: Records,
    fitting_id: str,
    number: int,
    part: str = "drawing",
    *,
    who: MaySeeFitting,
) -> HTMLResponse:
    """What the pair becomes as it stands. `part` is the drawing with its sizes, or every dimension."""
    return show(request, take_chair(request, records, fitting_id), who, number, {}, part=part)


@router.post("/fittings/{fitting_id}/specification/{number}")
async def try_out(
    request: Request,
    records: Records,
    fitting_id: str,
    number: int,
    *,
    who: MayMeasure,
) -> Response:
    """Try other sizes: shown only, unless they are to be kept. Posted, so that no size stands in an address."""
    form = await request.form()
    typed = {path: str(form.get(f"f:{path}", "")).strip() for path in _paths(number) if f"f:{path}" in form}
    if number == 1 and form.get("width"):
        typed[pair_path(1, LENS_WIDTH)] = str(form.get("width"))
    chair = take_chair(request, records, fitting_id)
    if not form.get("keep"):
        return show(request, chair, who, number, typed)
    if not who.may("choose") or chair.frozen:
        raise NotAllowed("Sizes are chosen by the practitioner, before the fitting is signed off.")
    if any(check_field(path, text) for path, text in typed.items()):
        return show(request, chair, who, number, typed, status=422)
    keep(records, who, fitting_id, str(form.get("key")), _changes(chair, typed))
    return RedirectResponse(f"/fittings/{fitting_id}/specification/{number}", status_code=303)


def _paths(number: int) -> tuple[str, ...]:
    if number not in PAIRS:
        raise NotFound("pair")
    return tried_paths(number)


def _changes(chair: Chair, typed: Mapping[str, str]) -> dict[str, tuple[str | None, int]]:
    """What differs from what is stored, each with the version that it was read at."""
    stored = chair.stored.fields
    return {
        path: (text or None, stored[path].version if path in stored else 0)
        for path, text in typed.items()
        if text != ((stored[path].text or "") if path in stored else "")
    }


def show(
    request: Request,
    chair: Chair,
    who: Who,
    number: int,
    typed: Mapping[str, str],
    *,
    part: str = "drawing",
    status: int = 200,
) -> HTMLResponse:
    """The page, with what is tried out in place of what is stored."""
    paths = _paths(number)
    problems = {path: problem for path, text in typed.items() if (problem := check_field(path, text))}
    fitting = tried(chair.fitting, {path: text for path, text in typed.items() if path not in problems})
    pair = fitting.pair(number)
    step = next(step for step in STEPS if step.key == f"pair_{number}")
    if pair is None:
        raise NotFound("pair")
    traced, trouble = outline_in(pair.tracing or "")
    made = pair_specification(fitting, pair, chair.settings, traced_mm=traced)
    return render(
        request,
        "specification/pair.html",
        status,
        chair=chair,
        step=step,
        screens=screens_of(step),
        rail=rail(chair, step.key),
        number=number,
        part="dimensions" if part == "dimensions" else "drawing",
        shown=becomes(made),
        boxes=[
            field_box(path, chair.stored.fields, typed.get(path), problems.get(path, "")) for path in paths
        ],
        trying=fitting != chair.fitting,
        may_change=who.may("choose") and not chair.frozen,
        findings=findings_of(chair, fitting, number),
        trouble=trouble,
        key=secrets.token_urlsafe(12),
    )


def tried(fitting: Fitting, typed: Mapping[str, str]) -> Fitting:
    """The fitting with other texts in some of its fields."""
    if not typed:
        return fitting
    fields = {**fields_of(fitting), **typed}
    changed = fitting_with_fields(fitting, {path: text for path, text in fields.items() if text})
    return replace(fitting, pairs=changed.pairs)


def findings_of(chair: Chair, fitting: Fitting, number: int) -> tuple[Shown, ...]:
    """The findings on this pair, worst first, those already answered last."""
    same = fitting == chair.fitting
    today = None if chair.frozen else date.today()
    judgement = (
        chair.judgement
        if same
        else judge(fitting, chair.settings, today, chair.previous, answers=chair.answers)
    )
    found = [one for one in judgement.findings if _on_pair(one, number)]
    shown = [
        Shown(
            finding=one,
            label=SEVERITY_WORDS[one.severity],
            open=not chair.answer_words(one),
            answer=chair.answer_words(one),
        )
        for one in found
    ]
    return tuple(sorted(shown, key=lambda one: (not one.open, SEVERITY_ORDER.index(one.finding.severity))))


def _on_pair(finding: Finding, number: int) -> bool:
    return any(
        subject.pair == number or subject.measurement.startswith(f"pair.{number}.")
        for subject in finding.about
    )

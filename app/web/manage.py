"""The manager's pages: the practice, its adjustments, the order of its steps, the table of rights."""

from collections.abc import Callable, Mapping
from typing import Annotated, Any

from fastapi import APIRouter, Depends, Request
from fastapi.responses import RedirectResponse, Response

from app.practice.adjustment_fields import ADJUSTMENT_FIELDS, DAYS_FIELDS
from app.practice.settings import PracticeSettings
from app.records.database import Database
from app.records.identity import new_key
from app.records.practice import load_settings_version, save_settings
from app.web.rendering import render
from app.web.rights import RIGHTS, ROLES
from app.web.session import Records, Who, needs
from app.web.settings_form import (
    SettingsForm,
    adjustments_form,
    merged,
    practice_form,
    read_adjustments,
    read_practice,
)
from app.web.step_choice import MOVES, moved, step_lines, usual_order
from app.web.typed import Typed

router = APIRouter(prefix="/manage")
Manager = Annotated[Who, Depends(needs("practice_settings"))]
Was = Mapping[str, str]
"""What stood in each box when the form was shown."""
USUAL_ORDER = "usual"


@router.get("")
def show_practice(request: Request, records: Records, who: Manager, stored: str = "") -> Response:
    """Name, telephone, ways of working."""
    settings, _ = load_settings_version(records)
    return practice_page(request, 200, practice_form(settings), saved=stored == "yes")


@router.post("")
def store_practice(request: Request, records: Records, who: Manager, typed: Typed) -> Response:
    """Store name, telephone, ways of working."""
    return store(
        request,
        records,
        who,
        typed,
        shown=practice_form,
        read=read_practice,
        page=practice_page,
        address="/manage",
    )


def practice_page(
    request: Request, status: int, form: SettingsForm, *, was: Was | None = None, saved: bool = False
) -> Response:
    """The practice's page with the form as it stands."""
    return render(
        request,
        "pages/manage.html",
        status,
        form=form,
        was=was or form.text,
        days=DAYS_FIELDS,
        key=new_key(),
        saved=saved,
    )


@router.get("/adjustments")
def show_adjustments(request: Request, records: Records, who: Manager, stored: str = "") -> Response:
    """What is added to or taken off a facial value."""
    settings, _ = load_settings_version(records)
    return adjustments_page(request, 200, adjustments_form(settings), saved=stored == "yes")


@router.post("/adjustments")
def store_adjustments(request: Request, records: Records, who: Manager, typed: Typed) -> Response:
    """Store the adjustments."""
    return store(
        request,
        records,
        who,
        typed,
        shown=adjustments_form,
        read=read_adjustments,
        page=adjustments_page,
        address="/manage/adjustments",
    )


def adjustments_page(
    request: Request, status: int, form: SettingsForm, *, was: Was | None = None, saved: bool = False
) -> Response:
    """The adjustments with the form as it stands."""
    return render(
        request,
        "pages/manage_adjustments.html",
        status,
        form=form,
        was=was or form.text,
        adjustments=ADJUSTMENT_FIELDS,
        key=new_key(),
        saved=saved,
    )


def store(
    request: Request,
    records: Database,
    who: Who,
    typed: Mapping[str, str],
    *,
    shown: Callable[[PracticeSettings], SettingsForm],
    read: Callable[[Mapping[str, str], PracticeSettings], SettingsForm],
    page: Callable[..., Response],
    address: str,
) -> Response:
    """Store one form of settings; what somebody else changed meanwhile in other boxes stays changed."""
    stands, version = load_settings_version(records)
    now_there = shown(stands).text
    both = merged(typed, now_there)
    form = read(both.typed, stands)
    if form.settings is None:
        before = {key: typed.get(f"was.{key}", text) for key, text in now_there.items()}
        return page(request, 422, form, was=before)
    if both.clashes:
        return page(request, 409, SettingsForm(text=form.text, problems=both.clashes), was=now_there)
    key = typed.get("key", "")
    save_settings(records, key=key, actor=who.actor, settings=form.settings, base_version=version)
    use_from_now_on(request, form.settings)
    return RedirectResponse(f"{address}?stored=yes", status_code=303)


def use_from_now_on(request: Request, settings: PracticeSettings) -> None:
    """Let every page use these settings from now on."""
    request.app.state.practice = settings


@router.get("/steps")
def show_steps(request: Request, records: Records, who: Manager) -> Response:
    """The steps in this practice's order."""
    settings, _ = load_settings_version(records)
    return render(request, "pages/manage_steps.html", lines=step_lines(settings), key=new_key())


@router.post("/steps")
def move_step(request: Request, records: Records, who: Manager, typed: Typed) -> Response:
    """Move one step, leave it out or take it in; or go back to the usual order."""
    settings, version = load_settings_version(records)
    word, _, step = typed.get("move", "").partition(":")
    if word == USUAL_ORDER:
        changed = usual_order(settings)
    else:
        changed = moved(settings, step, MOVES[word]) if word in MOVES else settings
    if changed != settings:
        key = typed.get("key", "")
        save_settings(records, key=key, actor=who.actor, settings=changed, base_version=version)
        use_from_now_on(request, changed)
    return RedirectResponse("/manage/steps", status_code=303)


@router.get("/rights")
def show_rights(request: Request, who: Manager) -> Response:
    """Who may do what."""
    context: dict[str, Any] = {"rights": RIGHTS, "roles": ROLES}
    return render(request, "pages/manage_rights.html", **context)

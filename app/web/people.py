"""A person's page: details, possible doubles before a new person is stored, and starting a fitting."""

from collections.abc import Mapping
from datetime import date
from typing import Annotated

from fastapi import APIRouter, Depends, Request
from fastapi.responses import RedirectResponse, Response

from app.records.accounts import list_accounts
from app.records.errors import AlreadyUsed, Conflict
from app.records.fittings import start_fitting
from app.records.identity import new_key
from app.records.people import PersonRecord, load_person, person_versions, save_person
from app.web.alike import people_alike
from app.web.person_clash import Clash, clashes_of, with_their_other_changes
from app.web.person_form import CHANNELS, LABELS, SEXES, PersonForm, empty_form, form_of, read_person
from app.web.person_view import person_view, visits_of
from app.web.rendering import render
from app.web.session import Records, Who, needs
from app.web.start_form import StartForm, measurers, read_start
from app.web.typed import Typed

router = APIRouter()
Editor = Annotated[Who, Depends(needs("edit_person"))]
Measurer = Annotated[Who, Depends(needs("measure_head"))]


@router.get("/people/new")
def show_new_person(request: Request, who: Editor) -> Response:
    """A blank form."""
    return new_person_page(request, 200, empty_form(), key=new_key())


@router.post("/people/new")
def store_new_person(request: Request, records: Records, who: Editor, typed: Typed) -> Response:
    """Store a new person, unless a box is wrong or somebody alike is already here."""
    key = typed.get("key", "")
    form = read_person(typed, today=date.today())
    if form.details is None:
        return new_person_page(request, 422, form, key=key)
    alike = () if typed.get("somebody_else") == "yes" else people_alike(records, form.details)
    if alike:
        return new_person_page(request, 409, form, key=key, alike=alike)
    try:
        person_id = save_person(records, key=key, actor=who.actor, details=form.details)
    except AlreadyUsed as error:
        return new_person_page(request, 422, with_problem(form, "reference", str(error)), key=key)
    return RedirectResponse(f"/people/{person_id}", status_code=303)


def new_person_page(
    request: Request, status: int, form: PersonForm, *, key: str, alike: tuple[object, ...] = ()
) -> Response:
    """The form of a new person."""
    return render(
        request,
        "pages/person_new.html",
        status,
        form=form,
        key=key,
        alike=alike,
        clashes=(),
        labels=LABELS,
        sexes=SEXES,
        channels=CHANNELS,
    )


def with_problem(form: PersonForm, key: str, words: str) -> PersonForm:
    """The form with one more problem."""
    return PersonForm(text=form.text, problems={**form.problems, key: words})


@router.get("/people/{person_id}")
def show_person(
    request: Request, records: Records, who: Editor, person_id: str, stored: str = ""
) -> Response:
    """A person's details and fittings."""
    record = load_person(records, person_id)
    return person_page(request, records, record, form_of(record.details), saved=stored == "yes")


@router.post("/people/{person_id}")
def store_person(request: Request, records: Records, who: Editor, person_id: str, typed: Typed) -> Response:
    """Store changed details; where somebody else changed the same, show both."""
    record = load_person(records, person_id)
    base = base_version(typed)
    form = read_person(chosen(typed), today=date.today())
    if form.details is None:
        return person_page(request, records, record, form, status=422, base=base)
    try:
        save_person(
            records,
            key=typed.get("key", ""),
            actor=who.actor,
            details=form.details,
            person_id=person_id,
            base_version=base,
        )
    except AlreadyUsed as error:
        refused = with_problem(form, "reference", str(error))
        return person_page(request, records, record, refused, status=422, base=base)
    except Conflict as error:
        return conflict_page(request, records, form, error, person_id=person_id, base=base)
    return RedirectResponse(f"/people/{person_id}?stored=yes", status_code=303)


def conflict_page(
    request: Request, records: Records, form: PersonForm, error: Conflict, *, person_id: str, base: int
) -> Response:
    """409 with both values side by side; the next save is made from what stands there now."""
    versions = {version.version: version for version in person_versions(records, person_id)}
    stands = load_person(records, person_id)
    started_from = versions.get(base, stands)
    clashes = clashes_of(error, form, stands)
    merged = with_their_other_changes(form, started_from, stands)
    return person_page(request, records, stands, merged, status=409, clashes=clashes)


def chosen(typed: Mapping[str, str]) -> dict[str, str]:
    """What was typed, with the choice between two people's values in its box."""
    picked = {key.removeprefix("choose."): text for key, text in typed.items() if key.startswith("choose.")}
    return {**typed, **picked}


def base_version(typed: Mapping[str, str]) -> int:
    """The version that the form was made from; 0 where it says none that can be."""
    text = typed.get("base_version", "")
    return int(text) if text.isdecimal() and len(text) < 10 else 0


def person_page(
    request: Request,
    records: Records,
    record: PersonRecord,
    form: PersonForm,
    *,
    status: int = 200,
    base: int | None = None,
    clashes: tuple[Clash, ...] = (),
    start: StartForm | None = None,
    saved: bool = False,
) -> Response:
    """A person's page with the form as it stands."""
    who: Who = request.state.who
    return render(
        request,
        "pages/person.html",
        status,
        person=person_view(record),
        form=form,
        base_version=record.version if base is None else base,
        key=new_key(),
        start_key=new_key(),
        start=start or StartForm(),
        measurers=measurers(list_accounts(records)) if who.may("measure_head") else (),
        visits=visits_of(records, record.person_id) if who.may("see_fitting") else (),
        clashes=clashes,
        clash_by=clashes[0].by if clashes else "",
        saved=saved,
        labels=LABELS,
        sexes=SEXES,
        channels=CHANNELS,
    )


@router.post("/people/{person_id}/fittings")
def start(request: Request, records: Records, who: Measurer, person_id: str, typed: Typed) -> Response:
    """Start a fitting; the visit before, if there is one, is linked by itself."""
    record = load_person(records, person_id)
    form = read_start(typed, actor=who.actor, accounts=list_accounts(records), today=date.today())
    if form.taken is None:
        return person_page(request, records, record, form_of(record.details), status=422, start=form)
    key = typed.get("key", "")
    fitting_id = start_fitting(records, key=key, actor=who.actor, person_id=person_id, taken=form.taken)
    return RedirectResponse(f"/fittings/{fitting_id}/steps/person", status_code=303)

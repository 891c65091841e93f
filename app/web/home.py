"""The start at the chair: begin a fitting, go on with an open one, look at those signed lately."""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Annotated

from fastapi import APIRouter, Depends, Request
from fastapi.responses import RedirectResponse, Response

from app.documents.written import day
from app.records.database import Database
from app.records.identity import moment
from app.records.worklist import WorkLine, open_fittings, signed_since
from app.web.chair import take_chair
from app.web.find import Search, chair_search, hits_answer, searched
from app.web.progress import progress_of
from app.web.rendering import is_fragment, render
from app.web.session import Records, SignedIn, Who, needs
from app.web.typed import Typed

router = APIRouter()
Finder = Annotated[Who, Depends(needs("edit_person"))]
MOST_OPEN = 10
MOST_SIGNED = 6
LATELY = timedelta(weeks=6)
"""Longer than most fittings take from sign-off to the first query; common practice."""
OTHER_ROOMS = {"receptionist": "/desk", "manager": "/manage"}


@dataclass(frozen=True, slots=True, kw_only=True)
class HomeLine:
    """One fitting on the start page, in words."""

    fitting_id: str
    name: str
    reference: str
    started: str = ""
    progress: str = ""
    signed: str = ""


@router.get("/")
def show_home(request: Request, records: Records, who: SignedIn) -> Response:
    """The chair for those who may open fittings; everybody else's own room otherwise."""
    if not who.may("see_fitting"):
        return RedirectResponse(OTHER_ROOMS.get(who.role, "/help"), status_code=303)
    return home_page(request, records, chair_search())


@router.post("/people/find")
def find(request: Request, records: Records, who: Finder, typed: Typed) -> Response:
    """People whose name, telephone or reference holds what was typed."""
    search = searched(request, records, chair_search(), typed.get("sought", ""))
    if is_fragment(request):
        return hits_answer(request, search)
    if not who.may("see_fitting"):
        return RedirectResponse("/desk", status_code=303)
    return home_page(request, records, search)


def home_page(request: Request, records: Database, search: Search) -> Response:
    """The start page with what the search found."""
    lines = open_fittings(records, most=MOST_OPEN + 1)
    since = moment(datetime.now(UTC) - LATELY)
    return render(
        request,
        "pages/home.html",
        search=search,
        open=[open_line(request, records, line) for line in lines[:MOST_OPEN]],
        more_open=len(lines) > MOST_OPEN,
        signed=[signed_line(line) for line in signed_since(records, since=since, most=MOST_SIGNED)],
    )


def open_line(request: Request, records: Database, line: WorkLine) -> HomeLine:
    """An open fitting with how far it is."""
    paper = ", from paper" if line.from_paper else ""
    return HomeLine(
        fitting_id=line.fitting_id,
        name=line.name,
        reference=line.reference,
        started=f"{day(line.taken_on)}{paper}",
        progress=progress_of(take_chair(request, records, line.fitting_id)).words,
    )


def signed_line(line: WorkLine) -> HomeLine:
    """A signed fitting with its version."""
    return HomeLine(
        fitting_id=line.fitting_id,
        name=line.name,
        reference=line.reference,
        signed=f"signed {day(line.signed_at)}, version {line.signed_version}",
    )

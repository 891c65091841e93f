"""What another tablet has entered meanwhile: boxes and rail by themselves, never the entry being typed in."""

from typing import Annotated

from fastapi import APIRouter, Query, Request, Response

from app.records.fittings import fitting_revision
from app.web.box import read_box
from app.web.chair import take_chair
from app.web.rail import rail, step_address
from app.web.rendering import render
from app.web.screens import STEPS_BY_KEY, screen_of
from app.web.session import PageMaySeeFitting, Records
from app.web.step_view import rows

router = APIRouter()


@router.get("/fittings/{fitting_id}/others")
def show_others(
    request: Request,
    records: Records,
    fitting_id: str,
    step: str,
    part: str,
    box: str,
    revision: Annotated[int, Query(ge=0, le=2**53)],
    who: PageMaySeeFitting,
) -> Response:
    """204 where nothing changed since `revision`; else the boxes and the rail as they are now."""
    if fitting_revision(records, fitting_id) == revision or step not in STEPS_BY_KEY:
        return Response(status_code=204)
    chair, declared, armed = take_chair(request, records, fitting_id), STEPS_BY_KEY[step], read_box(box)
    screen = screen_of(declared, part)
    return render(
        request,
        "steps/others.html",
        chair=chair,
        step=declared,
        screen=screen,
        armed=armed,
        rail=rail(chair, step),
        rows=rows(chair, declared, screen, armed, again=False),
        address=step_address(chair, step),
    )

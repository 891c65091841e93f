"""The whole record as one sheet, on the screen and on one printed page; and the same sheet blank."""

from dataclasses import replace

from fastapi import APIRouter, Depends, Request
from fastapi.responses import HTMLResponse

from app.documents.answer_words import Said, history_said, pair_said
from app.web.band_view import boxes_outside
from app.web.chair import Chair, take_chair
from app.web.rail import rail
from app.web.rendering import render
from app.web.session import Records, SignedIn, Who, needs
from app.web.sheet_text import gaps_said, notes_said
from app.web.whole_sheet import make_sheet

router = APIRouter()


@router.get("/fittings/{fitting_id}/overview")
def show_overview(
    request: Request,
    records: Records,
    fitting_id: str,
    who: Who = Depends(needs("see_fitting")),  # noqa: B008
) -> HTMLResponse:
    """The whole record as one sheet; every value leads to its step. No findings: a patient may see it.

    Values outside their expected band have a mark on the screen of whoever answers findings, and none in print.
    """
    chair = take_chair(request, records, fitting_id)
    outside = boxes_outside(chair) if who.may("answer_findings") else {}
    return render(
        request,
        "pages/overview.html",
        chair=chair,
        rail=[replace(item, waiting=0) for item in rail(chair, "overview")],
        sheet=make_sheet(chair.fitting, fitting_id, outside),
        any_outside=bool(outside),
        everything=everything_said(chair),
    )


def everything_said(chair: Chair) -> tuple[tuple[str, tuple[Said, ...]], ...]:
    """All words of the record under their headings, however many: what paper has no room for stands here."""
    fitting = chair.fitting
    parts = [("Before measuring", history_said(fitting))]
    parts += [(f"Pair {pair.pair}", pair_said(pair)) for pair in fitting.pairs]
    parts += [("Not taken", gaps_said(fitting)), ("Notes", notes_said(fitting))]
    return tuple((heading, said) for heading, said in parts if said)


@router.get("/blank-form")
def show_blank_form(request: Request, who: SignedIn) -> HTMLResponse:
    """The sheet to be filled in by hand when the power is out."""
    return render(request, "pages/blank_form.html", sheet=make_sheet(None))

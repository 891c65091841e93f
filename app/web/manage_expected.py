"""The manager's page of expected bands: on or off, own reference, own repeatability."""

from typing import Annotated

from fastapi import APIRouter, Depends, Request
from fastapi.responses import Response

from app.catalogue.catalogue import MEASUREMENTS
from app.catalogue.measurement import UNIT_WORDS
from app.fitting.fitting import Fitting
from app.plausibility.expectation_repeatability import Repeatability, repeatability
from app.records.database import Database
from app.records.fittings import load_fitting
from app.records.identity import new_key
from app.records.practice import load_settings_version
from app.records.worklist import signed_since
from app.web.expected_form import ROWS, expected_form, read_expected
from app.web.manage import Was, store
from app.web.rendering import render
from app.web.session import Records, Who, needs
from app.web.settings_form import SettingsForm
from app.web.typed import Typed

router = APIRouter(prefix="/manage/expected")
Manager = Annotated[Who, Depends(needs("practice_settings"))]
MOST_FITTINGS = 300
"""So many of the latest signed fittings the practice's own repeatability is taken from. Ours."""


@router.get("")
def show_expected(request: Request, records: Records, who: Manager, stored: str = "") -> Response:
    """The form, and the practice's own repeatability."""
    settings, _ = load_settings_version(records)
    return expected_page(request, 200, expected_form(settings), records=records, saved=stored == "yes")


@router.post("")
def store_expected(request: Request, records: Records, who: Manager, typed: Typed) -> Response:
    """Store the form."""

    def page(request: Request, status: int, form: SettingsForm, *, was: Was | None = None) -> Response:
        return expected_page(request, status, form, records=records, was=was)

    return store(
        request,
        records,
        who,
        typed,
        shown=expected_form,
        read=read_expected,
        page=page,
        address="/manage/expected",
    )


def expected_page(
    request: Request,
    status: int,
    form: SettingsForm,
    *,
    records: Database,
    was: Was | None = None,
    saved: bool = False,
) -> Response:
    """The page with the form as it stands."""
    fittings = signed_fittings(records)
    return render(
        request,
        "pages/manage_expected.html",
        status,
        form=form,
        was=was or form.text,
        rows=ROWS,
        together=[shown(one) for one in repeatability(fittings)],
        by_measurer=[shown(one) for one in repeatability(fittings, by_measurer=True) if one.by],
        fittings=len(fittings),
        key=new_key(),
        saved=saved,
    )


def signed_fittings(records: Database) -> tuple[Fitting, ...]:
    """The latest signed fittings."""
    lines = signed_since(records, since="", most=MOST_FITTINGS)
    return tuple(load_fitting(records, line.fitting_id).fitting for line in lines)


def shown(one: Repeatability) -> dict[str, str | int]:
    """One line of the table."""
    declared = MEASUREMENTS[one.measurement]
    method = declared.method(one.method)
    return {
        "name": declared.label + (f", {method.label.lower()}" if method is not None else ""),
        "by": one.by or "",
        "pairs": one.pairs,
        "own": f"{one.own:.2f}",
        "published": f"{one.published:.2f}",
        "used": f"{one.used:.2f}",
        "unit": UNIT_WORDS[declared.unit],
    }

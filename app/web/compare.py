"""This visit beside the last signed one: an earlier value shows only after the new one stands."""

from dataclasses import dataclass

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from app.catalogue.catalogue import STEP_OF
from app.catalogue.step import Step
from app.fitting.entry import show_number
from app.fitting.fitting import Fitting
from app.fitting.working import WorkingValue, working_values
from app.records.database import Database
from app.records.fittings import load_fitting
from app.records.signoff import load_signed
from app.web.chair import Chair, take_chair
from app.web.rail import rail
from app.web.rendering import render
from app.web.session import MaySeeFitting, Records
from app.web.sheet import SheetBox, belongs, sheet_boxes
from app.web.signed_record import read_signed

router = APIRouter()
HIDDEN = "shown when the new one stands"


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """One box at both visits."""

    box: SheetBox
    earlier: str
    earlier_is_value: bool = False
    change: str = ""
    """How far the new value lies from the earlier one, with its sign in words."""


def last_signed(database: Database, chair: Chair) -> tuple[Fitting, str] | None:
    """The last earlier visit that was signed, with its day; None where there is none."""
    earlier = chair.stored.previous_fitting_id
    while earlier is not None:
        stored = load_fitting(database, earlier)
        if stored.signed_versions:
            fitting = read_signed(load_signed(database, earlier).document).fitting
            return fitting, fitting.taken.on
        earlier = stored.previous_fitting_id
    return None


def compared(now: Fitting, then: Fitting, fitting_id: str) -> dict[Step, tuple[Compared, ...]]:
    """Every box that either visit has something in, by step."""
    boxes, earlier = sheet_boxes(now, fitting_id), sheet_boxes(then)
    found: dict[Step, tuple[Compared, ...]] = {}
    for name, box in boxes.items():
        before = earlier[name]
        if box.state in ("value", "not_taken") or before.state in ("value", "not_taken"):
            step = STEP_OF[box.key.measurement.key]
            found[step] = (*found.get(step, ()), _compared(box, before, now, then))
    return found


def _compared(box: SheetBox, before: SheetBox, now: Fitting, then: Fitting) -> Compared:
    if box.state not in ("value", "not_taken"):
        return Compared(box=box, earlier=HIDDEN)
    if before.state != "value":
        return Compared(box=box, earlier=before.small or "blank")
    return Compared(box=box, earlier=before.value, earlier_is_value=True, change=_change(box, now, then))


def _change(box: SheetBox, now: Fitting, then: Fitting) -> str:
    new, old = (_single(box, working_values(fitting)) for fitting in (now, then))
    if new is None or old is None:
        return ""
    difference = new.value - old.value
    if abs(difference) < box.key.measurement.scale_step / 2:
        return "the same"
    return f"{show_number(abs(round(difference, 4)))} {'more' if difference > 0 else 'less'}"


def _single(box: SheetBox, working: tuple[WorkingValue, ...]) -> WorkingValue | None:
    values = [value for value in working if belongs(box.key, value)]
    return values[0] if len(values) == 1 else None


@router.get("/fittings/{fitting_id}/compare")
def show_compare(request: Request, records: Records, fitting_id: str, *, who: MaySeeFitting) -> HTMLResponse:
    """Both visits side by side."""
    chair = take_chair(request, records, fitting_id)
    earlier = last_signed(records, chair)
    return render(
        request,
        "pages/compare.html",
        chair=chair,
        rail=rail(chair, "compare"),
        then=earlier[1] if earlier else "",
        steps=compared(chair.fitting, earlier[0], fitting_id) if earlier else {},
    )

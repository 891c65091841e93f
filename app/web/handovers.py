"""Collection: the pair on the patient, checked, adjusted in numbers, with advice, and to whom it was handed."""

import secrets
from collections.abc import Mapping
from typing import Annotated

from fastapi import APIRouter, Depends, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from starlette.datastructures import FormData

from app.catalogue.measurement import SIDES, Range, Side
from app.documents.signed_order import SignedOrder
from app.fitting.details import Detail
from app.fitting.entry import NotUsable
from app.fitting.field_text import outside_sense, read_detail
from app.records.database import Database
from app.records.errors import NotAllowed, NotStorable
from app.records.handovers import ADVICE, CHECKS, Adjusted, Handover, hand_over, handovers_of
from app.records.pairs import pair_states
from app.web.adjusted_words import ADJUSTABLE, adjusted_words
from app.web.bench_lines import order_lines, value_of_line
from app.web.chair import Chair, take_chair
from app.web.rail import rail
from app.web.rendering import render
from app.web.session import Records, Who, needs
from app.web.signed_orders import signed_order

router = APIRouter()
MayHandOver = Annotated[Who, Depends(needs("hand_over"))]
ONE_SIDE = ("head_width", "temple_width", "face_form_angle", "pad_separation")
MOST_CHANGE = 30
"""A larger change of a finished pair is a slip of the hand; ours."""
LONGEST = 2000
COLLECTABLE = ("checked", "told")


@router.get("/fittings/{fitting_id}/orders/{pair}/collection")
def show_collection(
    request: Request, records: Records, fitting_id: str, pair: int, *, who: MayHandOver
) -> HTMLResponse:
    """The page for the pair on the patient."""
    return collection_page(request, records, take_chair(request, records, fitting_id), pair)


@router.post("/fittings/{fitting_id}/orders/{pair}/collection")
async def collect(
    request: Request, records: Records, fitting_id: str, pair: int, *, who: MayHandOver
) -> Response:
    """Keep the collection; the pair is collected."""
    form = await request.form()
    typed = {name: str(value) for name, value in form.items()}
    adjusted, problems = read_adjusted(form)
    if not typed.get("received_by", "").strip():
        problems["received_by"] = "Say who took the pair along: the patient, or who came for them."
    chair = take_chair(request, records, fitting_id)
    if not problems:
        handover = Handover(
            fitting_id=fitting_id,
            pair=pair,
            practitioner=who.name,
            received_by=typed["received_by"].strip(),
            checks=tuple(str(value) for value in form.getlist("checks")),
            advice=tuple(str(value) for value in form.getlist("advice")),
            adjusted=tuple(adjusted),
            words=typed.get("words", "").strip()[:LONGEST],
        )
        try:
            hand_over(records, key=typed.get("key", ""), actor=who.actor, handover=handover)
        except (NotAllowed, NotStorable) as refusal:
            problems["received_by"] = str(refusal)
    if problems:
        ticked = {name: tuple(map(str, form.getlist(name))) for name in ("checks", "advice")}
        return collection_page(request, records, chair, pair, typed=typed, problems=problems, ticked=ticked)
    return RedirectResponse(f"/fittings/{fitting_id}/orders/{pair}/collection", status_code=303)


def read_adjusted(form: FormData) -> tuple[list[Adjusted], dict[str, str]]:
    """The changes that were typed, and a message for each box that is no number."""
    found: list[Adjusted] = []
    problems: dict[str, str] = {}
    for key, label, unit in ADJUSTABLE:
        for side in sides_of(key):
            name = f"a-{key}-{side or 'one'}"
            text = str(form.get(name) or "").strip()
            if not text:
                continue
            detail = Detail(
                key=key,
                label=f"{label} {side or ''}".strip(),
                kind="number",
                unit=unit,
                possible=Range(-MOST_CHANGE, MOST_CHANGE),
                example="-2",
            )
            try:
                value = read_detail(detail, text)
                refusal = outside_sense(detail, value)
            except NotUsable as error:
                value, refusal = 0.0, error.message
            if refusal is not None:
                problems[name] = refusal
            elif isinstance(value, float) and value:
                found.append(Adjusted(item=key, side=side, amount=value))
    return found, problems


def sides_of(key: str) -> tuple[Side | None, ...]:
    """One box, or one for each side."""
    return (None,) if key in ONE_SIDE else SIDES


def collection_page(
    request: Request,
    records: Database,
    chair: Chair,
    pair: int,
    *,
    typed: Mapping[str, str] | None = None,
    problems: Mapping[str, str] | None = None,
    ticked: Mapping[str, tuple[str, ...]] | None = None,
) -> HTMLResponse:
    """The page with what was ordered beside what is adjusted, and what was handed over before."""
    fitting_id = chair.stored.fitting_id
    order = signed_order(records, fitting_id, pair)
    state = pair_states(records, fitting_id)[pair]
    return render(
        request,
        "bench/collection.html",
        422 if problems else 200,
        chair=chair,
        rail=rail(chair, "orders"),
        pair=pair,
        order=order,
        state=state,
        open=state.state.key in COLLECTABLE,
        checks=CHECKS,
        advice=ADVICE,
        adjustable=adjustable(order),
        before=[one for one in reversed(handovers_of(records, fitting_id)) if one.pair == pair],
        adjusted_words=adjusted_words,
        typed=typed or {},
        problems=problems or {},
        ticked=ticked or {},
        key=secrets.token_urlsafe(12),
    )


def adjustable(order: SignedOrder) -> list[dict[str, object]]:
    """Each adjustable dimension with what was ordered and its boxes."""
    lines = order_lines(order)
    return [
        {
            "label": label,
            "unit": "°" if unit == "deg" else "mm",
            "ordered": value_of_line(order, key) if key in lines else "",
            "boxes": [(f"a-{key}-{side or 'one'}", side or "") for side in sides_of(key)],
        }
        for key, label, unit in ADJUSTABLE
    ]

"""Papers of an order to take out: drawings, order sheet, label, and the record on one page."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Literal

from fastapi import APIRouter, Depends, Request
from fastapi.responses import Response

from app.documents.drawing import CannotDraw
from app.documents.drawing_dxf import to_dxf
from app.documents.drawing_front import front_of
from app.documents.drawing_svg import to_svg
from app.documents.label_paper import label
from app.documents.needed_for_drawing import (
    missing_for_bridge,
    missing_for_front,
    missing_for_lenses,
    missing_for_sides,
)
from app.documents.order_paper import OrderPaper, order_sheets
from app.documents.papers import drawing_files
from app.documents.record_paper import record
from app.frame.specification import PairSpecification
from app.records.errors import NotAllowed, NotFound
from app.web.chair import Chair, take_chair
from app.web.order_paper import order_paper
from app.web.session import Records, Who, needs

router = APIRouter()
MaySeeOrders = Annotated[Who, Depends(needs("see_orders"))]
MaySeeFitting = Annotated[Who, Depends(needs("see_fitting"))]
PaperSize = Literal["a4", "us-letter"]
KINDS = {"svg": "image/svg+xml", "dxf": "image/vnd.dxf", "pdf": "application/pdf"}
ON_THE_PAGE = ("svg", "pdf")


@dataclass(frozen=True, slots=True)
class Gap:
    """A drawing that cannot be made, and what it lacks."""

    drawing: str
    missing: tuple[str, ...]


@router.get("/fittings/{fitting_id}/orders/{pair}/papers/{name}")
def take_paper(
    request: Request,
    records: Records,
    fitting_id: str,
    pair: int,
    name: str,
    draft: bool = False,
    paper: PaperSize = "a4",
    *,
    who: MaySeeOrders,
) -> Response:
    """One paper of one pair, of the newest signed version or, where asked or nothing is signed, of the draft."""
    chair = take_chair(request, records, fitting_id)
    order = order_paper(records, chair, pair, draft=draft)
    if order is None:
        raise NotFound("pair")
    address = str(request.base_url.replace(path=f"/fittings/{fitting_id}/orders/{pair}"))
    make = _makers(order, paper, address).get(name)
    if make is None:
        raise NotFound("paper")
    try:
        content = make()
    except CannotDraw as refusal:
        raise NotAllowed(f"{refusal}.") from None
    return _file(f"pair-{pair}-{name}", content)


def _makers(order: OrderPaper, paper: PaperSize, address: str) -> dict[str, Callable[[], bytes]]:
    made = order.made
    return {
        **drawing_files(made),
        "front-bench-view.svg": lambda: to_svg(front_of(made, bench_view=True)).encode(),
        "front-bench-view.dxf": lambda: to_dxf(front_of(made, bench_view=True)),
        "order.pdf": lambda: order_sheets([order], paper=paper),
        "label.pdf": lambda: label(order.head, made.pair, address=address),
    }


@router.get("/fittings/{fitting_id}/papers/record.pdf")
def take_record(
    request: Request, records: Records, fitting_id: str, paper: PaperSize = "a4", *, who: MaySeeFitting
) -> Response:
    """The record as it stands, on one page."""
    chair = take_chair(request, records, fitting_id)
    content = record(chair.fitting, chair.judgement, practice=chair.settings.name, paper=paper)
    return _file("record.pdf", content)


def _file(name: str, content: bytes) -> Response:
    kind = name.rpartition(".")[2]
    place = "inline" if kind in ON_THE_PAGE else "attachment"
    headers = {"Content-Disposition": f'{place}; filename="{name}"'}
    return Response(content, media_type=KINDS[kind], headers=headers)


def gaps_of(made: PairSpecification | None) -> tuple[Gap, ...]:
    """The drawings of a pair that cannot be made, each with what it lacks."""
    if made is None:
        return ()
    wanted = (
        ("Front", missing_for_front(made)),
        ("Bridge", missing_for_bridge(made)),
        ("Sides", missing_for_sides(made)),
        ("Lens sheet", missing_for_lenses(made)),
    )
    return tuple(Gap(drawing, missing) for drawing, missing in wanted if missing)


def gaps_of_order(records: Records, chair: Chair, pair: int, *, draft: bool) -> tuple[Gap, ...]:
    """The same of the order that the page shows."""
    order = order_paper(records, chair, pair, draft=draft)
    return gaps_of(None if order is None else order.made)

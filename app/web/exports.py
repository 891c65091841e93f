"""Files of a signed fitting to take out: lab messages, FHIR, tables for a spreadsheet, the fitting file
itself.
"""

import json
from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Literal

from fastapi import APIRouter, Depends, Path, Request
from fastapi.responses import HTMLResponse, Response

from app.catalogue.measurement import SIDES
from app.documents.csv_text import orders_csv, readings_csv
from app.documents.fhir_bundle import fhir_bundle
from app.documents.json_text import json_text
from app.documents.lab_message_text import write_lab_message
from app.documents.lab_order import lab_message_of
from app.documents.order_outline import DRAWN, order_outline
from app.documents.signed_order import SignedOrder
from app.fitting.fitting_file import write_fitting
from app.records.errors import NotAllowed, NotFound
from app.records.worklist import signed_since
from app.web.chair import take_chair
from app.web.rail import rail
from app.web.rendering import render
from app.web.rights import RIGHTS, Right
from app.web.session import Records, Who, needs
from app.web.signed_orders import signed_orders

router = APIRouter()
MayTakeOut = Annotated[Who, Depends(needs("exchange"))]
CSV_TYPE = "text/csv; charset=utf-8"
MOST_OF_A_YEAR = 5000
"""Fittings in one table: more than a practice takes in a year. Ours."""
MaySeeOrders = Annotated[Who, Depends(needs("see_orders"))]
FOR_THE_LAB = ("lens_width", "lens_height", "distance_between_lenses")
"""Without these no lens can be cut."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ExportFile:
    """One file: its name, what it is, its type, who may have it, and how it is written."""

    name: str
    label: str
    media_type: str
    right: Right
    write: Callable[[], str]
    missing: tuple[str, ...] = ()
    """What is not known yet: then the file cannot be taken out."""
    notes: tuple[str, ...] = ()
    """What the file cannot carry."""


@router.get("/fittings/{fitting_id}/exports")
def show_exports(request: Request, records: Records, fitting_id: str, *, who: MaySeeOrders) -> HTMLResponse:
    """The list of files, with who may have each."""
    chair = take_chair(request, records, fitting_id)
    try:
        files, hindrance = export_files(fitting_id, signed_orders(records, fitting_id)), ""
    except NotAllowed as refusal:
        files, hindrance = (), str(refusal)
    return render(
        request,
        "bench/exports.html",
        chair=chair,
        rail=rail(chair, "orders"),
        files=files,
        hindrance=hindrance,
        rights=RIGHTS,
    )


@router.get("/fittings/{fitting_id}/exports/{name}")
def take_export(records: Records, fitting_id: str, name: str, *, who: MaySeeOrders) -> Response:
    """One file. The same signed version gives the same bytes."""
    files = export_files(fitting_id, signed_orders(records, fitting_id))
    wanted = next((one for one in files if one.name == name), None)
    if wanted is None:
        raise NotFound("file")
    if not who.may(wanted.right):
        raise NotAllowed(f"Your role may not {RIGHTS[wanted.right][1]}. Ask a colleague who may.")
    if wanted.missing:
        raise NotAllowed(f"This cannot be sent yet. Missing: {'; '.join(wanted.missing)}.")
    headers = {"Content-Disposition": f'attachment; filename="{wanted.name}"'}
    return Response(wanted.write().encode("utf-8"), media_type=wanted.media_type, headers=headers)


def export_files(fitting_id: str, orders: tuple[SignedOrder, ...]) -> tuple[ExportFile, ...]:
    """Every file of a signed fitting; the names say nothing of the person."""
    if not orders:
        return ()
    first = orders[0]
    mark = f"{fitting_id[-8:]}-v{first.signed.version}"
    export = fhir_bundle(first.fitting, identity=fitting_id, signed=first.signed)
    return (
        *(_lab_file(order, mark) for order in orders),
        ExportFile(
            name=f"{mark}-orders.csv",
            label="Orders of both pairs, for a spreadsheet",
            media_type=CSV_TYPE,
            right="exchange",
            write=lambda: orders_csv(orders),
        ),
        ExportFile(
            name=f"{mark}-readings.csv",
            label="Readings, for a spreadsheet",
            media_type=CSV_TYPE,
            right="exchange",
            write=lambda: readings_csv([first.fitting]),
        ),
        ExportFile(
            name=f"{mark}.fhir.json",
            label="Prescription and readings as HL7 FHIR R4",
            media_type="application/fhir+json",
            right="exchange",
            write=lambda: json_text(export.bundle),
            notes=export.left_out,
        ),
        ExportFile(
            name=f"{mark}-fitting.json",
            label="Fitting file: everything, to be read back without loss",
            media_type="application/json",
            right="exchange",
            write=lambda: json.dumps(write_fitting(first.fitting), ensure_ascii=False, indent=2) + "\n",
        ),
    )


def _lab_file(order: SignedOrder, mark: str) -> ExportFile:
    outline = order_outline(order.fitting, order.pair)
    drawn = () if outline.exact or outline.right_mm is None else (DRAWN,)
    return ExportFile(
        name=f"{mark}-pair{order.pair.pair}.lab.txt",
        label=f"Lab message, pair {order.pair.pair}",
        media_type="text/plain; charset=us-ascii",
        right="bench",
        write=lambda: write_lab_message(lab_message_of(order, outline.right_mm, traced=outline.exact)),
        missing=missing_for_the_lab(order),
        notes=(*notes_for_the_lab(order), *drawn),
    )


def missing_for_the_lab(order: SignedOrder) -> tuple[str, ...]:
    """What a lens cannot be made without, in words."""
    found = [line.label for line in order.lines if line.dimension in FOR_THE_LAB and line.ordered is None]
    eyes = [order.eye("R"), order.eye("L")]
    if not any(eyes):
        found.append("Prescription")
    if any(eye is not None and eye.cylinder and eye.axis is None for eye in eyes):
        found.append("Axis of a cylinder")
    if any(eye is not None and any(prism.base is None for prism in eye.prism) for eye in eyes):
        found.append("Base of a prism")
    dimension = "near_centration" if order.pair.lens_form == "single_vision_near" else "centration"
    if any(order.eye(side) and order.ordered(dimension, side) is None for side in SIDES):
        found.append("Centration distance of each eye")
    return tuple(dict.fromkeys(found))


def notes_for_the_lab(order: SignedOrder) -> tuple[str, ...]:
    """What stands on the order sheet alone, since no label for it is sure; and what the outline is worth."""
    notes = []
    if order.ordered("fitting_height", "R") is not None or order.ordered("fitting_height", "L") is not None:
        notes.append("Not in it: height of the fitting cross")
    if order.pair.lens_form is not None:
        notes.append("Not in it: lens form, material and coatings")
    return tuple(notes)


@router.get("/bench/tables/{year}/{what}")
def take_year(
    records: Records,
    year: Annotated[int, Path(ge=2000, le=2999)],
    what: Literal["orders", "readings"],
    *,
    who: MayTakeOut,
) -> Response:
    """Everything signed off in one year, by the moment of the sign-off, for the practice's own analysis."""
    lines = signed_since(records, since=f"{year}-01-01", most=MOST_OF_A_YEAR)
    of_year = sorted((one.signed_at or "", one.fitting_id) for one in lines)
    wanted = [identity for at, identity in of_year if at.startswith(f"{year}-")]
    orders = [signed_orders(records, identity) for identity in wanted]
    if what == "orders":
        text = orders_csv(order for both in orders for order in both)
    else:
        text = readings_csv(both[0].fitting for both in orders if both)
    headers = {"Content-Disposition": f'attachment; filename="{year}-{what}.csv"'}
    return Response(text.encode("utf-8"), media_type=CSV_TYPE, headers=headers)

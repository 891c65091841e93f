"""Taking a prescription in: paste or upload it, look at what was understood, then accept it or not."""

from typing import Annotated

from fastapi import APIRouter, Depends, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from starlette.datastructures import UploadFile

from app.documents.prescription_import import LONGEST, PrescriptionImport, import_prescription
from app.fitting.field_paths import label_at
from app.fitting.field_text import number_text
from app.records.database import Database
from app.records.errors import Frozen
from app.records.field_values import save_fields
from app.records.identity import new_key
from app.web.chair import Chair, take_chair
from app.web.rail import rail
from app.web.rendering import render
from app.web.session import Records, Who, needs
from app.web.typed import Typed

router = APIRouter()
MayTakeIn = Annotated[Who, Depends(needs("exchange"))]
PLACE = "prescription"


@router.get("/fittings/{fitting_id}/prescription-import")
def show_import(request: Request, records: Records, fitting_id: str, *, who: MayTakeIn) -> HTMLResponse:
    """The box to paste into."""
    return import_page(request, take_chair(request, records, fitting_id))


@router.post("/fittings/{fitting_id}/prescription-import")
async def read_import(request: Request, records: Records, fitting_id: str, *, who: MayTakeIn) -> HTMLResponse:
    """What was understood and what was not. Nothing is stored."""
    async with request.form() as form:
        text, upload = str(form.get("text") or ""), form.get("file")
        if isinstance(upload, UploadFile) and upload.filename:
            text = (await upload.read(LONGEST + 1)).decode("utf-8-sig", errors="replace")
    chair = take_chair(request, records, fitting_id)
    found = import_prescription(text)
    return import_page(request, chair, text=text, found=found, status=200 if found.fields else 422)


@router.post("/fittings/{fitting_id}/prescription-import/accept")
def accept_import(
    request: Request, records: Records, fitting_id: str, typed: Typed, *, who: MayTakeIn
) -> Response:
    """Keep what was understood as the fitting's prescription; it takes the place of what stood there."""
    chair = take_chair(request, records, fitting_id)
    if chair.frozen:
        raise Frozen
    found = import_prescription(typed.get("text", ""))
    if not found.fields:
        return import_page(request, chair, text=typed.get("text", ""), found=found, status=422)
    keep(records, who, chair, found, key=typed.get("key", ""))
    return RedirectResponse(f"/fittings/{fitting_id}/steps/prescription", status_code=303)


def keep(records: Database, who: Who, chair: Chair, found: PrescriptionImport, *, key: str) -> None:
    """Store the fields; what stood in the powers and prisms before and is not in it now is cleared."""
    stored = chair.stored.fields
    wanted: dict[str, str | None] = {f"{PLACE}.{path}": text for path, text in found.fields.items()}
    powers = [path for path in stored if path.startswith((f"{PLACE}.R.", f"{PLACE}.L."))]
    changes = {
        path: (wanted.get(path), stored[path].version if path in stored else 0)
        for path in dict.fromkeys([*wanted, *powers])
    }
    save_fields(records, key=key, actor=who.actor, fitting_id=chair.stored.fitting_id, changes=changes)


def import_page(
    request: Request,
    chair: Chair,
    *,
    text: str = "",
    found: PrescriptionImport | None = None,
    status: int = 200,
) -> HTMLResponse:
    """The page, with what was understood beside what stands in the fitting now."""
    stored = chair.stored.fields
    understood = [
        {
            "label": label_at(f"{PLACE}.{path}"),
            "text": value,
            "now": (stored[f"{PLACE}.{path}"].text or "") if f"{PLACE}.{path}" in stored else "",
        }
        for path, value in (found.fields.items() if found else ())
    ]
    return render(
        request,
        "bench/prescription_import.html",
        status,
        chair=chair,
        rail=rail(chair, "prescription"),
        text=text,
        found=found,
        understood=understood,
        key=new_key(),
        longest=number_text(LONGEST),
    )

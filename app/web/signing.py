"""Sign-off, a new version with its reason, and what was signed before."""

import secrets
from typing import Annotated

from fastapi import APIRouter, Depends, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from app.records.answers import answer_finding
from app.records.database import Database
from app.records.errors import Conflict
from app.records.signoff import load_signed, open_new_version, sign_off
from app.web.chair import Chair, take_chair
from app.web.rendering import render
from app.web.review import Trouble, show
from app.web.review_view import Review
from app.web.session import MaySeeFitting, Records, Who, needs
from app.web.signed_record import read_signed, signed_document
from app.web.whole_sheet import make_sheet

router = APIRouter()
Text = Annotated[str, Form()]
MaySign = Annotated[Who, Depends(needs("sign_off"))]
CHANGED = "Somebody changed this fitting since you opened the review. Look at it again, then sign."


@router.post("/fittings/{fitting_id}/sign-off")
def sign(
    request: Request,
    records: Records,
    fitting_id: str,
    *,
    key: Text,
    revision: Annotated[int, Form()] = 0,
    name: Text = "",
    registration: Text = "",
    who: MaySign,
) -> Response:
    """Freeze the values, unless something still stands in the way."""
    chair = take_chair(request, records, fitting_id)
    if chair.frozen:
        return signed_page(fitting_id)
    typed = {"name": name, "registration": registration}
    problem = cannot_sign(chair, revision, name, registration)
    if problem is not None:
        trouble = Trouble(at="sign-off", words=problem, typed=typed)
        return show(request, chair, who, trouble=trouble, status=409 if problem == CHANGED else 422)
    note_what_was_put_right(records, who, chair, key)
    try:
        freeze(records, who, take_chair(request, records, fitting_id), key, name, registration)
    except Conflict:
        chair = take_chair(request, records, fitting_id)
        return show(
            request, chair, who, trouble=Trouble(at="sign-off", words=CHANGED, typed=typed), status=409
        )
    return signed_page(fitting_id)


def signed_page(fitting_id: str) -> Response:
    """To the review, where the signature now stands."""
    return RedirectResponse(f"/fittings/{fitting_id}/review#sign-off", status_code=303)


def cannot_sign(chair: Chair, revision: int, name: str, registration: str) -> str | None:
    """Why it cannot be signed now, in words; None where it can."""
    if revision != chair.stored.revision:
        return CHANGED
    if not name.strip() or not registration.strip():
        return "To sign off, enter your name and your registration number."
    waiting = len(Review(chair).obstacles)
    if waiting:
        return (
            f"Not signed: {waiting} to settle first. Each is listed above with a link to where it is settled."
        )
    return None


def note_what_was_put_right(records: Database, who: Who, chair: Chair, key: str) -> None:
    """Keep with the signed version which findings went away because of a new reading."""
    for number, one in enumerate(Review(chair).put_right):
        answer_finding(
            records,
            key=f"{key}-right-{number}",
            actor=who.actor,
            fitting_id=chair.stored.fitting_id,
            check=one.finding.check,
            fingerprint=one.finding.fingerprint,
            kind=one.how,
        )


def freeze(records: Database, who: Who, chair: Chair, key: str, name: str, registration: str) -> None:
    """Sign the fitting as it stands, with every ordered dimension as it is now."""
    sign_off(
        records,
        key=key,
        actor=who.actor,
        fitting_id=chair.stored.fitting_id,
        name=name.strip(),
        registration=registration.strip(),
        document=signed_document(chair.fitting, chair.settings),
        revision=chair.stored.revision,
    )


@router.post("/fittings/{fitting_id}/new-version")
def open_again(
    request: Request,
    records: Records,
    fitting_id: str,
    *,
    key: Text,
    reason: Text = "",
    who: MaySign,
) -> Response:
    """Open a signed fitting for a change. What was signed stays as it is."""
    if not reason.strip():
        chair = take_chair(request, records, fitting_id)
        words = "Say why it is opened again. Example: lens form changed at the patient's wish."
        return show(request, chair, who, trouble=Trouble(at="new-version", words=words), status=422)
    open_new_version(records, key=key, actor=who.actor, fitting_id=fitting_id, reason=reason.strip())
    return RedirectResponse(f"/fittings/{fitting_id}/review", status_code=303)


@router.get("/fittings/{fitting_id}/versions/{number}")
def show_version(
    request: Request, records: Records, fitting_id: str, number: int, *, who: MaySeeFitting
) -> HTMLResponse:
    """The sheet as it was signed."""
    chair = take_chair(request, records, fitting_id)
    signed = load_signed(records, fitting_id, number)
    return render(
        request,
        "pages/version.html",
        chair=chair,
        signed=signed.version,
        intact=signed.intact,
        sheet=make_sheet(read_signed(signed.document).fitting),
        key=secrets.token_urlsafe(12),
    )

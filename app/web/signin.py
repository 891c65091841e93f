"""Signing in and out, and signing in again over a page whose sign-in has run out."""

from typing import Annotated

from fastapi import APIRouter, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from app.records.accounts import Account, check_passphrase, list_accounts
from app.records.drafts import save_draft
from app.records.sessions import end_session, start_session
from app.web.rendering import render
from app.web.session import Records, SignedIn, cookie_name, database_of, give_cookie

router = APIRouter()
WRONG = "Name and passphrase do not belong together. Try again, or ask the practice manager."
DEMO_PASSPHRASE = "demo practice only"  # noqa: S105 - printed on the demo's own sign-in page
HOME = {"receptionist": "/desk", "manager": "/manage"}


@router.get("/sign-in")
def show_sign_in(request: Request, next: str = "/") -> HTMLResponse:
    """The sign-in page; the demo lists its accounts on it."""
    return sign_in_page(request, 200, next_address=next)


def sign_in_page(
    request: Request,
    status: int,
    *,
    next_address: str,
    problem: str = "",
    name: str = "",
    held: dict[str, str] | None = None,
) -> HTMLResponse:
    """The sign-in page with what was typed, apart from the passphrase."""
    accounts = list_accounts(database_of(request)) if request.app.state.demo else ()
    return render(
        request,
        "pages/sign_in.html",
        status,
        next=next_address,
        held=held or {},
        problem=problem,
        accounts=accounts,
        name=name,
        demo_passphrase=DEMO_PASSPHRASE,
    )


@router.post("/sign-in")
def sign_in(
    request: Request,
    records: Records,
    name: Annotated[str, Form()] = "",
    passphrase: Annotated[str, Form()] = "",
    next: Annotated[str, Form()] = "/",
    box: Annotated[str, Form()] = "",
    text: Annotated[str, Form()] = "",
) -> Response:
    """Check name and passphrase, start a session, go where the person was going."""
    account = check_passphrase(records, name, passphrase)
    if account is None:
        held = {"box": box, "text": text} if box else None
        return sign_in_page(request, 422, next_address=next, problem=WRONG, name=name, held=held)
    target = inside(next)
    if box and target.startswith("/fittings/"):
        save_draft(records, account=account.account, fitting_id=target.split("/")[2], field=box, text=text)
        target = f"{target}/resume"
    response = RedirectResponse(target if target != "/" else HOME.get(account.role, "/"), status_code=303)
    give_cookie(request, response, new_session(records, account))
    return response


@router.post("/sign-in/again")
def sign_in_again(
    request: Request,
    records: Records,
    name: Annotated[str, Form()] = "",
    passphrase: Annotated[str, Form()] = "",
) -> HTMLResponse:
    """Sign in over the open page; the half-typed reading in it has not moved."""
    account = check_passphrase(records, name, passphrase)
    if account is None:
        return render(request, "parts/sign_in_again.html", 422, problem=WRONG)
    response = render(request, "parts/signed_in_again.html", account=account)
    give_cookie(request, response, new_session(records, account))
    return response


@router.post("/sign-out")
def sign_out(request: Request, records: Records, who: SignedIn) -> RedirectResponse:
    """End the session on the server and forget its token."""
    end_session(records, who.token)
    response = RedirectResponse("/sign-in", status_code=303)
    response.delete_cookie(cookie_name(request), path="/")
    response.headers["Clear-Site-Data"] = '"cache", "storage"'
    return response


def new_session(records: Records, account: Account) -> str:
    """A new session's token."""
    return start_session(records, account=account.account)


def inside(address: str) -> str:
    """An address of this app, whatever was asked for: never another site's."""
    return address if address.startswith("/") and not address.startswith(("//", "/\\")) else "/"

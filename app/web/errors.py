"""Turns what goes wrong into a page with words and a next step; nothing of the inside is shown."""

import logging
import secrets
from urllib.parse import urlencode

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse, RedirectResponse, Response
from starlette.exceptions import HTTPException

from app.records.errors import (
    Conflict,
    Frozen,
    NotAllowed,
    NotFound,
    NotStorable,
    RecordsError,
    StoreFull,
    StoreProblem,
)
from app.web.rendering import is_fragment, render
from app.web.session import NotAllowedHere, NotSignedIn

LOG = logging.getLogger("chair_to_bench")

STATUS: tuple[tuple[type[RecordsError], int], ...] = (
    (NotFound, 404),
    (NotAllowed, 403),
    (Frozen, 409),
    (Conflict, 409),
    (StoreFull, 507),
    (StoreProblem, 503),
    (RecordsError, 422),
)
"""The records raise errors in words fit for the screen; this says which status goes with each."""


def register(application: FastAPI) -> None:
    """Install the handlers."""
    application.add_exception_handler(NotSignedIn, ask_to_sign_in)
    application.add_exception_handler(NotAllowedHere, refuse_right)
    application.add_exception_handler(HTTPException, show_http_error)
    application.add_exception_handler(RequestValidationError, show_bad_request)
    application.add_exception_handler(RecordsError, show_records_error)


def page(request: Request, status: int, words: str, **more: object) -> Response:
    """An error as JSON for the interface, as a message for htmx, as a page for everybody else."""
    if request.url.path.startswith("/api/"):
        return JSONResponse({"error": words}, status_code=status)
    headers = {"HX-Retarget": "#message", "HX-Reswap": "innerHTML"} if is_fragment(request) else {}
    template = "parts/message.html" if is_fragment(request) else "pages/error.html"
    return render(request, template, status, headers, words=words, status_code=status, **more)


async def ask_to_sign_in(request: Request, error: Exception) -> Response:
    """401 with a sign-in form laid over the page for htmx, so that a half-typed reading stays where it is."""
    if request.url.path.startswith("/api/"):
        words = {"error": "Send a token: Authorization: Bearer …"}
        return JSONResponse(words, status_code=401, headers={"WWW-Authenticate": "Bearer"})
    if is_fragment(request):
        headers = {"HX-Retarget": "#sign-in-again", "HX-Reswap": "innerHTML"}
        return render(request, "parts/sign_in_again.html", 401, headers, problem="")
    if request.method == "GET":
        return RedirectResponse("/sign-in?" + urlencode({"next": request.url.path}), status_code=303)
    form = await request.form()
    held = {name: str(form[name]) for name in ("box", "text") if isinstance(form.get(name), str)}
    return render(
        request,
        "pages/sign_in.html",
        401,
        next=step_address(request),
        held=held,
        problem="",
        accounts=(),
        name="",
    )


def step_address(request: Request) -> str:
    """The step that a lost request came from: an opaque address, safe to go back to."""
    parts = request.url.path.split("/")
    return "/".join(parts[:3]) if len(parts) > 2 and parts[1] == "fittings" else "/"


async def refuse_right(request: Request, error: Exception) -> Response:
    """403 in words."""
    return page(request, 403, f"Your role may not {error}. Ask a colleague who may, or change person.")


async def show_records_error(request: Request, error: Exception) -> Response:
    """An error that the records raise on purpose, in its own words."""
    status = next(status for kind, status in STATUS if isinstance(error, kind))
    response = page(request, status, str(error))
    place = error.place if isinstance(error, NotStorable) else ""
    if place and request.url.path.startswith("/api/"):
        words = {"error": f"{place}: {error}", "place": place, "reason": str(error)}
        response = JSONResponse(words, status_code=status)
    if status == 503:
        response.headers["Retry-After"] = "1"
    return response


async def show_http_error(request: Request, error: Exception) -> Response:
    """404, 405 and the like."""
    status = error.status_code if isinstance(error, HTTPException) else 500
    words = "There is no such page." if status == 404 else "This cannot be done at this address."
    return page(request, status, words)


async def show_bad_request(request: Request, error: Exception) -> Response:
    """A form that lacks a part, which a browser of ours never sends."""
    if request.url.path.startswith("/api/") and isinstance(error, RequestValidationError):
        first = error.errors()[0]
        place = ".".join(str(part) for part in first["loc"] if part != "body")
        return JSONResponse({"error": f"{place}: {first['msg']}"}, status_code=422)
    return page(
        request, 422, "Part of the form did not arrive. Open the page again; what was stored is there."
    )


async def show_unexpected(request: Request, error: Exception) -> Response:
    """500 with a number to look up in the log, and nothing else."""
    number = secrets.token_hex(4)
    LOG.error("incident %s", number, exc_info=error)
    return page(request, 500, f"Something went wrong (incident {number}). What was stored before is safe.")

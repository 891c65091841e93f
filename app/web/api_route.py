"""How the interface answers what cannot be read: one line with the place and the reason."""

from collections.abc import Callable, Coroutine
from typing import Any

from fastapi import Request, Response
from fastapi.responses import JSONResponse
from fastapi.routing import APIRoute

from app.fitting.file_value import NotAFitting


class BadKey(Exception):
    """The Idempotency-Key is missing or cannot be one; the text says so."""


def refusal(error: NotAFitting) -> dict[str, str]:
    """The place and the reason; a part of the object itself is named without a dot before it."""
    place = error.place.removeprefix(".")
    return {"error": f"{place}: {error.reason}", "place": place, "reason": error.reason}


class ApiRoute(APIRoute):
    """A route whose refusals are JSON with words."""

    def get_route_handler(self) -> Callable[[Request], Coroutine[Any, Any, Response]]:
        """The handler, with refusals of what was sent turned into answers."""
        plain = super().get_route_handler()

        async def handler(request: Request) -> Response:
            try:
                return await plain(request)
            except NotAFitting as error:
                return JSONResponse(refusal(error), status_code=422)
            except BadKey as error:
                return JSONResponse({"error": str(error)}, status_code=400)

        return handler

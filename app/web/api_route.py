"""How the interface answers what cannot be read: one line with the place and the reason."""

from collections.abc import Callable, Coroutine
from typing import Any

from fastapi import Request, Response
from fastapi.responses import JSONResponse
from fastapi.routing import APIRoute

from app.fitting.file_value import NotAFitting


class BadKey(Exception):
    """The Idempotency-Key is missing or cannot be one; the text says so."""


class ApiRoute(APIRoute):
    """A route whose refusals are JSON with words."""

    def get_route_handler(self) -> Callable[[Request], Coroutine[Any, Any, Response]]:
        """The handler, with refusals of what was sent turned into answers."""
        plain = super().get_route_handler()

        async def handler(request: Request) -> Response:
            try:
                return await plain(request)
            except NotAFitting as error:
                refusal = {"error": str(error), "place": error.place, "reason": error.reason}
                return JSONResponse(refusal, status_code=422)
            except BadKey as error:
                return JSONResponse({"error": str(error)}, status_code=400)

        return handler

"""Headers on every answer, and the refusal of requests that other sites send."""

from collections.abc import Awaitable, Callable
from urllib.parse import urlsplit

from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

CONTENT_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; font-src 'self'; "
    "connect-src 'self'; manifest-src 'self'; worker-src 'self'; form-action 'self'; base-uri 'none'; "
    "frame-ancestors 'none'"
)
HEADERS = (
    (b"content-security-policy", CONTENT_POLICY.encode()),
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"no-referrer"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"permissions-policy", b"camera=(), microphone=(), geolocation=()"),
)
NEVER_KEEP = (b"cache-control", b"no-store")
KEEP_STATIC = (b"cache-control", b"public, max-age=31536000, immutable")
KEEPABLE = (200, 304)
"""A file that is not there yet must not stay missing for ever."""
LARGEST_BODY = 1024 * 1024
"""Bytes; a fitting file is about 20 kB."""
ShowError = Callable[[Request, Exception], Awaitable[Response]]
SAFE_METHODS = {"GET", "HEAD", "OPTIONS"}


class SecurityMiddleware:
    """Adds the headers, limits the size of what is sent, and refuses writes that come from another site."""

    def __init__(self, app: ASGIApp, show_unexpected: ShowError) -> None:
        self.app = app
        self.show_unexpected = show_unexpected

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        send_with_headers = with_headers(scope["path"], send)
        headers = {name: value for name, value in scope["headers"]}
        refusal = refused(scope["method"], scope["path"], headers)
        if refusal is not None:
            await refusal(scope, receive, send_with_headers)
            return
        await self._answer(scope, limited(receive), send_with_headers)

    async def _answer(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Carry out the request; what nobody foresaw becomes a page here, inside the headers."""
        started = False

        async def watched(message: Message) -> None:
            nonlocal started
            started = started or message["type"] == "http.response.start"
            await send(message)

        try:
            await self.app(scope, receive, watched)
        except Exception as error:
            if started:
                raise
            answer = await self.show_unexpected(Request(scope), error)
            await answer(scope, receive, send)


def with_headers(path: str, send: Send) -> Send:
    """`send`, adding the headers to the start of the answer."""
    caching = KEEP_STATIC if path.startswith("/static/") else NEVER_KEEP

    async def send_it(message: Message) -> None:
        if message["type"] == "http.response.start":
            present = {name.lower() for name, _ in message.get("headers", [])}
            keeping = caching if message["status"] in KEEPABLE else NEVER_KEEP
            extra = [header for header in (*HEADERS, keeping) if header[0] not in present]
            message = {**message, "headers": [*message.get("headers", []), *extra]}
        await send(message)

    return send_it


def refused(method: str, path: str, headers: dict[bytes, bytes]) -> PlainTextResponse | None:
    """The refusal of a request that must not be carried out, None where it may go on."""
    length = headers.get(b"content-length", b"0")
    if length.isdigit() and int(length) > LARGEST_BODY:
        return PlainTextResponse("That is more than can be sent at once (1 MB).", status_code=413)
    if method in SAFE_METHODS or (path.startswith("/api/") and b"authorization" in headers):
        return None
    if not from_this_site(headers):
        return PlainTextResponse("This was sent from another site and was not carried out.", status_code=403)
    return None


def from_this_site(headers: dict[bytes, bytes]) -> bool:
    """True where the browser says that the request comes from a page of ours."""
    site = headers.get(b"sec-fetch-site")
    if site is not None:
        return site in (b"same-origin", b"none")
    origin = headers.get(b"origin")
    if origin is None:
        return True  # not a browser: browsers send one of the two with every write
    return urlsplit(origin.decode("latin-1")).netloc == headers.get(b"host", b"").decode("latin-1")


def limited(receive: Receive) -> Callable[[], Awaitable[Message]]:
    """`receive`, refusing bodies that turn out longer than they said."""
    seen = 0

    async def receive_it() -> Message:
        nonlocal seen
        message = await receive()
        seen += len(message.get("body", b""))
        if seen > LARGEST_BODY:
            return {"type": "http.disconnect"}
        return message

    return receive_it

"""Turns a template and its context into an answer: a whole page, or for htmx only its content."""

import hashlib
from functools import cache
from pathlib import Path
from typing import Any

from fastapi import Request
from fastapi.responses import HTMLResponse
from jinja2 import Environment, FileSystemLoader, StrictUndefined

from app.web import words

ROOT = Path(__file__).resolve().parent.parent.parent
TEMPLATES = ROOT / "templates"
STATIC = ROOT / "static"


@cache
def static_address(name: str) -> str:
    """Address of a static file that changes when its content does, so that browsers may keep it for ever."""
    mark = hashlib.sha256((STATIC / name).read_bytes()).hexdigest()[:12]
    return f"/static/{mark}/{name}"


def make_environment() -> Environment:
    """The template environment: escaping on, unknown names an error."""
    environment = Environment(
        loader=FileSystemLoader(TEMPLATES),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.globals["static"] = static_address
    environment.filters.update(words.FILTERS)
    return environment


ENVIRONMENT = make_environment()


def is_fragment(request: Request) -> bool:
    """True where htmx asks for a part of the page."""
    return "hx-request" in request.headers


def render(
    request: Request,
    template: str,
    /,
    status: int = 200,
    headers: dict[str, str] | None = None,
    **context: Any,
) -> HTMLResponse:
    """Render a template as page or fragment. The signed-in person stands in every context as `who`."""
    layout = "layouts/fragment.html" if is_fragment(request) else "layouts/page.html"
    text = ENVIRONMENT.get_template(template).render(
        layout=layout,
        who=getattr(request.state, "who", None),
        demo=request.app.state.demo,
        practice=request.app.state.practice,
        **context,
    )
    return HTMLResponse(text, status_code=status, headers={"Vary": "HX-Request", **(headers or {})})

"""Every route asks for a right, or stands on a short list of those that need none and says why."""

from collections.abc import Iterator
from typing import Any

import pytest
from fastapi.dependencies.models import Dependant
from fastapi.routing import APIRoute

from app.web.api_token import token_needs
from app.web.application import create_application
from app.web.pages import ROUTERS
from app.web.session import needs, signed_in
from tests.web.practice import Practice

PUBLIC = {
    ("GET", "/sign-in"): "nobody is signed in yet",
    ("POST", "/sign-in"): "nobody is signed in yet",
    ("POST", "/sign-in/again"): "the sign-in has run out",
    ("GET", "/health"): "liveness, without any data",
    ("HEAD", "/health"): "liveness, without any data",
    ("GET", "/api/schema/fitting.json"): "a published form, without any data",
    ("GET", "/api/schema/assessment.json"): "a published form, without any data",
}
SIGNED_IN_IS_ENOUGH = {
    ("GET", "/"): "sends everybody to their own room",
    ("POST", "/sign-out"): "whoever is signed in may sign out",
    ("GET", "/blank-form"): "an empty sheet for a power cut, without any data",
}
RIGHT_CHECKS = {needs("help").__qualname__, token_needs("interface").__qualname__}


def routes() -> Iterator[tuple[str, APIRoute]]:
    """Every route of ours with each of its methods."""
    for router in ROUTERS:
        for route in router.routes:
            assert isinstance(route, APIRoute)
            for method in route.methods:
                yield method, route


def calls(dependant: Dependant) -> Iterator[Any]:
    """Everything that a route depends on, however deep."""
    for part in dependant.dependencies:
        yield part.call
        yield from calls(part)


ALL = [(method, route) for method, route in routes()]


@pytest.mark.parametrize(("method", "route"), ALL, ids=[f"{method} {route.path}" for method, route in ALL])
def test_every_route_asks_for_a_right_or_says_why_not(method: str, route: APIRoute) -> None:
    asked = list(calls(route.dependant))
    rights = [call for call in asked if getattr(call, "__qualname__", "") in RIGHT_CHECKS]
    place = (method, route.path)
    if place in PUBLIC:
        assert not rights
    elif place in SIGNED_IN_IS_ENOUGH:
        assert signed_in in asked
    else:
        assert rights, f"{method} {route.path} lets everybody in"


def test_the_lists_name_only_routes_that_exist() -> None:
    there = {(method, route.path) for method, route in ALL}
    assert set(PUBLIC) | set(SIGNED_IN_IS_ENOUGH) <= there


def test_no_two_routes_answer_one_address() -> None:
    places = [(method, route.path) for method, route in ALL]
    assert len(places) == len(set(places))


def filled(path: str) -> str:
    """An address of a route, with something unknown in each of its parts."""
    unknown = {"pair": "1", "number": "1", "version": "1"}
    parts = (
        unknown.get(part[1:-1].partition(":")[0], "0" * 32) if part.startswith("{") else part
        for part in path.split("/")
    )
    return "/".join(parts)


def test_nobody_gets_in_without_signing_in(practice: Practice) -> None:
    stranger = practice.anybody()
    for method, route in ALL:
        if (method, route.path) in PUBLIC:
            continue
        answer = stranger.request(method, filled(route.path))
        turned_away = answer.status_code == 401 or (
            answer.status_code == 303 and answer.headers["location"].startswith("/sign-in")
        )
        assert turned_away, f"{method} {route.path} answered {answer.status_code}"


@pytest.mark.parametrize(
    "header",
    [
        {"Sec-Fetch-Site": "cross-site"},
        {"Sec-Fetch-Site": "same-site"},
        {"Origin": "https://elsewhere.example"},
        {"Origin": "null"},
    ],
)
def test_what_another_site_sends_is_refused(practice: Practice, header: dict[str, str]) -> None:
    """Requests from other sites: Sec-Fetch-Site first, Origin where it is missing (OWASP CSRF cheat sheet)."""
    client = practice.as_("practitioner")
    for method, route in ALL:
        if method not in ("GET", "HEAD"):
            answer = client.request(method, filled(route.path), headers=header)
            assert answer.status_code == 403, f"{method} {route.path} answered {answer.status_code}"


def test_every_room_of_the_app_is_registered() -> None:
    assert create_application.__module__ == "app.web.application"
    assert {"/", "/desk", "/manage", "/help", "/people/{person_id}", "/api/fittings"} <= {
        route.path for _, route in ALL
    }

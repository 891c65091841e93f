"""The same protecting headers on every answer, whatever its status: OWASP ASVS 5.0.0, chapter 3.4."""

import pytest
from starlette.testclient import TestClient

from app.records.errors import StoreBusy, StoreFull
from app.records.identity import new_key
from app.web import home
from app.web.rendering import static_address
from app.web.security import LARGEST_BODY
from tests.web.practice import Practice

POLICY = {
    "default-src": "'none'",
    "script-src": "'self'",
    "style-src": "'self'",
    "frame-ancestors": "'none'",
    "base-uri": "'none'",
    "form-action": "'self'",
}
"""What must stand in the content policy; nothing in it may be unsafe."""


def assert_protected(headers: object, *, static: bool = False) -> None:
    """Look at the headers of one answer."""
    policy = dict(
        part.strip().split(" ", 1)
        for part in headers["content-security-policy"].split(";")  # type: ignore[index]
    )
    assert POLICY.items() <= policy.items()
    assert "unsafe" not in str(policy)
    assert headers["x-content-type-options"] == "nosniff"  # type: ignore[index]
    assert headers["referrer-policy"] == "no-referrer"  # type: ignore[index]
    assert headers["cross-origin-opener-policy"] == "same-origin"  # type: ignore[index]
    kept = "immutable" if static else "no-store"
    assert kept in headers["cache-control"]  # type: ignore[index]
    assert len([name for name in headers if name.lower() == "content-security-policy"]) == 1  # type: ignore[attr-defined]


def answers(practice: Practice) -> dict[int, object]:
    """One answer of each status that the app gives on purpose."""
    chair, nobody = practice.as_("practitioner"), practice.anybody()
    person = practice.person()
    signed = practice.signed_fitting(person)
    reading = {"measurement": "head_width", "value": 148}
    token = practice.token()
    keyed = {**token, "Idempotency-Key": "h"}
    return {
        200: chair.get("/"),
        201: nobody.post(f"/api/fittings/{practice.fitting(person)}/readings", json=reading, headers=keyed),
        303: nobody.get("/people/new"),
        400: nobody.post(f"/api/fittings/{signed}/readings", json=reading, headers=token),
        401: nobody.get(f"/api/fittings/{signed}"),
        403: chair.get("/manage"),
        404: chair.get("/nowhere"),
        405: chair.put("/desk"),
        409: nobody.post(
            f"/api/fittings/{signed}/readings", json=reading, headers={**token, "Idempotency-Key": "i"}
        ),
        413: chair.post("/people/new", content=b"x" * (LARGEST_BODY + 1)),
        422: chair.post("/people/new", data={"key": new_key()}),
    }


def test_every_status_carries_the_headers(practice: Practice) -> None:
    for status, answer in answers(practice).items():
        assert answer.status_code == status  # type: ignore[attr-defined]
        assert_protected(answer.headers)  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("error", "status"), [(StoreBusy(), 503), (StoreFull(), 507), (ZeroDivisionError("inside"), 500)]
)
def test_what_goes_wrong_inside_carries_them_too_and_tells_nothing_of_the_inside(
    practice: Practice, monkeypatch: pytest.MonkeyPatch, error: Exception, status: int
) -> None:
    def fails(*_: object, **__: object) -> object:
        raise error

    monkeypatch.setattr(home, "open_fittings", fails)
    client = TestClient(
        practice.app,
        base_url="http://localhost",
        cookies=practice.as_("practitioner").cookies,
        raise_server_exceptions=False,
    )
    answer = client.get("/")
    assert answer.status_code == status
    assert_protected(answer.headers)
    assert "inside" not in answer.text
    assert "Traceback" not in answer.text


@pytest.mark.parametrize("name", ["app.css", "desk.css", "app.js"])
def test_static_files_are_kept_and_protected(practice: Practice, name: str) -> None:
    answer = practice.anybody().get(static_address(name))
    assert answer.status_code == 200
    assert_protected(answer.headers, static=True)


def test_a_static_file_that_is_not_there_is_not_kept_for_ever(practice: Practice) -> None:
    answer = practice.anybody().get("/static/0/nothing.css")
    assert answer.status_code == 404
    assert "immutable" not in answer.headers["cache-control"]


def test_a_page_of_the_desk_is_never_kept_by_the_browser(practice: Practice) -> None:
    person = practice.person()
    answer = practice.as_("receptionist").get(f"/desk/people/{person}")
    assert answer.headers["cache-control"] == "no-store"
    assert "HX-Request" in answer.headers["vary"]

"""Papers taken out on the order page, and orders that cannot be sent because something is missing."""

from dataclasses import replace

import pytest

from app.fitting.reading import NotTaken
from app.practice.settings import Adjustments, PracticeSettings
from app.records.identity import new_key
from app.web.application import refresh_practice
from tests.web.demo_patients import answer_all, demo_fitting, demo_patient, sign, signed_demo, words
from tests.web.practice import Practice

NAMES = {
    "front.svg": ("image/svg+xml", b"<svg"),
    "front-bench-view.svg": ("image/svg+xml", b"MIRRORED"),
    "bridge.svg": ("image/svg+xml", b"<svg"),
    "sides.svg": ("image/svg+xml", b"<svg"),
    "lens.svg": ("image/svg+xml", b"<svg"),
    "front.dxf": ("image/vnd.dxf", b"LWPOLYLINE"),
    "front-bench-view.dxf": ("image/vnd.dxf", b"LWPOLYLINE"),
    "order.pdf": ("application/pdf", b"%PDF-"),
    "label.pdf": ("application/pdf", b"%PDF-"),
}


@pytest.mark.parametrize("role", ["practitioner", "assistant"])
def test_every_paper_that_the_page_offers_can_be_taken(practice: Practice, role: str) -> None:
    fitting = signed_demo(practice)
    page = practice.as_(role).get(f"/fittings/{fitting}/orders/1").text
    for name, (kind, inside) in NAMES.items():
        address = f"/fittings/{fitting}/orders/1/papers/{name}"
        assert f'href="{address}' in page
        answer = practice.as_(role).get(address)
        assert answer.status_code == 200, answer.text
        assert answer.headers["content-type"].startswith(kind)
        assert answer.headers["content-disposition"].endswith(f'filename="pair-1-{name}"')
        assert inside in answer.content
    record = practice.as_(role).get(f"/fittings/{fitting}/papers/record.pdf")
    assert record.content.startswith(b"%PDF-")


@pytest.mark.parametrize("role", ["receptionist", "manager"])
def test_who_may_not_open_orders_gets_no_papers(practice: Practice, role: str) -> None:
    fitting = signed_demo(practice)
    for address in (
        f"/fittings/{fitting}/orders/1/papers/order.pdf",
        f"/fittings/{fitting}/papers/record.pdf",
    ):
        assert practice.as_(role).get(address).status_code == 403


def test_papers_that_do_not_exist_are_not_found(practice: Practice) -> None:
    fitting = signed_demo(practice)
    for place in ("1/papers/other.svg", "3/papers/front.svg"):
        assert practice.as_("practitioner").get(f"/fittings/{fitting}/orders/{place}").status_code == 404


def test_a_signed_version_is_drawn_by_the_adjustments_it_was_signed_with(practice: Practice) -> None:
    fitting = signed_demo(practice)
    address = f"/fittings/{fitting}/orders/1/papers/sides.svg"
    before = practice.as_("practitioner").get(address).content
    refresh_practice(practice.app, PracticeSettings(adjustments=Adjustments(front_to_joint_mm=15.0)))
    assert practice.as_("practitioner").get(address).content == before
    assert practice.as_("practitioner").get(f"{address}?draft=true").content != before


def test_an_order_that_lacks_what_a_bench_needs_cannot_be_sent_and_says_what(practice: Practice) -> None:
    fitting = demo_patient()
    lacking = replace(
        fitting,
        readings=tuple(one for one in fitting.readings if one.measurement != "head_width"),
        not_taken=(*fitting.not_taken, NotTaken(measurement="head_width", side=None, reason="declined")),
    )
    fitting_id = demo_fitting(practice, changed=lacking)
    answer_all(practice, fitting_id)
    assert sign(practice, fitting_id) == 303
    page = words(practice.as_("practitioner"), f"/fittings/{fitting_id}/orders/1")
    assert "It cannot be sent yet. Missing: Head width." in page
    sent = practice.as_("practitioner").post(
        f"/fittings/{fitting_id}/orders/1/events", data={"key": new_key(), "state": "ordered", "note": ""}
    )
    assert sent.status_code == 403
    assert "Missing: Head width" in sent.text


def test_a_drawing_that_cannot_be_made_says_why_on_the_page_and_when_asked_for(practice: Practice) -> None:
    fitting = demo_patient()
    lacking = replace(
        fitting, readings=tuple(one for one in fitting.readings if one.measurement != "crest_height")
    )
    fitting_id = demo_fitting(practice, changed=lacking)
    page = words(practice.as_("practitioner"), f"/fittings/{fitting_id}/orders/1")
    assert "Front cannot be drawn, missing: Crest height." in page
    answer = practice.as_("practitioner").get(f"/fittings/{fitting_id}/orders/1/papers/front.svg")
    assert answer.status_code == 403
    assert "missing: Crest height" in answer.text

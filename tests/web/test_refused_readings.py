"""What is refused at the chair before anything is kept: in words, beside the box."""

import pytest

from app.fitting.fitting import Taken
from app.records.fittings import load_fitting, start_fitting
from app.records.identity import new_key
from app.records.people import save_person
from tests.web.practice import ODILE, Practice


@pytest.fixture
def fitting(practice: Practice) -> str:
    """An open fitting of an adult."""
    actor = practice.actor("practitioner")
    person = save_person(practice.database, key=new_key(), actor=actor, details=ODILE)
    taken = Taken(on="2026-10-02", by="Ines Farrow", role="practitioner")
    return start_fitting(practice.database, key=new_key(), actor=actor, person_id=person, taken=taken)


def test_ten_thousand_digits_are_refused_in_words(practice: Practice, fitting: str):
    answer = practice.as_("practitioner").post(
        f"/fittings/{fitting}/readings", data={"box": "head_width", "text": "9" * 10_000, "key": new_key()}
    )

    assert answer.status_code == 422
    assert "too long to be one number" in answer.text


@pytest.mark.parametrize("part", ["method", "condition"])
def test_a_method_or_condition_that_is_not_known_is_refused_in_words(
    practice: Practice, fitting: str, part: str
):
    form = {"box": "pd_distance", "text": "62", "key": new_key(), part: "by ear"}
    answer = practice.as_("practitioner").post(f"/fittings/{fitting}/readings", data=form)

    assert answer.status_code == 422
    assert "“by ear”" in answer.text
    assert load_fitting(practice.database, fitting).fitting.readings == ()


def test_an_estimate_says_from_what(practice: Practice, fitting: str):
    form = {"box": "head_width", "key": new_key(), "reason": "estimated"}
    client = practice.as_("practitioner")
    bare = client.post(f"/fittings/{fitting}/not-taken", data=form)
    assert bare.status_code == 422
    assert "say from what" in bare.text

    client.post(f"/fittings/{fitting}/not-taken", data=form | {"detail": "from the old pair"})
    assert [gap.detail for gap in load_fitting(practice.database, fitting).fitting.not_taken] == [
        "from the old pair"
    ]


@pytest.mark.parametrize(
    ("address", "page"),
    [
        ("fields", ""),
        ("readings", ""),
        ("not-taken", ""),
        ("not-taken/withdraw", ""),
        ("entered-in-error", ""),
        ("draft", ""),
        ("review/answer", "/review"),
        ("sign-off", "/review"),
        ("new-version", "/review"),
        ("orders/1/events", "/orders/1"),
    ],
)
def test_an_address_that_only_takes_forms_leads_back_to_its_page(
    practice: Practice, fitting: str, address: str, page: str
):
    answer = practice.as_("practitioner").get(f"/fittings/{fitting}/{address}")

    assert answer.status_code == 303
    assert answer.headers["location"] == f"/fittings/{fitting}{page}"

"""What the interface does not take: the practitioner's part from an assistant, and more than the store keeps."""

from typing import Any

import pytest

from app.records.fittings import load_fitting
from app.records.people import person_with_reference
from tests.web.practice import Practice
from tests.web.test_interface import FITTING, sent_reading, stored


def test_an_assistants_file_stands_in_the_assistants_name_and_waits_whatever_it_says(
    practice: Practice,
) -> None:
    forged = {"by": "Ines Farrow", "role": "practitioner", "accepted_by": "Ines Farrow", "proposed": False}
    document = {
        **FITTING,
        "readings": [{"measurement": "head_width", "value": 148, **forged}],
        "pairs": [{"pair": 2, "readings": [{"measurement": "lens_width", "value": 50, **forged}]}],
    }
    answer = practice.anybody().post("/api/fittings", json=document, headers=practice.token("assistant"))
    assert answer.status_code == 201
    fitting = load_fitting(practice.database, answer.json()["id"]).fitting
    assert (fitting.taken.by, fitting.taken.role) == ("Tobi Marsh", "assistant")
    for one in fitting.readings:
        assert (one.by, one.role, one.proposed, one.accepted_by) == ("Tobi Marsh", "assistant", True, None)


@pytest.mark.parametrize(
    "more",
    [
        {"cover_test": {"distance": {"finding": "none"}}},
        {"prescription": {"R": {"sphere": -2.0}}},
        {"pairs": [{"pair": 1, "bridge_style": "keyhole"}]},
        {"pairs": [{"pair": 1, "kind": "own_frame"}]},
        {"pairs": [{"pair": 2, "prescription": {"R": {"sphere": -2.0}}}]},
        {"history": {"blink": "clear"}},
        {"readings": [{"measurement": "lash_projection", "side": "R", "value": 9}]},
        {"not_taken": [{"measurement": "lash_projection", "side": "R", "reason": "declined"}]},
    ],
)
def test_what_is_the_practitioners_is_refused_to_an_assistants_token_and_nothing_is_stored(
    practice: Practice, more: dict[str, Any]
) -> None:
    document = {**FITTING, "readings": [], "not_taken": [], "pairs": [], **more}
    answer = practice.anybody().post("/api/fittings", json=document, headers=practice.token("assistant"))
    assert answer.status_code == 403
    assert "practitioner" in answer.json()["error"]
    assert person_with_reference(practice.database, "D-0001") is None


def test_an_assistant_answers_the_questions_of_the_persons_step(practice: Practice) -> None:
    document = {**FITTING, "readings": [], "pairs": [], "history": {"head_covering": "none"}}
    answer = practice.anybody().post("/api/fittings", json=document, headers=practice.token("assistant"))
    assert answer.status_code == 201


def test_an_assistant_replaces_no_reading_of_a_practitioner(practice: Practice) -> None:
    fitting_id = stored(practice).json()["id"]
    head = sent_reading(practice, fitting_id, {"measurement": "head_width", "value": 148}).json()["id"]
    headers = {**practice.token("assistant"), "Idempotency-Key": "a"}
    reading = {"measurement": "head_width", "value": 150, "replaces": head}
    answer = practice.anybody().post(f"/api/fittings/{fitting_id}/readings", json=reading, headers=headers)
    assert answer.status_code == 403


def test_a_correction_of_another_box_or_of_nothing_names_its_place(practice: Practice) -> None:
    fitting_id = stored(practice).json()["id"]
    head = sent_reading(practice, fitting_id, {"measurement": "head_width", "value": 148}).json()["id"]
    for key, replaces in (("two", head), ("three", "nobody")):
        reading = {"measurement": "temple_width", "value": 137, "replaces": replaces}
        answer = sent_reading(practice, fitting_id, reading, key=key)
        assert (answer.status_code, answer.json()["place"]) == (422, "replaces")


def test_a_key_with_half_a_character_is_refused_in_words(practice: Practice) -> None:
    answer = practice.anybody().post("/api/fittings", content=b'{"\\ud800": 1}', headers=practice.token())
    assert answer.status_code == 422
    assert answer.json()["place"] == "\\ud800"


@pytest.mark.parametrize(
    ("more", "place"),
    [
        ({"person": {"reference": "D-0001" + "1" * 100}}, "person.reference"),
        ({"taken": {"on": "2026-10-02", "by": "b" * 201}}, "taken.by"),
        (
            {"readings": [{"measurement": "head_width", "value": 148, "instrument": "t" * 201}]},
            "readings[0].instrument",
        ),
        ({"readings": [{"measurement": "head_width", "value": 148}] * 5001}, "readings"),
    ],
)
def test_more_than_the_store_keeps_is_named_with_its_place_and_no_person_is_left_behind(
    practice: Practice, more: dict[str, Any], place: str
) -> None:
    answer = stored(practice, {**FITTING, **more})
    assert (answer.status_code, answer.json()["place"]) == (422, place)
    with practice.database.read() as connection:
        assert connection.exec_driver_sql("SELECT count(*) FROM person").scalar() == 0


def test_a_reading_keeps_who_took_it_and_when_or_else_who_took_the_fitting(practice: Practice) -> None:
    old = {"by": "B. Before", "role": "practitioner", "at": "2019-05-04T10:00:00Z"}
    readings = [
        {"measurement": "head_width", "value": 148, **old},
        {"measurement": "temple_width", "value": 137},
    ]
    not_taken = [{"measurement": "head_height", "reason": "declined"}]
    document = {**FITTING, "readings": readings, "not_taken": not_taken}
    fitting = load_fitting(practice.database, stored(practice, document).json()["id"]).fitting
    assert [(one.by, one.at) for one in fitting.readings[:2]] == [
        ("B. Before", "2019-05-04T10:00:00Z"),
        ("A. Practitioner", "2026-10-02"),
    ]
    assert (fitting.not_taken[0].by, fitting.not_taken[0].at) == ("A. Practitioner", "2026-10-02")

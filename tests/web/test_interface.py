"""The JSON interface: a fitting goes in and comes out whole, a retry stores once, a refusal names its place."""

import json
from dataclasses import replace
from typing import Any

import jsonschema
import pytest

from app.catalogue.catalogue import MEASUREMENTS
from app.documents.assessment import assessment
from app.fitting.fitting_file import read_fitting
from app.practice.settings import PracticeSettings
from app.records.fittings import load_fitting
from app.records.people import load_person, person_with_reference
from tests.web.practice import ODILE, Practice

FITTING: dict[str, Any] = {
    "schema": "chair-to-bench/fitting/1",
    "person": {"reference": "D-0001", "born": "1961-05-30", "sex": "F"},
    "taken": {"on": "2026-10-02", "by": "A. Practitioner", "role": "practitioner"},
    "readings": [
        {"measurement": "pd_distance", "method": "pupil_gauge", "value": 61.5, "unit": "mm"},
        {"measurement": "pd_distance", "method": "rule", "value": "62", "unit": "mm"},
        {"measurement": "head_circumference", "value": "56.2", "unit": "cm", "instrument": "tape 2"},
    ],
    "not_taken": [{"measurement": "head_height", "reason": "declined"}],
    "pairs": [
        {
            "pair": 2,
            "kind": "own_frame",
            "lens_form": "bifocal",
            "segment": {"shape": "D", "diameter": 28},
            "readings": [{"measurement": "segment_height", "side": "R", "value": 15}],
        }
    ],
}
SWAPPED = ("bridge_width_10", "bridge_width_15")


def stored(practice: Practice, document: object = FITTING, **headers: str) -> Any:
    """The answer to storing a fitting file."""
    return practice.anybody().post("/api/fittings", json=document, headers={**practice.token(), **headers})


def sent_reading(practice: Practice, fitting_id: str, reading: object, key: str | None = "one") -> Any:
    """The answer to sending one reading."""
    headers = practice.token() | ({"Idempotency-Key": key} if key is not None else {})
    return practice.anybody().post(f"/api/fittings/{fitting_id}/readings", json=reading, headers=headers)


def test_a_fitting_file_goes_in_and_comes_out_whole(practice: Practice) -> None:
    answer = stored(practice)
    assert answer.status_code == 201
    got = practice.anybody().get(f"/api/fittings/{answer.json()['id']}", headers=practice.token())
    assert got.status_code == 200
    document = got.json()
    jsonschema.validate(document, practice.anybody().get("/api/schema/fitting.json").json())
    fitting = read_fitting(document)
    assert [reading.value for reading in fitting.readings] == [61.5, 62, 562, 15]
    assert [reading.text for reading in fitting.readings][2] == "56.2 cm"
    assert fitting.not_taken[0].reason == "declined"


def test_the_person_is_found_by_reference_and_made_where_there_is_none(practice: Practice) -> None:
    held = practice.person()
    answer = stored(practice)
    assert load_fitting(practice.database, answer.json()["id"]).person_id == held
    other = {**FITTING, "person": {"reference": "D-0099"}}
    made = load_fitting(practice.database, stored(practice, other).json()["id"]).person_id
    assert made == person_with_reference(practice.database, "D-0099")


def test_a_file_of_somebody_else_under_a_held_reference_is_refused(practice: Practice) -> None:
    practice.person()
    other = {**FITTING, "person": {"reference": "D-0001", "born": "1999-01-01"}}
    answer = stored(practice, other)
    assert answer.status_code == 422
    assert answer.json()["place"] == "person.born"
    assert "1961" not in answer.text, "what is held is not told"


def test_a_blank_of_the_record_is_filled_from_the_file(practice: Practice) -> None:
    held = practice.person(replace(ODILE, born=None, sex=None))
    stored(practice)
    details = load_person(practice.database, held).details
    assert (details.born, details.sex, details.telephone) == ("1961-05-30", "F", ODILE.telephone)


@pytest.mark.parametrize(
    ("change", "place"),
    [
        ({"readings": [{"measurement": "pd_distance", "value": 62, "unit": "miles"}]}, "readings[0].unit"),
        ({"readings": [{"measurement": "nose_beauty", "value": 62}]}, "readings[0].measurement"),
        ({"readings": [{"measurement": "pd_distance", "value": "many"}]}, "readings[0].value"),
        ({"colour": "blue"}, "colour"),
        ({"schema": "something/else"}, "schema"),
        ({"taken": {"on": "2026-02-30"}}, "taken.on"),
    ],
)
def test_a_file_that_is_no_fitting_names_its_place_and_nothing_is_stored(
    practice: Practice, change: dict[str, Any], place: str
) -> None:
    answer = stored(practice, {**FITTING, **change})
    assert answer.status_code == 422
    assert answer.json()["place"] == place
    assert answer.json()["error"].startswith(f"{place}: ")
    assert "\n" not in answer.json()["error"]
    assert person_with_reference(practice.database, "D-0001") is None


@pytest.mark.parametrize(
    "body", ["", "not json", "[1, 2]", "\ufeff{", '{"schema": 1, "schema": 2}', "[" * 5000]
)
def test_a_body_that_is_not_json_is_refused_in_words(practice: Practice, body: str) -> None:
    answer = practice.anybody().post("/api/fittings", content=body.encode(), headers=practice.token())
    assert answer.status_code == 422
    assert answer.json()["error"]


def test_a_fitting_sent_again_under_its_key_is_stored_once(practice: Practice) -> None:
    first = stored(practice, **{"Idempotency-Key": "visit 7"})
    second = stored(practice, **{"Idempotency-Key": "visit 7"})
    assert first.json() == second.json()
    assert (first.status_code, second.status_code) == (201, 200)
    other = stored(practice, {**FITTING, "not_taken": []}, **{"Idempotency-Key": "visit 7"})
    assert other.status_code == 422


def test_a_reading_is_answered_with_the_findings_about_it(practice: Practice) -> None:
    fitting_id = stored(practice).json()["id"]
    assert sent_reading(practice, fitting_id, {"measurement": SWAPPED[0], "value": 23.5}).status_code == 201
    answer = sent_reading(practice, fitting_id, {"measurement": SWAPPED[1], "value": 19.5}, key="two")
    assert answer.status_code == 201
    findings = answer.json()["findings"]
    assert [finding["severity"] for finding in findings] == ["stop"]
    assert {subject["measurement"] for subject in findings[0]["about"]} == set(SWAPPED)
    readings = load_fitting(practice.database, fitting_id).fitting.readings
    assert answer.json()["id"] in [reading.identity for reading in readings]


def test_the_same_key_again_gets_the_first_answer_whatever_was_stored_meanwhile(practice: Practice) -> None:
    fitting_id = stored(practice).json()["id"]
    reading = {"measurement": SWAPPED[0], "value": 23.5}
    first = sent_reading(practice, fitting_id, reading)
    sent_reading(practice, fitting_id, {"measurement": SWAPPED[1], "value": 19.5}, key="two")
    again = sent_reading(practice, fitting_id, reading)
    assert (first.status_code, again.status_code) == (201, 200)
    assert again.json() == first.json()
    held = load_fitting(practice.database, fitting_id).fitting.readings
    assert sum(one.measurement == SWAPPED[0] for one in held) == 1


def test_a_key_used_for_another_reading_is_refused(practice: Practice) -> None:
    fitting_id = stored(practice).json()["id"]
    sent_reading(practice, fitting_id, {"measurement": "head_width", "value": 148})
    answer = sent_reading(practice, fitting_id, {"measurement": "head_width", "value": 149})
    assert answer.status_code == 422


@pytest.mark.parametrize("key", [None, "", "  ", "k" * 101])
def test_a_reading_without_a_key_is_refused_in_words(practice: Practice, key: str | None) -> None:
    fitting_id = stored(practice).json()["id"]
    answer = sent_reading(practice, fitting_id, {"measurement": "head_width", "value": 148}, key=key)
    assert answer.status_code == 400
    assert "Idempotency-Key" in answer.json()["error"]


@pytest.mark.parametrize(
    ("reading", "place"),
    [
        ({"measurement": "head_width"}, "value"),
        ({"measurement": "head_width", "value": "wide"}, "value"),
        ({"measurement": "head_width", "value": 148, "side": "R"}, "side"),
        ({"measurement": "frontal_angle", "value": 24}, "side"),
        ({"measurement": "head_width", "value": 148, "pair": 1}, "pair"),
        ({"measurement": "lens_width", "value": 50, "pair": 3}, "pair"),
        ({"measurement": "head_width", "value": 1e400}, "value"),
        ([1, 2], "body"),
    ],
)
def test_a_reading_that_is_none_names_its_place(practice: Practice, reading: object, place: str) -> None:
    fitting_id = stored(practice).json()["id"]
    body = json.dumps(reading).replace("Infinity", "1e400").encode()
    headers = {**practice.token(), "Idempotency-Key": "one"}
    address = f"/api/fittings/{fitting_id}/readings"
    answer = practice.anybody().post(address, content=body, headers=headers)
    assert answer.status_code == 422
    assert answer.json()["place"] == place
    assert len(load_fitting(practice.database, fitting_id).fitting.readings) == 4


def test_a_reading_off_a_pair_belongs_to_the_persons_own_unless_it_says_otherwise(practice: Practice) -> None:
    fitting_id = stored(practice).json()["id"]
    sent_reading(practice, fitting_id, {"measurement": "lens_width", "value": 50})
    sent_reading(practice, fitting_id, {"measurement": "lens_width", "value": 48, "pair": 1}, key="two")
    readings = load_fitting(practice.database, fitting_id).fitting.readings
    assert [(one.pair, one.value) for one in readings if one.measurement == "lens_width"] == [
        (2, 50),
        (1, 48),
    ]


def test_the_assessment_is_what_the_command_prints(practice: Practice) -> None:
    fitting_id = stored(practice).json()["id"]
    client, token = practice.anybody(), practice.token()
    answer = client.get(f"/api/fittings/{fitting_id}/assessment", headers=token).json()
    fitting = read_fitting(client.get(f"/api/fittings/{fitting_id}", headers=token).json())
    assert answer == json.loads(json.dumps(assessment(fitting, PracticeSettings())))
    jsonschema.validate(answer, client.get("/api/schema/assessment.json").json())


def test_an_assistant_sends_head_readings_as_proposed_and_none_near_the_eye(practice: Practice) -> None:
    fitting_id = stored(practice).json()["id"]
    headers = {**practice.token("assistant"), "Idempotency-Key": "a"}
    address = f"/api/fittings/{fitting_id}/readings"
    client = practice.anybody()
    assert (
        client.post(address, json={"measurement": "head_width", "value": 148}, headers=headers).status_code
        == 201
    )
    assert load_fitting(practice.database, fitting_id).fitting.readings[-1].proposed
    near = next(
        one for one in MEASUREMENTS.values() if one.near_eye and one.sides == "one" and not one.off_pair
    )
    headers["Idempotency-Key"] = "b"
    answer = client.post(
        address, json={"measurement": near.key, "value": near.adult.usual.low}, headers=headers
    )
    assert answer.status_code == 403


@pytest.mark.parametrize("role", ["receptionist", "manager"])
def test_a_token_of_somebody_who_opens_no_fitting_opens_none(practice: Practice, role: str) -> None:
    fitting_id = stored(practice).json()["id"]
    answer = practice.anybody().get(f"/api/fittings/{fitting_id}", headers=practice.token(role))
    assert answer.status_code == 403


@pytest.mark.parametrize("header", [{}, {"Authorization": "Bearer nobody"}, {"Authorization": "Basic eDp5"}])
def test_without_a_token_nothing_is_told(practice: Practice, header: dict[str, str]) -> None:
    fitting_id = stored(practice).json()["id"]
    for address in (f"/api/fittings/{fitting_id}", f"/api/fittings/{fitting_id}/assessment"):
        answer = practice.anybody().get(address, headers=header)
        # RFC 9110 section 11.6.1: a 401 says how to authenticate
        assert (answer.status_code, answer.headers["WWW-Authenticate"]) == (401, "Bearer")
    assert practice.anybody().post("/api/fittings", json=FITTING, headers=header).status_code == 401


def test_a_signed_in_browser_is_no_token(practice: Practice) -> None:
    assert practice.as_("practitioner").post("/api/fittings", json=FITTING).status_code == 401


def test_an_unknown_fitting_and_a_signed_one_are_said(practice: Practice) -> None:
    client, token = practice.anybody(), practice.token()
    assert client.get("/api/fittings/" + "0" * 32, headers=token).status_code == 404
    signed = practice.signed_fitting(practice.person())
    answer = sent_reading(practice, signed, {"measurement": "head_width", "value": 148})
    assert answer.status_code == 409
    assert "signed" in answer.json()["error"]


def test_schemas_and_description_are_open_and_valid(practice: Practice) -> None:
    client = practice.anybody()
    for name in ("fitting", "assessment"):
        schema = client.get(f"/api/schema/{name}.json").json()
        jsonschema.Draft202012Validator.check_schema(schema)
    description = client.get("/api/openapi.json").json()
    paths = set(description["paths"])
    assert paths == {
        "/api/fittings",
        "/api/fittings/{fitting_id}",
        "/api/fittings/{fitting_id}/readings",
        "/api/fittings/{fitting_id}/assessment",
        "/api/schema/fitting.json",
        "/api/schema/assessment.json",
        "/health",
    }


def test_health_says_whether_readings_can_be_stored(practice: Practice) -> None:
    answer = practice.anybody().get("/health")
    assert answer.status_code == 200
    assert practice.anybody().head("/health").status_code == 200
    assert answer.json()["status"] == "ok"
    practice.database._damaged = True  # as after a damaged page was read
    answer = practice.anybody().get("/health")
    assert (answer.status_code, answer.json()["status"]) == (503, "failing")

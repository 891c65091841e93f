"""FHIR R4: the bundle against a model library, our own check of required elements, and prescriptions that come
in.
"""

import json
from copy import deepcopy
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from fhir.resources.R4B.bundle import Bundle
from hypothesis import given, settings
from hypothesis import strategies as st

from app.documents.fhir_bundle import fhir_bundle
from app.documents.fhir_check import fhir_problems
from app.documents.fhir_prescription import figure, lens_specifications
from app.documents.json_text import json_text
from app.documents.prescription_import import import_prescription
from app.documents.vision_prescription import read_fhir_prescription, read_prescription_text
from app.fitting.prescription import EyePrescription, Prescription, Prism
from app.fitting.reading import EnteredInError, NotTaken
from tests.documents.orders import IDENTITY, SIGNED, demo

# https://www.hl7.org/fhir/r4/visionprescription-example.json.html, without its narrative
OFFICIAL = """{"resourceType": "VisionPrescription", "id": "33123",
 "identifier": [{"system": "http://www.happysight.com/prescription", "value": "15013"}],
 "status": "active", "created": "2014-06-15", "patient": {"reference": "Patient/example"},
 "dateWritten": "2014-06-15", "prescriber": {"reference": "Practitioner/example"},
 "lensSpecification": [
  {"product": {"coding": [{"system": "http://terminology.hl7.org/CodeSystem/ex-visionprescriptionproduct",
   "code": "lens"}]}, "eye": "right", "sphere": -2.00, "prism": [{"amount": 0.5, "base": "down"}], "add": 2.00},
  {"product": {"coding": [{"system": "http://terminology.hl7.org/CodeSystem/ex-visionprescriptionproduct",
   "code": "lens"}]}, "eye": "left", "sphere": -1.00, "cylinder": -0.50, "axis": 180,
   "prism": [{"amount": 0.5, "base": "up"}], "add": 2.00}]}"""


def bundle_of(**changes: object) -> dict[str, Any]:
    """The bundle of a demo patient with parts changed, as another program reads it."""
    made = fhir_bundle(replace(demo(), **changes), identity=IDENTITY, signed=SIGNED)  # type: ignore[arg-type]
    return json.loads(json_text(made.bundle))  # type: ignore[no-any-return]


def resources(bundle: dict[str, Any], kind: str) -> list[dict[str, Any]]:
    """The resources of one kind."""
    return [one["resource"] for one in bundle["entry"] if one["resource"]["resourceType"] == kind]


def test_the_official_example_is_read_and_written_out_the_same() -> None:
    official = json.loads(OFFICIAL, parse_float=Decimal)
    written = lens_specifications(read_fhir_prescription(official))
    assert json_text(written) == json_text(
        [{key: value for key, value in lens.items() if key != "id"} for lens in _in_our_order(official)]
    )


def _in_our_order(official: dict[str, Any]) -> list[dict[str, Any]]:
    order = ("product", "eye", "sphere", "cylinder", "axis", "prism", "add")
    return [{key: lens[key] for key in order if key in lens} for lens in official["lensSpecification"]]


@pytest.mark.parametrize("name", [f"patient_{number}" for number in range(1, 9)])
def test_the_bundle_of_every_demo_patient_passes_the_models_and_our_check(name: str) -> None:
    text = json_text(fhir_bundle(demo(name), identity=IDENTITY, signed=SIGNED).bundle)
    model = Bundle.model_validate_json(text)
    assert fhir_problems(json.loads(text)) == []
    back = json.loads(model.model_dump_json())
    assert [one["resource"]["resourceType"] for one in back["entry"]] == [
        one["resource"]["resourceType"] for one in json.loads(text)["entry"]
    ]


def test_the_same_fitting_gives_the_same_bytes() -> None:
    texts = {json_text(fhir_bundle(demo(), identity=IDENTITY, signed=SIGNED).bundle) for _ in range(2)}
    assert len(texts) == 1
    assert set(_moments(json.loads(texts.pop()))) == {SIGNED.at}


def _moments(holder: Any) -> list[str]:
    """Every time of day in a document."""
    if isinstance(holder, list):
        return [moment for item in holder for moment in _moments(item)]
    if isinstance(holder, dict):
        return [moment for item in holder.values() for moment in _moments(item)]
    return [holder] if isinstance(holder, str) and holder[:2] == "20" and "T" in holder else []


def test_every_reading_becomes_an_observation_in_ucum_with_our_code() -> None:
    fitting = demo()
    observations = resources(bundle_of(), "Observation")
    measured = [
        one for one in observations if "method" in one or one["code"]["coding"][0]["code"] != "tested_at"
    ]
    assert len(measured) == len(fitting.readings) + len(fitting.not_taken)
    for one, reading in zip(measured, fitting.readings, strict=False):
        assert one["code"]["coding"][0] | {"display": ""} == {
            "system": "urn:x-chair-to-bench:measurement",
            "code": reading.measurement,
            "display": "",
        }
        assert one["valueQuantity"]["value"] == pytest.approx(reading.value)
        assert one["valueQuantity"]["system"] == "http://unitsofmeasure.org"
        assert one["valueQuantity"]["code"] in ("mm", "cm", "deg")


def test_proposed_corrected_and_wrong_readings_say_so() -> None:
    first, second, third, *others = demo().readings
    error = EnteredInError(by="Ines Farrow", at="2026-10-02T09:00:00Z", reason="other patient")
    readings = (
        replace(first, proposed=True, accepted_by=None),
        replace(second, replaces="earlier"),
        replace(third, entered_in_error=error),
        *others,
    )
    found = resources(bundle_of(readings=readings), "Observation")
    assert [one["status"] for one in found[:4]] == ["preliminary", "corrected", "entered-in-error", "final"]
    assert "other patient" in found[2]["note"][-1]["text"]


def test_what_was_not_taken_has_a_reason_and_no_value() -> None:
    gap = NotTaken(measurement="apical_radius", reason="sore_or_healing")
    found = [
        one for one in resources(bundle_of(not_taken=(gap,)), "Observation") if "dataAbsentReason" in one
    ]
    assert len(found) == 1
    assert "valueQuantity" not in found[0]
    assert found[0]["dataAbsentReason"]["coding"][0]["code"] == "not-performed"


def test_an_oblique_prism_goes_out_as_two_entries_and_an_eye_alone_as_one_lens() -> None:
    eye = EyePrescription(sphere=-2.25, prism=(Prism(amount=2, base="in"), Prism(amount=1.5, base="up")))
    written = Prescription(right=eye, written="2026-09-01", prescriber="R. Stone", tested_at_mm=12)
    lenses = resources(bundle_of(prescription=written), "VisionPrescription")[0]["lensSpecification"]
    assert [lens["eye"] for lens in lenses] == ["right"]
    assert lenses[0]["prism"] == [{"amount": 2.0, "base": "in"}, {"amount": 1.5, "base": "up"}]


def test_what_fhir_cannot_carry_is_named() -> None:
    eye = EyePrescription(sphere=-1, cylinder=-0.5, axis=92.5, prism=(Prism(amount=1, base=None),))
    written = Prescription(right=eye, written="2026-09-01", prescriber="R. Stone")
    export = fhir_bundle(replace(demo(), prescription=written), identity=IDENTITY, signed=SIGNED)
    assert len(export.left_out) == 2
    assert fhir_problems(json.loads(json_text(export.bundle))) == []
    undated = fhir_bundle(
        replace(demo(), prescription=replace(written, written=None)), identity=IDENTITY, signed=SIGNED
    )
    assert "asks for its date" in undated.left_out[-1]


@pytest.mark.parametrize(
    ("kind", "change", "words"),
    [
        ("VisionPrescription", {"dateWritten": None}, "dateWritten is missing"),
        ("VisionPrescription", {"status": "valid"}, "“valid”, which FHIR does not know"),
        ("VisionPrescription", {"lensSpecification": []}, "lensSpecification is missing"),
        ("VisionPrescription", {"lensSpecification": [{"eye": "R"}]}, "“R”, which FHIR does not know"),
        (
            "VisionPrescription",
            {"lensSpecification": [{"product": {}, "eye": "left", "axis": 90.5}]},
            "whole number",
        ),
        ("Observation", {"code": None}, "code is missing"),
        ("Observation", {"dataAbsentReason": {"text": "x"}}, "obs-6"),
        ("Provenance", {"agent": [{}]}, "agent.who is missing"),
        ("Provenance", {"target": [{"reference": "urn:uuid:1"}]}, "leads nowhere"),
    ],
)
def test_our_check_finds_what_model_libraries_let_pass(kind: str, change: dict[str, Any], words: str) -> None:
    bundle = deepcopy(bundle_of())
    resources(bundle, kind)[0].update(change)
    assert any(words in problem for problem in fhir_problems(bundle)), fhir_problems(bundle)


def test_figures_keep_what_was_written() -> None:
    assert json_text([figure(-2.0), figure(0.125), figure(31.5, 0), figure(120.0, 0)]).split() == [
        *("[", "-2.00,", "0.125,", "31.5,", "120", "]"),
    ]


def test_the_official_example_comes_into_the_prescription_step() -> None:
    found = import_prescription(OFFICIAL)
    assert found.fields == {
        "R.sphere": "-2.00",
        "R.add": "+2.00",
        "R.prism.1.amount": "0.5",
        "R.prism.1.base": "down",
        "L.sphere": "-1.00",
        "L.cylinder": "-0.50",
        "L.add": "+2.00",
        "L.axis": "180",
        "L.prism.1.amount": "0.5",
        "L.prism.1.base": "up",
        "written": "2014-06-15",
    }
    assert found.not_understood == ("The prescriber's name does not stand in it.",)


def test_what_was_not_understood_is_listed() -> None:
    document = json.loads(OFFICIAL)
    document["lensSpecification"][0] |= {"brand": "any", "axis": 12.5}
    document["extension"] = [{"url": "x"}]
    del document["dateWritten"]
    said = " ".join(import_prescription(json.dumps(document)).not_understood)
    for words in (
        "right eye: brand",
        "Not taken over: extension",
        "dateWritten is missing",
        "not a whole number",
    ):
        assert words in said


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "nothing to read"),
        ("{", "not JSON"),
        ("[1, 2]", "not a FHIR VisionPrescription"),
        ('{"resourceType": "Patient"}', "not a FHIR VisionPrescription"),
        ('{"resourceType": "Bundle", "entry": []}', "holds 0 prescriptions"),
        ('{"resourceType": "VisionPrescription", "status": "cancelled"}', "was cancelled"),
        ('{"resourceType": "VisionPrescription", "lensSpecification": [7]}', "not written as FHIR"),
        (
            '{"resourceType": "VisionPrescription", "lensSpecification": [{"eye": "right", "sphere": -900}]}',
            "lies from",
        ),
        (
            '{"resourceType": "VisionPrescription", "lensSpecification": [{"eye": "right", "sphere": NaN}]}',
            "not JSON",
        ),
        ("-2.00", "Write the eye"),
    ],
)
def test_what_cannot_be_used_is_refused_in_words(text: str, words: str) -> None:
    found = import_prescription(text)
    assert found.fields == {}
    assert any(words in said for said in found.not_understood), found.not_understood


JSON_VALUES = st.recursive(
    st.none() | st.booleans() | st.integers(-400, 400) | st.floats(allow_nan=False) | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=6), inner, max_size=3),
    max_leaves=8,
)


@given(
    st.dictionaries(
        st.sampled_from(["eye", "sphere", "cylinder", "axis", "add", "prism", "product"]),
        JSON_VALUES,
        max_size=7,
    ),
    st.dictionaries(
        st.sampled_from(["status", "dateWritten", "prescriber", "lensSpecification"]), JSON_VALUES
    ),
    st.booleans(),
)
@settings(max_examples=400, deadline=None)
def test_no_json_breaks_the_import(lens: dict[str, Any], more: dict[str, Any], eye: bool) -> None:
    chosen = lens | ({"eye": "right"} if eye else {})
    document = {"resourceType": "VisionPrescription", "lensSpecification": [chosen]} | more
    found = import_prescription(json.dumps(document))
    assert found.fields or found.not_understood


def test_words_and_fhir_give_the_same_fields() -> None:
    words = "OD -2.00 SPH +2.00 add 0.5 p.d. BD; OS -1.00 -0.50 x 180 +2.00 add 0.5 p.d. BU"
    assert lens_specifications(read_prescription_text(words)) == lens_specifications(
        read_fhir_prescription(json.loads(OFFICIAL))
    )
    fields = import_prescription(OFFICIAL).fields
    assert import_prescription(words).fields == {
        path: text for path, text in fields.items() if path != "written"
    }

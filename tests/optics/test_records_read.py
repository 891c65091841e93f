"""Prescriptions and traces as they arrive: what is read, and what is refused in words."""

import json

import numpy as np
import pytest

from app.documents.trace_record import UnreadableTrace, read_trace_header, read_traces
from app.documents.vision_prescription import (
    EyePrescription,
    PrescribedPrism,
    UnreadablePrescription,
    VisionPrescription,
    read_fhir_prescription,
    read_prescription_text,
)

# The lens part of the official example, https://www.hl7.org/fhir/r4/visionprescription-example.json.html
FHIR_EXAMPLE = json.loads(
    """{"resourceType": "VisionPrescription", "status": "active", "lensSpecification": [
    {"eye": "right", "sphere": -2.00, "prism": [{"amount": 0.5, "base": "down"}], "add": 2.00},
    {"eye": "left", "sphere": -1.00, "cylinder": -0.50, "axis": 180,
     "prism": [{"amount": 0.5, "base": "up"}], "add": 2.00}]}"""
)


def test_the_official_fhir_example_and_its_words_say_the_same() -> None:
    words = "OD -2.00 SPH +2.00 add 0.5 p.d. BD; OS -1.00 -0.50 x 180 +2.00 add 0.5 p.d. BU"

    assert read_fhir_prescription(FHIR_EXAMPLE) == read_prescription_text(words)
    assert read_fhir_prescription(FHIR_EXAMPLE).left == EyePrescription(
        -1.0, -0.5, 180.0, 2.0, (PrescribedPrism(0.5, "up"),)
    )


@pytest.mark.parametrize(
    ("words", "right"),
    [
        ("R +1.25", EyePrescription(1.25)),
        ("R: plano -0.75 x 90", EyePrescription(0.0, -0.75, 90.0)),
        ("RE -3.25/-1.50 x 15 Add 1.75", EyePrescription(-3.25, -1.5, 15.0, 1.75)),
        ("OD -3.25 -1.50 x 15 +1.75 add", EyePrescription(-3.25, -1.5, 15.0, 1.75)),
        ("right -3.25 add +1.75", EyePrescription(-3.25, addition_d=1.75)),
        ("OD +0.50 -0.25 axis 5", EyePrescription(0.5, -0.25, 5.0)),
        (
            "OD -1.00 2 base in 1.5 BU",
            EyePrescription(-1.0, prisms=(PrescribedPrism(2.0, "in"), PrescribedPrism(1.5, "up"))),
        ),
    ],
)
def test_usual_ways_of_writing_a_prescription_are_understood(words: str, right: EyePrescription) -> None:
    assert read_prescription_text(words) == VisionPrescription(right, EyePrescription())


@pytest.mark.parametrize(
    "words",
    [
        "-2.00 -1.00 x 90",
        "OD -1.00 -2.00 -3.00",
        "OD -1.00 x 90",
        "OD -1.00 -1.00 x 190",
        "OD -1.00 add -2.00",
    ],
)
def test_a_prescription_that_is_not_clear_is_refused(words: str) -> None:
    with pytest.raises(UnreadablePrescription):
        read_prescription_text(words)


@pytest.mark.parametrize(
    "resource",
    [
        {"resourceType": "Patient"},
        {"resourceType": "VisionPrescription", "lensSpecification": [{"sphere": 1}]},
        {
            "resourceType": "VisionPrescription",
            "lensSpecification": [{"eye": "right", "prism": [{"amount": 1, "base": "45"}]}],
        },
    ],
)
def test_a_resource_that_is_no_prescription_is_refused(resource: dict[str, object]) -> None:
    with pytest.raises(UnreadablePrescription):
        read_fhir_prescription(resource)


def test_a_plain_trace_of_both_sides_is_read_with_its_angles() -> None:
    text = "\r\n".join(
        (
            "JOB=1",
            "TRCFMT=1;4;E;R;F",
            "R=2500;2000;2500;2000",
            "TRCFMT=1;3;U;L;P",
            "R=2400;2100",
            "R=2300",
            "A=0;9000;21050",
        )
    )

    right, left = read_traces(text)

    assert (right.header.side, left.header.side) == ("R", "L")
    assert right.radii_mm.tolist() == [25.0, 20.0, 25.0, 20.0]
    assert np.allclose(left.angles_deg, [0.0, 90.0, 210.5])


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("TRCFMT=1;4;E;R;F\nR=2500;2000;2500", "announces 4 radii, 3 came"),
        ("TRCFMT=1;2;U;R;F\nR=2500;2000\nA=0", "announces 2 angles, 1 came"),
        ("TRCFMT=1;2;E;R;F\nR=2500;x", "whole number"),
        ("TRCFMT=1;2;E;R;F\nR=2500;0", "not above 0"),
        ("TRCFMT=4;512;E;R;F\nR=abc", "packed binary"),
    ],
)
def test_a_trace_that_contradicts_itself_is_refused_with_the_reason(text: str, reason: str) -> None:
    with pytest.raises(UnreadableTrace, match=reason):
        read_traces(text)


@pytest.mark.parametrize("record", ["TRCFMT=1;4;E;R", "TRCFMT=9;4;E;R;F", "TRCFMT=1;4;Q;R;F", "R=1;2", ""])
def test_a_header_that_the_standard_does_not_know_is_refused(record: str) -> None:
    with pytest.raises(UnreadableTrace):
        read_trace_header(record)

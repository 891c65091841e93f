"""The assessment says what each lens comes to, how sure that is, and what is missing for the rest."""

import json
from dataclasses import replace
from pathlib import Path

import jsonschema
import numpy as np
import pytest

from app.documents.assessment import assessment
from app.documents.path_data import path_data
from app.documents.traced_outline import outline_in, traced_outlines
from app.fitting.assessment_schema import assessment_schema
from app.fitting.fitting import Fitting
from app.fitting.fitting_file import read_fitting
from app.optics.outline_size import outline_sizes
from app.practice.settings import PracticeSettings

DEMO = Path(__file__).resolve().parent.parent.parent / "demo"
SETTINGS = PracticeSettings()


def patient(number: int) -> Fitting:
    return read_fitting(json.loads((DEMO / f"patient_{number}.json").read_text(encoding="utf-8")))


@pytest.mark.parametrize("number", range(1, 9))
def test_the_document_keeps_to_its_schema(number: int) -> None:
    jsonschema.validate(json.loads(json.dumps(assessment(patient(number), SETTINGS))), assessment_schema())


def test_a_lens_carries_its_values_under_the_open_keys() -> None:
    lens = assessment(patient(2), SETTINGS)["pairs"][1]["lenses"]["L"]

    # worked out outside this app: 13.50 × 0.1 cm; blank by the rule 48 + 2 × 1.5 + 2; −12.75 from 12 to 14 mm
    assert lens["prism_for_1mm"] == pytest.approx(1.35)
    assert lens["smallest_blank"] == 53
    assert lens["power_at_worn_vertex"]["sphere"] == pytest.approx(-13.08, abs=0.005)
    assert {"centre_thickness", "edge_thickness_max", "edge_thickness_min", "weight_g"} <= set(lens)
    assert lens["uncertainty"]["decentration_in"] > 0


def test_what_is_missing_is_named_under_its_key() -> None:
    lens = assessment(replace(patient(2), prescription=None), SETTINGS)["pairs"][0]["lenses"]["R"]

    assert "centre_thickness" not in lens
    assert lens["missing"]["centre_thickness"] == ["Prescription, right"]


def test_every_dimension_worked_out_from_readings_has_an_uncertainty() -> None:
    frame = assessment(patient(1), SETTINGS)["pairs"][0]["frame"]

    chosen = {"as chosen for this pair", "lens width and distance between lenses"}
    for line in frame:
        if line["ordered"] is not None and line["facial"] is not None:
            assert line["uncertainty"] > 0, line["dimension"]
        if line["basis"] in chosen:
            assert "uncertainty" not in line


def test_a_trace_record_written_as_the_tracing_becomes_the_outline() -> None:
    # given a circle of 23 mm traced at 36 equal angles, in hundredths of a millimetre (ISO 16284, from memory)
    record = "TRCFMT=1;36;E;R;F R=" + ";".join(["2300"] * 36)
    fitting = patient(1)
    pairs = tuple(replace(pair, tracing=record) if pair.pair == 1 else pair for pair in fitting.pairs)

    outline = traced_outlines(replace(fitting, pairs=pairs))[1]
    assert outline_sizes(outline).width_mm == pytest.approx(46, abs=0.02)


def test_a_left_tracing_is_turned_into_the_right_lens() -> None:
    # given a left lens longer towards the observer's right, which is its temporal side
    radii = [2300 + round(300 * np.cos(np.radians(angle))) for angle in range(0, 360, 10)]
    left, _ = outline_in("TRCFMT=1;36;E;L;F R=" + ";".join(map(str, radii)))
    right, _ = outline_in("TRCFMT=1;36;E;R;F R=" + ";".join(map(str, radii)))

    assert left is not None
    assert right is not None
    assert np.sort(left[:, 0]) == pytest.approx(np.sort(-right[:, 0]), abs=1e-9)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("TRCFMT=1;36;E;R;F R=2300;2300", "announces 36 radii"),
        ("TRCFMT=4;36;E;R;F", "format 1"),
        ("0,0; 1,1; 2,2;", "at least 8 points"),
    ],
)
def test_a_tracing_that_cannot_be_used_says_why(text: str, said: str) -> None:
    outline, trouble = outline_in(text)
    assert outline is None
    assert said in trouble


def test_a_mere_reference_is_no_tracing_and_no_trouble() -> None:
    assert outline_in("No. 114, drawer 3") == (None, "")


def test_a_path_of_nothing_is_nothing() -> None:
    assert path_data(()) == ""

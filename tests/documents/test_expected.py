"""The `expected` part of an assessment: what each reading should be, in the published form."""

from dataclasses import replace
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from app.documents.assessment import assessment
from app.fitting.schema import assessment_schema
from app.plausibility.finding import Subject
from app.practice.settings import PracticeSettings
from tests.plausibility.case import case
from tests.plausibility.examples_of_expected_bands import UNUSUAL
from tests.plausibility.expected_face import ordinary_fitting

SETTINGS = PracticeSettings()
SCHEMA = Draft202012Validator(assessment_schema())
KEYS = {"measurement", "side", "low", "mid", "high", "unit", "level", "deviation", "given"}


def expected(fitting: Any, settings: PracticeSettings = SETTINGS, **more: Any) -> list[dict[str, Any]]:
    document = assessment(fitting, settings, **more)
    assert list(SCHEMA.iter_errors(document)) == []
    found: list[dict[str, Any]] = document["expected"]
    return found


def test_every_band_of_a_complete_fitting_has_the_published_keys() -> None:
    bands = expected(ordinary_fitting())
    assert len(bands) > 50
    for band in bands:
        assert set(band) - {"pair", "method"} == KEYS
        assert band["low"] < band["mid"] < band["high"]
        assert 0.9 < band["level"] < 1
        assert band["given"]


def test_the_readings_of_an_ordinary_face_lie_inside_their_bands() -> None:
    fitting = ordinary_fitting()
    values = {(one.measurement, one.side, one.pair, one.method): one.value for one in fitting.readings}
    for band in expected(fitting):
        value = values[band["measurement"], band["side"], band.get("pair"), band.get("method")]
        assert band["low"] <= value <= band["high"]


def test_the_deviation_is_value_less_mid_in_standard_deviations_of_the_prediction() -> None:
    band = next(one for one in expected(UNUSUAL.fitting) if one["measurement"] == "head_circumference")
    assert band["deviation"] > 0
    # low, mid and high lie symmetrically, and the reading of 640 lies as far outside as its deviation says
    reach = band["high"] - band["mid"]
    assert band["mid"] - band["low"] == pytest.approx(reach, abs=1e-3)
    limit = reach * band["deviation"] / (640 - band["mid"])
    assert band["deviation"] > limit > 2


def test_too_few_readings_get_no_band() -> None:
    assert expected(case(head_width=148).fitting) == []
    assert expected(case().fitting) == []


def test_a_practice_that_switches_it_off_gets_none() -> None:
    assert expected(ordinary_fitting(), replace(SETTINGS, expected_bands=False)) == []


def test_a_confirmed_reading_is_taken_as_true_in_an_assessment() -> None:
    confirmed = frozenset({Subject(measurement="head_circumference")})
    document = assessment(UNUSUAL.fitting, SETTINGS, confirmed=confirmed)
    found = [one["severity"] for one in document["findings"] if one["check"] == "outside-expected-band"]
    assert found == ["note"]

"""Any fitting that can be read can be assessed, in the published form, and the same each time."""

from typing import Any

from hypothesis import HealthCheck, given, settings
from jsonschema import Draft202012Validator

from app.documents.assessment import assessment
from app.fitting.fitting import Fitting
from app.fitting.schema import assessment_schema
from app.practice.settings import PracticeSettings
from tests.fitting.strategies import fittings
from tests.fitting.strong_lenses import fittings_of_strong_lenses

SCHEMA = Draft202012Validator(assessment_schema())


@settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(fittings())
def test_any_fitting_is_assessed_in_the_published_form(fitting: Fitting) -> None:
    document = assessment(fitting, PracticeSettings())

    assert [error.message for error in SCHEMA.iter_errors(document)] == []
    assert assessment(fitting, PracticeSettings()) == document


@settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(fittings_of_strong_lenses())
def test_lenses_at_the_ends_of_what_can_be_entered_are_judged_by_every_check(fitting: Fitting) -> None:
    document = assessment(fitting, PracticeSettings())

    assert [error.message for error in SCHEMA.iter_errors(document)] == []
    found: list[dict[str, Any]] = [*document["findings"], *document["held_back"]]
    assert [finding["message"] for finding in found if finding["check"] == "could-not-judge"] == []

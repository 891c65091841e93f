"""Help pages are made from the catalogue and the checks, so every one of them is there and says its source."""

import html

import pytest

from app.catalogue.catalogue import MEASUREMENTS
from app.plausibility.families import CHECKS
from app.reference.bibliography import WORKS
from app.web.help_words import CAUTIONS, GLOSSARY
from tests.web.practice import Practice


def shown(practice: Practice, address: str, role: str = "assistant") -> str:
    """A help page as text."""
    answer = practice.as_(role).get(address)
    assert answer.status_code == 200
    return html.unescape(answer.text)


def test_every_measurement_has_its_page_with_limits_of_both_ages_and_their_source(
    practice: Practice,
) -> None:
    index = shown(practice, "/help/measurements")
    for measurement in MEASUREMENTS.values():
        assert f'href="/help/measurements/{measurement.key}"' in index
        page = shown(practice, f"/help/measurements/{measurement.key}")
        for words in (measurement.label, measurement.definition, measurement.how, measurement.becomes):
            assert words in page, measurement.key
        assert measurement.adult.source in page
        assert "Under 16" in page
        if measurement.child is not None:
            assert measurement.child.source in page
        assert ("Provisional" in page) == any(
            limits is not None and limits.provisional for limits in (measurement.adult, measurement.child)
        )
        assert ("Our own definition" in page) == measurement.definition_is_ours


@pytest.mark.parametrize("key", ["head_height", "head_diagonal", "lash_projection"])
def test_definitions_that_no_standard_has_are_said_to_be_ours(practice: Practice, key: str) -> None:
    assert "Our own definition" in shown(practice, f"/help/measurements/{key}")


def test_the_page_of_a_measured_angle_shows_where_it_is_taken(practice: Practice) -> None:
    page = shown(practice, "/help/measurements/frontal_angle")
    assert "<svg" in page
    assert 'style="' not in page


def test_every_check_has_its_page(practice: Practice) -> None:
    index = shown(practice, "/help/checks")
    for check in CHECKS.values():
        assert f'href="/help/checks/{check.name}"' in index
        page = shown(practice, f"/help/checks/{check.name}")
        for words in (check.title, check.why, check.limits, check.suggest, check.source):
            assert words in page, check.name


def test_every_work_is_listed(practice: Practice) -> None:
    page = shown(practice, "/help/sources")
    for work in WORKS.values():
        assert work.full in page


def test_cautions_and_planes_are_there_and_diagnose_nothing(practice: Practice) -> None:
    page = shown(practice, "/help/cautions")
    for _, lines in CAUTIONS:
        for words in lines:
            assert words in page
    overview = shown(practice, "/help")
    for term, words in GLOSSARY:
        assert term in overview
        assert words in overview
    assert "It does not diagnose" in overview


@pytest.mark.parametrize("address", ["/help/measurements/nose_beauty", "/help/checks/no-such-check"])
def test_an_unknown_page_is_said_in_words(practice: Practice, address: str) -> None:
    answer = practice.as_("practitioner").get(address)
    assert answer.status_code == 404
    assert "There is no such" in answer.text


@pytest.mark.parametrize("role", ["practitioner", "assistant", "receptionist", "manager"])
def test_everybody_may_read_the_help(practice: Practice, role: str) -> None:
    assert "Who may do what" in shown(practice, "/help/rights", role)

"""A check's page and the list of checks are made from the checks themselves."""

import pytest

from app.plausibility.explain import NoSuchCheck, explain, list_of_checks, parts_of_page
from app.plausibility.families import CHECKS


def test_a_page_says_what_why_limits_source_and_what_to_do() -> None:
    page = explain("circumference-head-width")
    for words in ("Head circumference against head width", "3.4", "4.65", "ANSUR II", "What to do", "Source"):
        assert words in page


@pytest.mark.parametrize("name", CHECKS)
def test_every_check_has_a_page(name: str) -> None:
    page = explain(name)
    assert CHECKS[name].title in page
    assert all(words in page for _, words in parts_of_page(CHECKS[name]))


def test_the_list_names_every_check_once() -> None:
    listed = [line.split()[0] for line in list_of_checks().splitlines() if line.startswith("  ")]
    assert sorted(listed) == sorted(CHECKS)


def test_an_unknown_check_is_named() -> None:
    with pytest.raises(NoSuchCheck) as refused:
        explain("circumfrence")
    assert str(refused.value) == "there is no check called 'circumfrence'"

"""The page “What it becomes”: drawn from the record, tried out without being kept, kept only on request."""

import re

import pytest

from app.records.fittings import load_fitting
from app.records.identity import new_key
from tests.web.demo_patients import demo_fitting
from tests.web.practice import Practice

WIDTH = "f:pair.1.lens_width"


def page(practice: Practice, fitting: str, pair: int = 1, query: str = "") -> str:
    answer = practice.as_("practitioner").get(f"/fittings/{fitting}/specification/{pair}{query}")
    assert answer.status_code == 200
    return answer.text


@pytest.mark.parametrize("pair", [1, 2])
def test_the_front_is_drawn_with_the_wearers_right_named_on_the_left(practice: Practice, pair: int) -> None:
    shown = page(practice, demo_fitting(practice), pair)

    assert "wearer's right" in shown.replace("&#39;", "'")
    assert shown.count('class="lens-outline"') == 2
    assert 'class="centre-line"' in shown


def test_a_size_tried_out_is_shown_and_not_kept(practice: Practice) -> None:
    fitting = demo_fitting(practice)
    chair = practice.as_("practitioner")

    answer = chair.post(f"/fittings/{fitting}/specification/1", data={"key": new_key(), "width": "45"})
    assert answer.status_code == 200
    assert "Tried out, not kept." in answer.text
    assert 'value="45"' in answer.text
    pair = load_fitting(practice.database, fitting).fitting.pair(1)
    assert pair is not None
    assert pair.lens_width == 48


def test_a_size_is_kept_on_request_and_stands_in_no_address(practice: Practice) -> None:
    fitting = demo_fitting(practice)
    chair = practice.as_("practitioner")

    answer = chair.post(
        f"/fittings/{fitting}/specification/1",
        data={"key": new_key(), WIDTH: "46", "keep": "1"},
        follow_redirects=False,
    )
    assert answer.status_code == 303
    assert "46" not in answer.headers["location"].replace(fitting, "")
    pair = load_fitting(practice.database, fitting).fitting.pair(1)
    assert pair is not None
    assert pair.lens_width == 46


@pytest.mark.parametrize("text", ["4800", "wide", "-3"])
def test_a_size_beyond_sense_is_refused_beside_its_box(practice: Practice, text: str) -> None:
    fitting = demo_fitting(practice)

    answer = practice.as_("practitioner").post(
        f"/fittings/{fitting}/specification/1", data={"key": new_key(), WIDTH: text, "keep": "1"}
    )
    assert answer.status_code == 422
    assert re.search(r'id="tp-pair-1-lens_width">[^<]+<', answer.text)


def test_every_dimension_is_listed_with_what_would_make_it_surer(practice: Practice) -> None:
    shown = page(practice, demo_fitting(practice), query="?part=dimensions")

    assert "A second reading would make it" in shown
    assert "Repeating" in shown
    assert "fitted to all of them" in shown


def test_a_step_of_a_pair_leads_to_what_it_becomes(practice: Practice) -> None:
    fitting = demo_fitting(practice)
    step = practice.as_("practitioner").get(f"/fittings/{fitting}/steps/pair_1").text

    assert f'href="/fittings/{fitting}/specification/1"' in step


def test_there_is_no_third_pair(practice: Practice) -> None:
    fitting = demo_fitting(practice)
    assert practice.as_("practitioner").get(f"/fittings/{fitting}/specification/3").status_code == 404

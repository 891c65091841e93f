"""Each drawing shows every measurement it is for, right on the left, and keeps to the content policy."""

import re
from collections import Counter
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import pytest

from app.catalogue.catalogue import MEASUREMENTS, STEP_OF, STEPS
from app.catalogue.measurement import SIDES, Measurement

DRAWINGS = Path(__file__).parents[2] / "templates" / "drawings"
SVG = "{http://www.w3.org/2000/svg}"
NAMES = sorted({STEP_OF[key].drawing_of(one) for key, one in MEASUREMENTS.items()})
LEAST_TEXT_OF_WIDTH = 0.045
"""Readable at 300 pixels: common practice for a drawing looked at from an arm's length."""

each_drawing = pytest.mark.parametrize("name", NAMES)


def read(name: str) -> ElementTree.Element:
    return ElementTree.fromstring((DRAWINGS / f"{name}.svg").read_text(encoding="utf-8"))


def marks_wanted(one: Measurement) -> set[str]:
    if one.sides == "one":
        return {f"mark-{one.key}"}
    return {f"mark-{one.key}-{side}" for side in SIDES}


def ids_in(drawing: ElementTree.Element) -> list[str]:
    return [element.attrib["id"] for element in drawing.iter() if "id" in element.attrib]


@pytest.mark.parametrize("one", MEASUREMENTS.values(), ids=lambda one: one.key)
def test_a_measurement_has_its_mark_once_for_each_side(one: Measurement) -> None:
    marks = Counter(ids_in(read(STEP_OF[one.key].drawing_of(one))))
    assert {mark: marks[mark] for mark in marks_wanted(one)} == dict.fromkeys(marks_wanted(one), 1)


@each_drawing
def test_no_mark_is_drawn_that_nothing_is_measured_by(name: str) -> None:
    wanted = {
        mark
        for key, one in MEASUREMENTS.items()
        if STEP_OF[key].drawing_of(one) == name
        for mark in marks_wanted(one)
    }
    drawing = read(name)
    assert {identity for identity in ids_in(drawing) if identity.startswith("mark-")} == wanted
    lit = [element.attrib["id"] for element in drawing.iter() if element.get("class") == "mark"]
    assert set(lit) == wanted


@each_drawing
def test_a_drawing_says_what_it_shows_to_those_who_cannot_see_it(name: str) -> None:
    drawing = read(name)
    assert drawing.attrib["role"] == "img"
    title, description = drawing.find(f"{SVG}title"), drawing.find(f"{SVG}desc")
    assert title is not None
    assert title.text
    assert description is not None
    assert description.text
    assert drawing.attrib["aria-labelledby"].split() == [title.attrib["id"], description.attrib["id"]]


@each_drawing
def test_a_drawing_has_nothing_that_a_strict_content_policy_forbids(name: str) -> None:
    for element in read(name).iter():
        assert element.tag.removeprefix(SVG) not in {"script", "style", "foreignObject", "image", "a"}
        for attribute, value in element.attrib.items():
            assert attribute != "style"
            assert not attribute.startswith("on")
            assert "//" not in value
            assert "javascript" not in value


@each_drawing
def test_ids_are_unique_and_refer_within_the_drawing(name: str) -> None:
    drawing = read(name)
    ids = ids_in(drawing)
    assert len(set(ids)) == len(ids)
    text = (DRAWINGS / f"{name}.svg").read_text(encoding="utf-8")
    assert set(re.findall(r'url\(#([^)]+)\)|href="#([^"]+)"', text)) <= {
        pair for identity in ids for pair in ((identity, ""), ("", identity))
    }


def test_ids_do_not_meet_when_two_drawings_stand_on_one_page() -> None:
    found = Counter(identity for name in NAMES for identity in ids_in(read(name)))
    assert [identity for identity, count in found.items() if count > 1] == []


@each_drawing
def test_colours_follow_the_page(name: str) -> None:
    for element in read(name).iter():
        for attribute in ("fill", "stroke"):
            assert element.get(attribute, "none") in {"none", "currentColor"}


@each_drawing
def test_words_are_large_enough_and_inside(name: str) -> None:
    drawing = read(name)
    _, _, width, height = (float(number) for number in drawing.attrib["viewBox"].split())
    for words in drawing.iter(f"{SVG}text"):
        size = float(words.attrib["font-size"])
        assert size >= LEAST_TEXT_OF_WIDTH * width
        # A letter is about half as wide as it is high.
        wide = 0.5 * size * len(words.text or "")
        left = (
            float(words.attrib["x"])
            - wide * {"start": 0, "middle": 0.5, "end": 1}[words.attrib["text-anchor"]]
        )
        assert left >= -2
        assert left + wide <= width + 2
        assert size <= float(words.attrib["y"]) + 2 <= height + 2


def places(drawing: ElementTree.Element) -> list[tuple[str, float]]:
    return [(words.text or "", float(words.attrib["x"])) for words in drawing.iter(f"{SVG}text")]


@each_drawing
def test_the_patients_right_is_on_the_left(name: str) -> None:
    found = places(read(name))
    right = [place for words, place in found if words in {"R", "patient’s right", "patient’s right side"}]
    left = [place for words, place in found if words in {"L", "patient’s left"}]
    assert right
    named = [(words, place) for words, place in found if words in {"R", "L"}]
    assert all(
        first[1] < second[1] for first, second in pairwise(named) if (first[0], second[0]) == ("R", "L")
    )
    assert not left or min(right) < min(left)


def test_every_step_with_measurements_has_a_drawing_and_no_drawing_is_left_over() -> None:
    assert all(step.drawing for step in STEPS if step.measurements)
    ours = {path.stem for path in DRAWINGS.glob("*.svg")} - {"overview_face"}
    assert ours == set(NAMES)

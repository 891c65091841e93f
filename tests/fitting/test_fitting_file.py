"""A fitting goes into its file and comes out the same; whatever is wrong in a file is named with its place."""

import json
from collections.abc import Callable
from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from jsonschema import Draft202012Validator, FormatChecker

from app.fitting.fitting import Fitting
from app.fitting.fitting_file import (
    NotAFitting,
    read_fitting,
    read_fitting_text,
    write_fitting,
    write_fitting_text,
)
from app.fitting.schema import assessment_schema, fitting_schema
from tests.fitting.strategies import fittings

HERE = Path(__file__).parent
DEMO_FOLDER = HERE.parent.parent / "demo"
DEMO = sorted([*DEMO_FOLDER.glob("patient_*.json"), *DEMO_FOLDER.glob("spoiled.json")])
EXAMPLE: dict[str, Any] = json.loads((HERE / "example.json").read_text())
SCHEMA = Draft202012Validator(fitting_schema(), format_checker=FormatChecker())


def test_the_schemas_are_json_schemas_of_draft_2020_12() -> None:
    Draft202012Validator.check_schema(fitting_schema())
    Draft202012Validator.check_schema(assessment_schema())


@settings(max_examples=80, deadline=None)
@given(fittings())
def test_a_fitting_comes_back_from_its_file_unchanged(fitting: Fitting) -> None:
    document = write_fitting(fitting)

    assert read_fitting(document) == fitting
    assert read_fitting_text(write_fitting_text(fitting)) == fitting
    assert next(iter(document)) == "schema"
    assert list(SCHEMA.iter_errors(document)) == []


def test_the_example_is_read_as_it_was_meant() -> None:
    fitting = read_fitting(EXAMPLE)

    assert SCHEMA.is_valid(EXAMPLE)
    read = {
        (one.measurement, one.method, one.side): (one.value, one.text, one.pair) for one in fitting.readings
    }
    assert read["pd_distance", "rule", None] == (62, "62", None)
    assert read["head_circumference", None, None] == (562, "56.2 cm", None)
    assert read["temple_width", None, None] == (133.35, "5 1/4 in", None)
    assert read["bridge_projection", None, None] == (-2, "inset 2", None)
    assert read["segment_height", None, "R"] == (15, "15", 2)
    assert fitting.pairs[1].tracing is None
    assert read_fitting(write_fitting(fitting)) == fitting


@pytest.mark.parametrize("path", DEMO, ids=lambda path: path.stem)
def test_every_demo_file_is_a_fitting_by_reader_and_by_schema(path: Path) -> None:
    document = json.loads(path.read_text())

    assert list(SCHEMA.iter_errors(document)) == []
    assert read_fitting(write_fitting(read_fitting(document))) == read_fitting(document)


@pytest.mark.parametrize("written", ["Flush", "FLUSH", "Inset 2", "2 MM", "1/4 Inch", "Outset 2 mm"])
def test_words_and_units_may_be_written_in_capitals_by_reader_and_by_schema(written: str) -> None:
    document = deepcopy(EXAMPLE)
    document["readings"] = [{"measurement": "bridge_projection", "value": written}]

    assert read_fitting(document).readings[0].text == written
    assert SCHEMA.is_valid(document)


def test_an_assistants_reading_is_a_proposal_until_it_is_accepted() -> None:
    document = deepcopy(EXAMPLE)
    document["readings"][0]["role"] = "assistant"
    document["readings"][1] |= {"role": "assistant", "accepted_by": "A. Practitioner"}

    first, second, *_ = read_fitting(document).readings

    assert first.proposed
    assert not second.proposed


def changed(change: Callable[[dict[str, Any]], object]) -> dict[str, Any]:
    document = deepcopy(EXAMPLE)
    change(document)
    return document


def reading(index: int, **members: object) -> Callable[[dict[str, Any]], object]:
    return lambda document: document["readings"][index].update(members)


def correction(**second: object) -> Callable[[dict[str, Any]], object]:
    """The first reading, and another of it by the same method that says these things besides."""

    def change(document: dict[str, Any]) -> None:
        document["readings"][0]["identity"] = "a"
        document["readings"][1] = document["readings"][0] | {"identity": "b"} | second

    return change


def twins() -> Callable[[dict[str, Any]], object]:
    return correction(identity="a")


def circle() -> Callable[[dict[str, Any]], object]:
    def change(document: dict[str, Any]) -> None:
        correction(replaces="a")(document)
        document["readings"][0]["replaces"] = "b"

    return change


def other_side() -> Callable[[dict[str, Any]], object]:
    def change(document: dict[str, Any]) -> None:
        one = {"measurement": "pd_monocular", "value": 31}
        document["readings"][2] = one | {"side": "R", "identity": "a"}
        document["readings"][3] = one | {"side": "L", "replaces": "a"}

    return change


def from_the_face() -> Callable[[dict[str, Any]], object]:
    def change(document: dict[str, Any]) -> None:
        document["readings"][0]["identity"] = "a"
        document["pairs"][1]["readings"][0]["replaces"] = "a"

    return change


BAD: list[tuple[str, Callable[[dict[str, Any]], object], str]] = [
    ("readings[0].unit", reading(0, unit="kg"), "must be one of mm, cm, in"),
    ("readings[0].unit", reading(0, unit="deg"), "must be one of mm, cm, in"),
    ("readings[0].value", reading(0, value="1.2.3"), "more than one decimal point"),
    ("readings[0].value", reading(0, value="sixty"), "is not a number"),
    ("readings[0].value", reading(0, value=None), "not null"),
    ("readings[0].value", reading(0, value=True), "not true or false"),
    ("readings[0].value", reading(0, value=-61.5), "below zero"),
    ("readings[0].value", reading(0, value=1e9), "too large"),
    ("readings[0].value", reading(0, value=99999), "cannot be right"),
    ("readings[0].value", reading(0, value=[61.5]), "not a list"),
    ("readings[0].method", reading(0, method="guess"), "must be one of rule, pupil_gauge"),
    ("readings[0].side", reading(0, side="R"), "pd_distance has no side"),
    ("readings[0].measurement", reading(0, measurement="pd_distanse"), "pd_distance?"),
    ("readings[0].measurement", reading(0, measurement="lens_height"), "belongs under a pair"),
    ("readings[0].colour", reading(0, colour="blue"), "is not a key known here"),
    ("readings[0].role", reading(0, role="chef"), "must be one of practitioner"),
    ("readings[0].at", reading(0, at="yesterday"), "must be written like"),
    ("readings[0].at", reading(0, at="2026-10-02T25:00"), "no such time"),
    ("readings[0].at", reading(0, at="2026-13-02T10:00"), "no such time"),
    ("readings[0].at", reading(0, at="2026-10-02T24:00"), "no such time"),
    ("readings[0].instrument", reading(0, instrument="t" * 201), "longer than 200 characters"),
    ("readings[0].note", reading(0, note="n" * 4001), "longer than 4000 characters"),
    ("person.reference", lambda d: d["person"].update(reference="r" * 101), "longer than 100 characters"),
    ("taken.by", lambda d: d["taken"].update(by="b" * 201), "longer than 200 characters"),
    ("readings[0].proposed", reading(0, proposed="yes"), "must be true or false"),
    ("readings[0].note", reading(0, note="  "), "is blank"),
    ("readings[0].entered_in_error.reason", reading(0, entered_in_error={"by": "I", "at": "2026-10-02"}), ""),
    ("readings[2].side", reading(2, side=None), "needs a side"),
    ("readings[2].side", reading(2, side="M"), "must be one of R, L"),
    ("readings[5].condition", reading(5, condition="upside_down"), "must be one of"),
    ("readings[6].value", reading(6, value="sideways 2"), "not known here: sideways"),
    ("readings", lambda d: d.update(readings={}), "must be a list, not an object"),
    ("readings", lambda d: d.pop("readings"), "is missing"),
    ("readings[0].measurement", lambda d: d["readings"][0].pop("measurement"), "is missing"),
    ("reedings", lambda d: d.update(reedings=[]), "readings?"),
    ("schema", lambda d: d.update(schema="chair-to-bench/fitting/9"), "must be chair-to-bench/fitting/1"),
    ("schema", lambda d: d.pop("schema"), "is missing"),
    ("person.reference", lambda d: d["person"].pop("reference"), "is missing"),
    ("person.born", lambda d: d["person"].update(born="30.5.1961"), "must be written like 2026-10-02"),
    ("person.born", lambda d: d["person"].update(born="1961-02-30"), "no such time"),
    ("person.sex", lambda d: d["person"].update(sex="X"), "must be one of F, M"),
    ("person.name", lambda d: d["person"].update(name="A. B."), "is not a key known here"),
    ("taken.on", lambda d: d["taken"].update(on=None), "must be a date"),
    ("not_taken[0].reason", lambda d: d["not_taken"][0].update(reason="busy"), "must be one of"),
    ("cover_test.far", lambda d: d["cover_test"].update(far={}), "is not a key known here"),
    ("cover_test.near.finding", lambda d: d["cover_test"]["near"].pop("finding"), "is missing"),
    ("cover_test.near.eye", lambda d: d["cover_test"]["near"].update(eye="both"), "must be one of"),
    ("prescription.R.sphere", lambda d: d["prescription"]["R"].update(sphere="plano"), "must be a number"),
    ("prescription.R.prism[0].base", lambda d: d["prescription"]["R"]["prism"][0].update(base="left"), ""),
    ("prescription.written", lambda d: d["prescription"].update(written=20260920), "must be a date"),
    ("pairs[0].pair", lambda d: d["pairs"][0].update(pair=3), "must be 1 or 2"),
    ("pairs[0].kind", lambda d: d["pairs"][0].update(kind="bought"), "must be one of"),
    ("pairs[0].lens_form", lambda d: d["pairs"][0].update(lens_form="quadrifocal"), "must be one of"),
    ("pairs[1].segment.diameter", lambda d: d["pairs"][1]["segment"].pop("diameter"), "is missing"),
    (
        "pairs[1].readings[0].measurement",
        lambda d: d["pairs"][1]["readings"][0].update(measurement="pd_near"),
        "",
    ),
    ("pairs[1].choices.hue", lambda d: d["pairs"][1].update(choices={"hue": "red"}), "is not a key"),
    ("prescription.R.sphere", lambda d: d["prescription"]["R"].update(sphere=100000), "from -50 to 50 D"),
    ("prescription.R.axis", lambda d: d["prescription"]["R"].update(axis=-1), "from 0 to 360 deg"),
    ("prescription.R.prism[0].amount", lambda d: d["prescription"]["R"]["prism"][0].update(amount=-2), "60"),
    ("cover_test.near.size", lambda d: d["cover_test"]["near"].update(size=-3), "from 0 to 120"),
    ("pairs[0].index", lambda d: d["pairs"][0].update(index=-1), "must lie from 1.3 to 2.2"),
    ("pairs[0].index", lambda d: d["pairs"][0].update(index=16), "must lie from 1.3 to 2.2"),
    ("pairs[0].sheet_mm", lambda d: d["pairs"][0].update(sheet_mm=-6), "must lie from 0.5 to 30 mm"),
    ("pairs[1].segment.diameter", lambda d: d["pairs"][1]["segment"].update(diameter=280), "from 5 to 80 mm"),
    ("history.hearing_aids", lambda d: d["history"].update(hearing_aids="three"), "not one of these"),
]


@pytest.mark.parametrize(("place", "change", "reason"), BAD, ids=[f"{place}: {why}" for place, _, why in BAD])
def test_what_is_wrong_in_a_file_is_named_in_one_line_and_refused_by_the_schema_too(
    place: str, change: Callable[[dict[str, Any]], object], reason: str
) -> None:
    document = changed(change)

    with pytest.raises(NotAFitting) as refusal:
        read_fitting(document)

    assert refusal.value.place == place
    assert reason in refusal.value.reason
    assert str(refusal.value) == f"{place}: {refusal.value.reason}"
    assert "\n" not in str(refusal.value)
    assert not SCHEMA.is_valid(document)


@pytest.mark.parametrize(
    ("place", "change", "reason"),
    [
        # beyond what a schema can say
        ("readings[0].value", reading(0, value=61.12345), "more than four decimals"),
        ("readings[4].value", reading(4, value="5 1/32"), "finer than a sixteenth"),
        ("prescription.R.sphere", lambda d: d["prescription"]["R"].update(sphere=0.00001), "four decimals"),
        ("pairs[1].pair", lambda d: d["pairs"][1].update(pair=1), "pair 1 is there twice"),
        ("readings[0].text", reading(0, text="58"), "reads as 58 mm, and the value is 61.5 mm"),
        ("readings[3].text", reading(3, value=562, unit="mm", text="56 cm"), "reads as 560 mm"),
        ("readings[1].identity", twins(), "is there twice"),
        ("readings[1].replaces", correction(identity="b", replaces="b"), "cannot correct itself"),
        ("readings[1].replaces", correction(replaces="nobody"), "no earlier reading of the file"),
        ("readings[0].replaces", circle(), "no earlier reading of the file"),
        ("readings[1].replaces", correction(method="rule", replaces="a"), "another measurement, side, pair"),
        ("readings[3].replaces", other_side(), "another measurement, side, pair or method"),
        ("pairs[1].readings[0].replaces", from_the_face(), "another measurement, side, pair or method"),
        ("readings[0].note", reading(0, note="a\x00b"), "control character"),
        ("readings[0].note", reading(0, note="\ud800"), "half a character"),
        ("readings[0].at", reading(0, at="2026-02-30T10:00"), "no such time"),
    ],
)
def test_what_no_schema_can_say_is_still_refused_with_its_place(
    place: str, change: Callable[[dict[str, Any]], object], reason: str
) -> None:
    with pytest.raises(NotAFitting) as refusal:
        read_fitting(changed(change))

    assert (refusal.value.place, reason in refusal.value.reason) == (place, True)


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("{", "line 1, column 2: is not JSON"),
        ("", "line 1, column 1: is not JSON"),
        ("[]", "file: must be an object, not a list"),
        ("null", "file: must be an object, not null"),
        (b"\xff\xfe{}", "file: is not UTF-8 text"),
        ("NaN", "file: is NaN"),
        ('{"schema": NaN}', "schema: is NaN"),
        ('{"readings": [{}, {"value": -Infinity}]}', "readings[1].value: is -Infinity"),
        ('{"schema": 1, "schema": 2}', "schema: is there twice"),
        ('{"pairs": [{"sheet_mm": 6, "sheet_mm": 8}]}', "pairs[0].sheet_mm: is there twice"),
        ("[" * 100_000, "nested too deeply"),
        ("9" * 5000, "number that is too long"),
        ('{"readings": [{"value": ' + "9" * 5000 + "}]}", "readings[0].value: is a number that is too long"),
        ('{"\\ud800": 1}', r"\ud800: is not a key known here; known are schema, person"),
        ('{"a\\u0000\\nb\\u001b[2J": 1}', r"a\x00\nb\x1b[2J: is not a key known here"),
        ('{"' + "k" * 5000 + '": 1}', "k" * 77 + "...: is not a key known here"),
    ],
)
def test_a_text_that_is_no_json_object_is_refused_in_one_line(text: str | bytes, line: str) -> None:
    with pytest.raises(NotAFitting) as refusal:
        read_fitting_text(text)

    assert line in str(refusal.value)
    assert "\n" not in str(refusal.value)

"""Every measurement is declared whole, once, with limits that make sense and a source beside each number."""

import dataclasses
import re
from collections import Counter

import pytest

from app.catalogue.catalogue import MEASUREMENTS, STEP_OF, STEPS, measurement
from app.catalogue.conditions import CONDITIONS
from app.catalogue.instruments import INSTRUMENTS
from app.catalogue.measurement import Limits, Measurement

# The names promised to whoever reads or writes a fitting file: unit and sides. They may not be renamed.
PROMISED = {
    "bridge_width_10": ("mm", "one"),
    "bridge_width_15": ("mm", "one"),
    "frontal_angle": ("deg", "each"),
    "splay_angle": ("deg", "each"),
    "bridge_projection": ("mm", "one"),
    "lash_projection": ("mm", "each"),
    "apical_radius": ("mm", "one"),
    "crest_height": ("mm", "either"),
    "crest_angle": ("deg", "one"),
    "pd_distance": ("mm", "one"),
    "pd_monocular": ("mm", "each"),
    "pd_near": ("mm", "one"),
    "working_distance": ("cm", "one"),
    "side_angle": ("deg", "each"),
    "length_to_tangent": ("mm", "each"),
    "drop_angle": ("deg", "each"),
    "inward_drop_angle": ("deg", "each"),
    "drop_length": ("mm", "each"),
    "head_width": ("mm", "one"),
    "temple_width": ("mm", "one"),
    "head_height": ("mm", "one"),
    "head_diagonal": ("mm", "each"),
    "head_circumference": ("mm", "one"),
    "pupil_horizontal": ("mm", "each"),
    "pupil_vertical": ("mm", "each"),
    "lid_aperture": ("mm", "each"),
    "iris_diameter": ("mm", "each"),
    "lens_width": ("mm", "one"),
    "lens_height": ("mm", "one"),
    "distance_between_lenses": ("mm", "one"),
    "length_to_bend": ("mm", "each"),
    "pd_worn": ("mm", "one"),
    "pd_near_worn": ("mm", "one"),
    "segment_height": ("mm", "each"),
    "fitting_height": ("mm", "each"),
    "centre_height": ("mm", "each"),
    "vertex_distance": ("mm", "one"),
    "pantoscopic_angle": ("deg", "one"),
    "face_form_angle": ("deg", "one"),
}
ALL = list(MEASUREMENTS.values())
OFF_FACE = {
    "lens_width",
    "lens_height",
    "distance_between_lenses",
    "length_to_bend",
    "let_back_angle",
    "joint_height",
}
HEAD = {"head_width", "temple_width", "head_height", "head_diagonal", "head_circumference"}
each_measurement = pytest.mark.parametrize("one", ALL, ids=lambda one: one.key)


def bands(one: Measurement) -> list[Limits]:
    return [limits for limits in (one.adult, one.child) if limits is not None]


def test_every_promised_name_is_there_with_its_unit_and_sides() -> None:
    assert {key: (MEASUREMENTS[key].unit, MEASUREMENTS[key].sides) for key in PROMISED} == PROMISED


def test_every_measurement_is_asked_on_exactly_one_step() -> None:
    asked = Counter(one.key for step in STEPS for one in step.measurements)
    assert set(asked.values()) == {1}
    assert set(asked) == set(MEASUREMENTS) == set(STEP_OF)


def test_the_steps_follow_the_order_of_a_fitting() -> None:
    assert [step.key for step in STEPS] == [
        "person",
        "cover_test",
        "bridge_widths",
        "angles",
        "lash_clearance",
        "bridge_crest",
        "pupil_distances",
        "sides",
        "head",
        "pupils_and_lids",
        "prescription",
        "pair_1",
        "pair_2",
        "review",
        "orders",
    ]


def test_no_two_measurements_and_no_two_steps_share_a_label() -> None:
    assert len({one.label for one in ALL}) == len(ALL)
    assert len({step.title for step in STEPS}) == len({step.short for step in STEPS}) == len(STEPS)


def test_a_measurement_is_found_by_its_key() -> None:
    assert measurement("head_width") is MEASUREMENTS["head_width"]
    with pytest.raises(KeyError, match="head_girth"):
        measurement("head_girth")


@each_measurement
def test_everything_about_a_measurement_is_said(one: Measurement) -> None:
    for name in (
        "label",
        "definition",
        "reference_line",
        "how",
        "becomes",
        "errors",
        "cannot",
        "repeat_source",
    ):
        assert getattr(one, name).strip(), f"{one.key} says nothing under {name}"
    assert one.instruments
    assert one.scale_step > 0


@each_measurement
def test_the_reference_line_fits_its_box(one: Measurement) -> None:
    assert len(one.reference_line) <= 60


@each_measurement
def test_usual_lies_within_ask_and_ask_within_stop(one: Measurement) -> None:
    for limits in bands(one):
        assert limits.stop.low <= limits.ask.low <= limits.usual.low < limits.usual.high
        assert limits.usual.high <= limits.ask.high <= limits.stop.high


@each_measurement
def test_every_limit_and_every_repeat_tolerance_names_its_source(one: Measurement) -> None:
    assert all(limits.source.strip() for limits in bands(one))
    assert one.repeat_source.strip()
    assert all(method.repeat_source for method in one.methods if method.repeat_tolerance is not None)


@each_measurement
def test_limits_lie_on_marks_of_the_scale(one: Measurement) -> None:
    for limits in bands(one):
        for end in (limits.usual.low, limits.usual.high, limits.ask.low, limits.ask.high):
            assert (end / one.scale_step) % 1 == 0, f"{one.key}: {end} is between marks"


@each_measurement
def test_repeats_may_differ_by_at_least_one_mark_of_the_scale(one: Measurement) -> None:
    assert one.repeat_tolerance >= one.scale_step
    assert all(one.tolerance(method.key) >= one.scale_step for method in one.methods)


@each_measurement
def test_instruments_and_conditions_are_declared_ones(one: Measurement) -> None:
    assert set(one.instruments) <= set(INSTRUMENTS)
    assert set(one.conditions) <= set(CONDITIONS)
    assert len({method.key for method in one.methods}) == len(one.methods)


@each_measurement
def test_a_tool_near_the_eye_comes_with_a_caution_and_is_never_an_assistants(one: Measurement) -> None:
    if one.near_eye:
        assert one.cautions
        assert not one.assistant_may


def test_an_assistant_may_take_the_head_and_the_sizes_of_a_pair_off_the_face() -> None:
    assert {one.key for one in ALL if one.assistant_may} == HEAD | OFF_FACE


def test_everything_taken_at_nose_lids_and_pupils_is_near_the_eye() -> None:
    at_the_eye = {
        one.key
        for step in STEPS
        if step.key in {"bridge_widths", "angles", "lash_clearance", "bridge_crest", "pupils_and_lids"}
        for one in step.measurements
    }
    assert at_the_eye <= {one.key for one in ALL if one.near_eye}


def test_what_is_read_off_or_with_a_pair_belongs_to_a_pair() -> None:
    assert {one.key for one in ALL if one.off_pair} == {one.key for one in STEP_OF["pd_worn"].measurements}


def test_bridge_projection_is_asked_in_words() -> None:
    words = MEASUREMENTS["bridge_projection"].sign_words
    assert words is not None
    assert (words.plus, words.level, words.minus) == ("in front", "level", "behind")
    assert "inset" in words.minus_also
    assert "flush" in words.level_also
    assert {"outset", "projecting"} <= set(words.plus_also)
    spoken = [words.plus, words.level, words.minus, *words.plus_also, *words.level_also, *words.minus_also]
    assert len(set(spoken)) == len(spoken)


def test_a_flat_bridge_may_have_its_crest_below_the_lid() -> None:
    assert MEASUREMENTS["crest_height"].signed
    assert not MEASUREMENTS["head_width"].signed


def test_definitions_of_our_own_are_marked_so() -> None:
    assert {one.key for one in ALL if one.definition_is_ours} == {
        "lash_projection",
        "head_height",
        "head_diagonal",
    }


@each_measurement
def test_words_are_for_people(one: Measurement) -> None:
    spoken = " ".join(
        str(getattr(one, field.name))
        for field in dataclasses.fields(one)
        if field.name
        in {"label", "definition", "reference_line", "how", "becomes", "errors", "cannot", "cautions"}
    )
    # No codes, no shorthand that one school uses and another does not, no verdict on a face, no typing rubble.
    assert not re.search(r"\b(X\d\d|LTT|HCL|DBL|DBR|BVD|NCD|abnormal|patholog\w*|diagnos\w*)\b", spoken)
    assert "  " not in spoken
    assert "{" not in spoken

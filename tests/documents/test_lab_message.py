"""The lab message of the open interchange standard: written, read back, and read from others."""

import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.documents import lab_labels
from app.documents.lab_labels import LABELS, NOT_SENT, SENT, TRACE_LABELS
from app.documents.lab_message import ForeignRecord, LabMessage, OutlineRadii
from app.documents.lab_message_text import plain_text_for, read_lab_message, write_lab_message
from app.documents.lab_order import lab_message_of, outline_radii
from app.documents.order_outline import order_outline
from app.documents.trace_record import read_trace_header
from app.fitting.prescription import EyePrescription, Prescription, Prism
from app.optics.outline_size import outline_from_radii
from tests.documents.orders import demo, signed_order

CASES = json.loads(
    (Path(__file__).parent.parent / "data" / "worked_examples.json").read_text(encoding="utf-8")
)
PLAIN = st.text(
    alphabet=st.characters(min_codepoint=33, max_codepoint=126, exclude_characters=";="), max_size=20
)


@st.composite
def outlines(draw: st.DrawFn) -> OutlineRadii:
    """Any outline that the standard's plain numbers can carry."""
    radii = draw(st.lists(st.integers(1, 9999), min_size=12, max_size=60))
    steps = draw(st.lists(st.integers(1, 99), min_size=len(radii), max_size=len(radii)))
    turned = np.cumsum(steps) * 35_999 // sum(steps)
    unequal = draw(st.booleans()) and int(np.diff(turned, prepend=turned[-1] - 36_000).max()) <= 4500
    return OutlineRadii(
        side=draw(st.sampled_from(["R", "L", "B"])),
        radii_hundredths_mm=tuple(radii),
        angles_hundredths_deg=tuple(int(one) for one in turned)
        if unequal and min(np.diff(turned)) > 0
        else None,
        source=draw(st.sampled_from(["F", "P", "D"])),
    )


def figures(decimals: int) -> st.SearchStrategy[float]:
    """Any number that a label with so many decimals can carry."""
    return st.integers(-9_000_000, 9_000_000).map(
        lambda whole: float(f"{whole / 10**decimals / 100:.{decimals}f}") + 0.0
    )


@st.composite
def messages(draw: st.DrawFn) -> LabMessage:
    """Any message that we could send or keep."""
    pairs = {
        one.label: draw(st.tuples(*[st.none() | figures(one.decimals)] * 2))
        for one in SENT
        if one.form == "both eyes" and draw(st.booleans())
    }
    labels = st.from_regex(r"[A-Z_][A-Z0-9_]{0,10}", fullmatch=True).filter(
        lambda label: label not in LABELS and label not in TRACE_LABELS
    )
    foreign = st.builds(lambda label, value: ForeignRecord(label=label, value=value), labels, PLAIN)
    return LabMessage(
        job=draw(PLAIN),
        eyes=draw(st.none() | st.sampled_from(["B", "R", "L"])),
        both_eyes=pairs,
        numbers={"DBL": draw(figures(2))} if draw(st.booleans()) else {},
        outlines=tuple(draw(st.lists(outlines(), max_size=2))),
        foreign=tuple(draw(st.lists(foreign, max_size=4))),
    )


@given(messages())
@settings(max_examples=300, deadline=None)
def test_what_is_written_is_read_back_as_it_was(message: LabMessage) -> None:
    read = read_lab_message(write_lab_message(message))
    assert read.bad_lines == ()
    assert read.message == message


@given(messages(), st.randoms())
@settings(max_examples=60, deadline=None)
def test_the_order_of_labels_does_not_matter(message: LabMessage, random: object) -> None:
    records = write_lab_message(replace(message, outlines=(), foreign=())).split("\r\n")[:-1]
    random.shuffle(records)  # type: ignore[attr-defined]
    assert read_lab_message("\n".join(records)).message == replace(message, outlines=(), foreign=())


@given(st.text(max_size=300) | st.binary(max_size=300).map(lambda raw: raw.decode("latin-1")))
@settings(max_examples=800, deadline=None)
def test_any_text_is_read_or_its_lines_are_named(text: str) -> None:
    read = read_lab_message(text)
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    assert all(1 <= bad.number <= len(lines) and bad.why for bad in read.bad_lines)


@given(messages(), st.data())
@settings(max_examples=400, deadline=None)
def test_a_damaged_message_never_breaks_the_reader(message: LabMessage, data: st.DataObject) -> None:
    """A bounded fuzz run: a good message with a piece cut out and other characters put in."""
    text = write_lab_message(message)
    start = data.draw(st.integers(0, len(text)))
    end = data.draw(st.integers(start, min(len(text), start + 30)))
    put = data.draw(st.text(alphabet="=;?\r\nRATSPH0123456789.-+\x1c\x1dé", max_size=12))
    read = read_lab_message(text[:start] + put + text[end:])
    assert read_lab_message(write_lab_message(read.message)).bad_lines == ()


def test_a_bad_line_is_named_with_its_number_and_the_rest_is_understood() -> None:
    lines = ("JOB=7", "nonsense", "SPH=-1.00;-2.00", "AX=ten;90", "DO=both", "IPD=31", "SPH=1;1", "VIEW=7;8")
    text = "\r\n".join((*lines, "PANTO=1e9;2"))
    read = read_lab_message(text)
    assert [bad.number for bad in read.bad_lines] == [2, 4, 5, 6, 7, 9]
    assert [str(bad) for bad in read.bad_lines][1] == "Line 4: “ten” is not a number."
    assert read.message.both_eyes == {"SPH": (-1.0, -2.0)}
    assert read.message.foreign == (ForeignRecord(label="VIEW", value="7;8"),)


def test_packet_characters_and_unknown_values_are_passed_over() -> None:
    read = read_lab_message("\x1cJOB=4\r\nSPH=?;-1.25\r\n\x1d")
    assert (read.message.job, read.message.both_eyes, read.bad_lines) == ("4", {"SPH": (None, -1.25)}, ())


TWELVE = "R=" + ";".join(["2500"] * 12)


@pytest.mark.parametrize(
    ("text", "line", "why"),
    [
        ("JOB=1\nTRCFMT=1;4;E;R;F\nR=2500;2400;2500;2400", 2, "12 radii or more"),
        ("TRCFMT=1;13;E;R;F\n" + TWELVE, 1, "announces 13 radii, 12 came"),
        ("TRCFMT=1;12;E;R;F\n" + TWELVE.replace("2500", "x", 1), 2, "whole number"),
        ("TRCFMT=1;12;E;R;F\n" + TWELVE.replace("2500", "0", 1), 1, "not above 0"),
        ("JOB=1\n\nR=2500", 3, "without a TRCFMT"),
        (
            f"TRCFMT=1;12;U;R;F\n{TWELVE}\nA=" + ";".join(str(2700 * (one + (one > 5))) for one in range(12)),
            1,
            "gap of 54",
        ),
        (
            f"TRCFMT=1;12;U;R;F\n{TWELVE}\nA=0;6000;3000;9000;12000;15000;18000;21000;24000;27000;30000;33000",
            1,
            "out of order",
        ),
        (
            f"TRCFMT=1;12;U;R;F\n{TWELVE}\nA=" + ";".join(str(3000 * one + 9000) for one in range(12)),
            1,
            "outside",
        ),
        ("TRCFMT=4;512;E;R;F\nR=abc", 1, "packed binary"),
        ("TRCFMT=1;12;E;X;F\n" + TWELVE, 1, "not known"),
    ],
)
def test_a_tracing_that_cannot_be_drawn_is_refused_with_its_line(text: str, line: int, why: str) -> None:
    read = read_lab_message(text)
    assert read.message.outlines == ()
    assert read.bad_lines[0].number == line
    assert why in read.bad_lines[0].why


def test_the_trace_header_seen_in_public_reads_as_published() -> None:
    """Record seen at https://forums.thevisioncouncil.org/topic/5182-how-to-read-trace-information/."""
    case = next(one for one in CASES if one["topic"] == "dcs_trcfmt")
    header = read_trace_header(case["inputs"]["record"])
    assert {name: getattr(header, name) for name in case["expected"]} == case["expected"]


def test_an_outline_keeps_its_shape_within_a_hundredth_of_a_millimetre() -> None:
    angles = np.arange(0, 360, 2.5)
    right = outline_from_radii(25 + 3 * np.cos(np.radians(2 * angles)) + np.sin(np.radians(angles)), angles)
    centred = right - (right.min(axis=0) + right.max(axis=0)) / 2
    sent = outline_radii(right, "R")
    back = outline_from_radii(np.array(sent.radii_mm), np.array(sent.angles_deg))
    nearest = np.array([np.hypot(*(centred - point).T).min() for point in back])
    assert nearest.max() < 0.01
    left = outline_radii(right, "L")
    mirrored = outline_from_radii(np.array(left.radii_mm), np.array(left.angles_deg)) * [-1, 1]
    assert max(np.hypot(*(centred - point).T).min() for point in mirrored) < 0.01


def test_an_order_is_sent_with_what_is_known_and_nothing_else() -> None:
    """Demo patient 1: +1.25 R and L with −0.50 × 180 … and single-eye PDs 31.5, as in its file."""
    order = signed_order()
    message = lab_message_of(order)
    eye, other = order.eye("R"), order.eye("L")
    assert eye is not None
    assert other is not None
    assert (message.job, message.eyes) == ("A1B2C3D4-1", "B")
    assert message.both_eyes["SPH"] == (eye.sphere, other.sphere)
    assert message.both_eyes["IPD"] == (order.ordered("centration", "R"), order.ordered("centration", "L"))
    assert message.both_eyes["SEGHT"] == (16.0, 16.0)
    assert message.both_eyes["HBOX"] == (48.0, 48.0)
    assert message.numbers == {"DBL": 18.0}
    text = write_lab_message(message)
    labels = {line.partition("=")[0] for line in text.split("\r\n") if line}
    assert labels <= set(LABELS)
    assert not labels & {one.label for one in NOT_SENT}
    assert read_lab_message(text).bad_lines == ()


def test_a_traced_outline_goes_out_as_a_frames_and_a_drawn_one_as_a_patterns() -> None:
    drawn = order_outline(demo(), signed_order().pair)
    assert drawn.right_mm is not None
    right, left = lab_message_of(signed_order(), drawn.right_mm, traced=drawn.exact).outlines
    assert (right.side, left.side, right.source) == ("R", "L", "P")
    record = "TRCFMT=1;24;E;R;F\nR=" + ";".join(["2400"] * 24)
    order = signed_order(tracing=record)
    traced = order_outline(order.fitting, order.pair)
    assert traced.exact
    assert traced.right_mm is not None
    message = lab_message_of(order, traced.right_mm, traced=True)
    assert message.outlines[0].source == "F"
    assert message.both_eyes["FED"] == (pytest.approx(48.0, abs=0.2), pytest.approx(48.0, abs=0.2))


def test_base_in_points_to_the_nose_on_either_side() -> None:
    """Right eye base in is at 0, left eye base in at 180 seen from the front (ISO 8429)."""
    eye = EyePrescription(sphere=-1.0, prism=(Prism(amount=2.0, base="in"),))
    fitting = replace(
        demo(), prescription=Prescription(right=eye, left=eye, written="2026-09-01", prescriber="A")
    )
    message = lab_message_of(signed_order(fitting))
    assert message.both_eyes["PRVM"] == (2.0, 2.0)
    assert message.both_eyes["PRVA"] == (0.0, 180.0)
    oblique = EyePrescription(sphere=-1.0, prism=(Prism(amount=2, base="in"), Prism(amount=1.5, base="up")))
    fitting = replace(fitting, prescription=replace(fitting.prescription, right=oblique, left=None))
    message = lab_message_of(signed_order(fitting))
    # 2 in and 1.5 up on the right eye: 2.5 base 37, courses.durhamtech.edu/opticianry prism base module
    assert message.both_eyes["PRVM"] == (2.5, None)
    assert message.both_eyes["PRVA"][0] == pytest.approx(37, abs=0.5)
    assert message.eyes == "R"


def test_a_lens_for_reading_alone_has_its_addition_in_the_sphere() -> None:
    eye = EyePrescription(sphere=1.0, add=2.0)
    fitting = replace(demo(), prescription=Prescription(right=eye, left=eye))
    message = lab_message_of(signed_order(fitting, lens_form="single_vision_near", prescription=None))
    assert message.both_eyes["SPH"] == (3.0, 3.0)
    assert "ADD" not in message.both_eyes


def test_every_sent_label_stands_in_the_docs_of_the_module() -> None:
    words = (lab_labels.__doc__ or "").replace("\n", " ")
    assert all(f" {one.label}" in words for one in SENT)
    assert all(one.source and one.meaning for one in SENT)
    assert not set(LABELS) & {one.label for one in NOT_SENT}


def test_text_in_a_record_cannot_end_it() -> None:
    assert plain_text_for("A\r\nSPH=9;9") == "A  SPH=9 9"

"""Papers measured as they come out: rendered by poppler at 508 dots to the inch, 20 pixels to the millimetre.

Expected lengths are those of the fitting files: lens sizes as chosen, PDs as measured, bars of 50 and 100 mm.
"""

from pathlib import Path

import numpy as np
import pytest

from app.documents.label_paper import label
from app.documents.order_paper import Paper, order_sheets
from app.documents.record_paper import record
from tests.documents.made import HANDMADE, fitting_of, order_of
from tests.documents.poppler import (
    PIXELS_PER_MM,
    Pixels,
    blue,
    dark,
    needs_poppler,
    pages,
    pixels,
    places,
    purple,
    run,
    text,
)

pytestmark = needs_poppler
WITHIN_MM = 0.1
FRONT_PAGE = 2


def sheet(
    folder: Path, name: str = "patient_1", number: int = 1, *, paper: Paper = "a4", **parts: object
) -> Path:
    """An order sheet as a file."""
    place = folder / f"{name}-{number}-{paper}.pdf"
    place.write_bytes(order_sheets([order_of(name, number, **parts)], paper=paper))  # type: ignore[arg-type]
    return place


def upright_lines(mask: np.ndarray, *, at_least_mm: float) -> list[float]:
    """Places of upright lines across the page, mm."""
    return [at / PIXELS_PER_MM for at in places(mask.sum(axis=0) > at_least_mm * PIXELS_PER_MM)]


def level_lines(mask: np.ndarray, *, at_least_mm: float) -> list[float]:
    """Places of level lines down the page, mm."""
    return [at / PIXELS_PER_MM for at in places(mask.sum(axis=1) > at_least_mm * PIXELS_PER_MM)]


def bars(page: Pixels) -> list[float]:
    """Lengths of the check bars at the foot of a page, mm: their end strokes are 3 mm high."""
    foot = dark(page[-int(17 * PIXELS_PER_MM) : -int(7 * PIXELS_PER_MM)])
    ends = upright_lines(foot, at_least_mm=2.5)
    assert len(ends) == 4
    return [ends[1] - ends[0], ends[3] - ends[2]]


@pytest.mark.parametrize("paper", ["a4", "us-letter"])
def test_the_check_bars_measure_100_and_50_mm_on_every_page(tmp_path: Path, paper: Paper) -> None:
    pdf = sheet(tmp_path, paper=paper)
    for number in range(1, pages(pdf) + 1):
        assert bars(pixels(pdf, number)) == pytest.approx([100, 50], abs=WITHIN_MM)


# lens width, lens height, distance between lenses, single-eye PDs: demo/patient_N.json
@pytest.mark.parametrize(
    ("name", "width", "height", "between", "pd"),
    [("patient_1", 48, 36, 18, 63), ("patient_2", 43, 37, 18, 61), ("patient_5", 40, 33, 15, 51)],
)
def test_boxes_and_pupil_distance_can_be_measured_on_the_printed_front(
    tmp_path: Path, name: str, width: float, height: float, between: float, pd: float
) -> None:
    page = pixels(sheet(tmp_path, name), FRONT_PAGE)
    # where the lens touches its box its own black line covers the blue one
    sides = upright_lines(blue(page), at_least_mm=8)
    levels = level_lines(blue(page), at_least_mm=16)
    crosses = upright_lines(purple(page), at_least_mm=3)
    assert np.diff(sides) == pytest.approx([width, between, width], abs=WITHIN_MM)
    assert np.diff(levels) == pytest.approx([height], abs=WITHIN_MM)
    assert crosses[-1] - crosses[0] == pytest.approx(pd, abs=WITHIN_MM)


def test_letter_is_the_same_size_as_a4(tmp_path: Path) -> None:
    page = pixels(sheet(tmp_path, paper="us-letter"), FRONT_PAGE)
    assert page.shape[1] / PIXELS_PER_MM == pytest.approx(215.9, abs=WITHIN_MM), "ANSI letter, 8.5 inches"
    sides = upright_lines(blue(page), at_least_mm=8)
    assert np.diff(sides) == pytest.approx([48, 18, 48], abs=WITHIN_MM)


@pytest.mark.parametrize("name", HANDMADE)
def test_words_can_be_selected_fonts_are_embedded_and_the_file_is_tagged(tmp_path: Path, name: str) -> None:
    pdf = sheet(tmp_path, name)
    words = text(pdf)
    for expected in (
        "Pair 1",
        "wearer's right (R)",
        "Bridge projection",
        "nasal",
        "to bend",
        "boxed centres",
    ):
        assert expected in words
    fonts = run("pdffonts", str(pdf)).decode().splitlines()[2:]
    assert fonts
    assert all(line.split()[-5] == "yes" for line in fonts), "every font is embedded"
    assert b"/Lang" in pdf.read_bytes() or "Tagged: yes" in " ".join(
        run("pdfinfo", str(pdf)).decode().split()
    )


def test_a_bench_learns_neither_date_of_birth_nor_telephone(tmp_path: Path) -> None:
    order = order_of()
    assert order.fitting.person.born == "1968-03-11"
    place = tmp_path / "label.pdf"
    place.write_bytes(
        label(order.head, order.made.pair, address="https://bench.example/fittings/0a/orders/1")
    )
    for paper in (sheet(tmp_path), place):
        words = text(paper)
        assert "1968" not in words
        assert "born" not in words.lower()


def test_the_label_s_code_is_read_by_another_program(tmp_path: Path) -> None:
    reader = pytest.importorskip("zxingcpp", reason="zxing-cpp is not installed: the code was NOT read")
    address = "https://bench.example:8443/fittings/0b6f3e0a7c5d4f218b5c9e0d6a1f2c3d/orders/1"
    order, place = order_of(), tmp_path / "label.pdf"
    place.write_bytes(label(order.head, order.made.pair, address=address))
    seen = reader.read_barcodes(np.ascontiguousarray(pixels(place, 1).astype(np.uint8)))
    assert [one.text for one in seen] == [address]


@pytest.mark.parametrize("name", [*HANDMADE, "spoiled"])
@pytest.mark.parametrize("paper", ["a4", "us-letter"])
def test_the_record_stays_on_one_page_and_says_everything(tmp_path: Path, name: str, paper: Paper) -> None:
    fitting, judgement = fitting_of(name), order_of(name).judgement
    place = tmp_path / "record.pdf"
    place.write_bytes(record(fitting, judgement, paper=paper))
    words = text(place)
    assert pages(place) == 1
    assert fitting.person.reference in words
    for expected in ("Cover test", "Prescription", "Pair 2", "Findings that stand", "Head circumference"):
        assert expected in words


def test_two_orders_in_one_document_count_their_own_pages(tmp_path: Path) -> None:
    place = tmp_path / "two.pdf"
    place.write_bytes(order_sheets([order_of(), order_of("patient_2", 2)]))
    words = text(place)
    assert words.count("page 1 of 4") == 2
    assert "Pair 2" in words


def test_a_wide_front_is_printed_on_a_page_turned_on_its_side(tmp_path: Path) -> None:
    pdf = sheet(tmp_path, lens_width=66, lug_width_mm=14, longest_diameter_mm=None)
    page = pixels(pdf, FRONT_PAGE)
    assert page.shape[1] > page.shape[0]
    sides = upright_lines(blue(page), at_least_mm=8)
    assert np.diff(sides) == pytest.approx([66, 18, 66], abs=WITHIN_MM)

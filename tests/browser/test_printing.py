"""What leaves the printer: the whole record, the blank form and each order are one page of A4 each.

Also looked at here, in both orientations: nothing for axe-core to find on these pages, no sideways scrolling,
and targets that a finger can hit. A4 is 210 × 297 mm (ISO 216); a PDF point is 1/72 inch of 25.4 mm.
"""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from app.catalogue.catalogue import MEASUREMENTS
from app.catalogue.reasons import REASONS
from app.fitting.entry import show_value
from app.fitting.fitting import Fitting
from app.fitting.reading import EnteredInError, NotTaken, Reading
from app.records.accounts import list_accounts
from app.records.fittings import import_fitting
from app.records.identity import new_key
from app.records.people import save_person
from app.records.person_details import PersonDetails
from app.records.practice import load_settings
from app.records.signoff import sign_off
from app.web.signed_record import signed_document
from tests.browser.conftest import picture, sign_in
from tests.web.demo_patients import demo_patient

AXE = next((Path(__file__).parent / "vendor").glob("axe-*.min.js"))
PATIENTS = [f"patient_{number}" for number in range(1, 9)]
POINTS_OF_A4 = (595, 842)
LEAST_TARGET_PX = 24
"""WCAG 2.2, 2.5.8 (AA); links within a sentence are exempt there."""


def fitting_of(name: str) -> Fitting:
    return demo_patient(name)


def stored(practice, fitting: Fitting, *, signed: bool = True) -> str:
    """A fitting in the running practice, signed behind the pages so that only printing is looked at."""
    actor = next(one for one in list_accounts(practice.database) if one.role == "practitioner").actor
    details = PersonDetails(
        reference=new_key()[-8:],
        family_name="Longest-Family-Name-of-the-Whole-Practice",
        given_name="Wilhelmina Alexandrina",
        born=fitting.person.born,
    )
    person = save_person(practice.database, key=new_key(), actor=actor, details=details)
    identity = import_fitting(
        practice.database, key=new_key(), actor=actor, person_id=person, fitting=fitting
    )
    if signed:
        sign_off(
            practice.database,
            key=new_key(),
            actor=actor,
            fitting_id=identity,
            name="Ines Farrow",
            registration="D-00417",
            document=signed_document(fitting, load_settings(practice.database)),
        )
    return identity


def pages_of(pdf: bytes) -> int:
    return len(re.findall(rb"/Type\s*/Page\b", pdf))


def paper_of(pdf: bytes) -> tuple[int, int]:
    box = re.search(rb"/MediaBox\s*\[\s*0\s+0\s+([\d.]+)\s+([\d.]+)\s*\]", pdf)
    assert box is not None
    return round(float(box[1])), round(float(box[2]))


def printed(page, address: str) -> bytes:
    answer = page.goto(address)
    assert answer.status == 200, address
    pdf: bytes = page.pdf(prefer_css_page_size=True)
    assert paper_of(pdf) == POINTS_OF_A4
    return pdf


@pytest.fixture(scope="module")
def printer(chromium, practice):
    """A signed-in practitioner at a tablet whose pages are printed."""
    context = chromium.new_context(
        viewport={"width": 820, "height": 1180}, has_touch=True, base_url=practice.address
    )
    page = context.new_page()
    sign_in(page, "Ines Farrow")
    yield page
    context.close()


@pytest.fixture(scope="module")
def signed(practice) -> dict[str, str]:
    """All demo patients, signed."""
    return {name: stored(practice, fitting_of(name)) for name in PATIENTS}


@pytest.mark.parametrize("name", PATIENTS)
def test_each_demo_patients_record_and_both_orders_are_one_page_each(printer, signed, name: str) -> None:
    for part in ("overview", "orders/1", "orders/2", "versions/1"):
        assert pages_of(printed(printer, f"/fittings/{signed[name]}/{part}")) == 1, part


def test_the_blank_form_is_one_page(printer) -> None:
    assert pages_of(printed(printer, "/blank-form")) == 1


def crowded() -> Fitting:
    """A record with more notes, reasons and crossed-out readings than any visit should have."""
    fitting = fitting_of("patient_7")
    long = "measured twice while the patient looked down, hair pressed flat, and the child moved a little"
    noted = tuple(replace(one, note=long) for one in fitting.readings)
    error = EnteredInError(by="Ines Farrow", at="2026-10-02T10:00:00Z", reason=long)
    struck = tuple(replace(one, entered_in_error=error) for one in fitting.readings[:12])
    gaps = tuple(
        NotTaken(measurement=key, reason=reason, detail=long)
        for key, reason in zip(("crest_angle", "vertex_distance", "face_form_angle"), REASONS, strict=False)
    )
    history = {key: long for key in ("occupation", "interests", "old_fit", "injury_detail", "old_liked")}
    return replace(
        fitting, readings=(*noted, *struck), not_taken=gaps, history={**fitting.history, **history}
    )


def test_a_crowded_record_still_prints_on_one_page_and_says_what_has_no_room(
    printer, practice, signed
) -> None:
    identity = stored(practice, crowded(), signed=False)
    assert pages_of(printed(printer, f"/fittings/{identity}/overview")) == 1
    on_paper = printer.locator("#sheet").inner_text()
    assert re.search(r"and \d+ more on the screen", on_paper)
    assert "Everything that is written on this record" in printer.locator("main").inner_text()


def test_every_value_of_the_record_is_on_the_paper(printer, signed) -> None:
    printed(printer, f"/fittings/{signed['patient_6']}/overview")
    printer.emulate_media(media="print")
    shown = printer.locator("#sheet").inner_text()
    printer.emulate_media(media="screen")
    for reading in fitting_of("patient_6").readings:
        measurement = MEASUREMENTS[reading.measurement]
        if not measurement.sign_words:
            assert show_value(measurement, reading.value) in shown, reading.measurement


def test_the_check_bar_is_fifty_millimetres_long_on_paper(printer, signed) -> None:
    printer.goto(f"/fittings/{signed['patient_1']}/orders/1")
    printer.emulate_media(media="print")
    width_px = printer.locator(".check-bar path").evaluate("bar => bar.getBoundingClientRect().width")
    printer.emulate_media(media="screen")
    # CSS: 96 px are one inch of 25.4 mm; the bar's end strokes add the width of one stroke.
    assert abs(width_px / 96 * 25.4 - 50) < 0.5


def test_the_pair_number_is_the_largest_thing_on_the_order(printer, signed) -> None:
    printer.goto(f"/fittings/{signed['patient_1']}/orders/2")
    sizes = printer.locator(".order *").evaluate_all(
        "all => all.filter(one => one.checkVisibility())"
        ".map(one => [one.className, parseFloat(getComputedStyle(one).fontSize)])"
    )
    assert max(sizes, key=lambda one: one[1])[0] == "order-pair-number"


PAGES = ("overview", "review", "orders/1", "orders/2", "compare")


def test_axe_finds_nothing_and_nothing_scrolls_sideways(tablet, practice, signed) -> None:
    sign_in(tablet, "Ines Farrow")
    spoiled = stored(practice, fitting_of("spoiled"), signed=False)
    signed_one = f"/fittings/{signed['patient_7']}"
    addresses = {f"signed-{part}": f"{signed_one}/{part}" for part in (*PAGES, "versions/1")}
    addresses |= {f"spoiled-{part}": f"/fittings/{spoiled}/{part}" for part in PAGES}
    for name, address in (addresses | {"blank-form": "/blank-form"}).items():
        tablet.goto(address)
        tablet.evaluate(AXE.read_text(encoding="utf-8"))
        found = tablet.evaluate(
            "async () => (await axe.run()).violations.map(one => [one.id, one.nodes[0].html])"
        )
        assert found == [], address
        assert tablet.evaluate("document.documentElement.scrollWidth <= innerWidth"), address
        picture(tablet, name.replace("/", "-"))


def test_every_target_on_review_and_sheet_can_be_hit_by_a_finger(tablet, practice, signed) -> None:
    sign_in(tablet, "Ines Farrow")
    spoiled = stored(practice, fitting_of("spoiled"), signed=False)
    for part in PAGES:
        tablet.goto(f"/fittings/{spoiled}/{part}")
        alone = "main a:not(p a, .caution a):visible, main button:visible, main summary:visible"
        small = tablet.locator(alone).evaluate_all(
            "all => all.map(one => [one.outerHTML.slice(0, 90), one.getBoundingClientRect()])"
            f".filter(([, box]) => box.height < {LEAST_TARGET_PX} && box.width > 0)"
            ".map(([html]) => html)"
        )
        assert small == [], part


def test_a_whole_review_is_answered_and_signed_with_a_finger(tablet, practice, signed) -> None:
    sign_in(tablet, "Ines Farrow")
    identity = stored(practice, fitting_of("patient_7"), signed=False)
    tablet.goto(f"/fittings/{identity}/review")
    waiting = tablet.locator("section:has(#findings) form.answer-form")
    for _ in range(waiting.count()):
        form = waiting.first
        form.get_by_text("measured twice, the same").tap()
        with tablet.expect_navigation():
            form.get_by_role("button").tap()
    with tablet.expect_navigation():
        tablet.get_by_role("button", name="Sign off").tap()
    assert "Signed off: version 1 by Ines Farrow" in tablet.locator(".frozen").inner_text()
    with tablet.expect_navigation():
        tablet.get_by_role("link", name="To the order of pair 1").tap()
    with tablet.expect_navigation():
        tablet.get_by_role("button", name="Ordered").tap()
    assert "Pair 1: Ordered" in tablet.locator("#where").inner_text()


def test_the_review_works_without_scripts(chromium, practice, signed) -> None:
    context = chromium.new_context(java_script_enabled=False, base_url=practice.address)
    page = context.new_page()
    page.goto("/sign-in")
    page.get_by_role("button", name="Ines Farrow").click()
    identity = stored(practice, fitting_of("patient_1"), signed=False)
    page.goto(f"/fittings/{identity}/review")
    page.get_by_role("button", name="Sign off").click()
    assert "Signed off: version 1" in page.locator(".frozen").inner_text()
    context.close()


def test_a_crossed_out_reading_is_legible_on_paper(printer, practice) -> None:
    error = EnteredInError(by="Ines Farrow", at="2026-10-02T10:00:00Z", reason="wrong sheet")
    fitting = fitting_of("patient_1")
    wrong = Reading(measurement="head_width", value=171.0, text="171", entered_in_error=error)
    identity = stored(practice, replace(fitting, readings=(*fitting.readings, wrong)), signed=False)
    printed(printer, f"/fittings/{identity}/overview")
    assert printer.locator("#sheet s").inner_text() == "171 mm"

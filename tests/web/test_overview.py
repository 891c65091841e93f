"""The whole record as one sheet, the blank form, and this visit beside the last one."""

import re
from dataclasses import replace

import pytest

from app.catalogue.catalogue import MEASUREMENTS
from app.fitting.reading import EnteredInError, NotTaken, Reading
from app.records.fittings import load_fitting
from app.records.identity import new_key
from app.records.readings import add_reading
from app.web.box import boxes_of
from tests.web.demo_patients import demo_fitting, demo_patient, imported, sign, signed_demo, words
from tests.web.practice import Practice

EVERY_BOX = [str(box) for one in MEASUREMENTS.values() for box in boxes_of(one)]


@pytest.mark.parametrize("blank", [False, True])
def test_every_measurement_of_the_catalogue_has_its_box_on_the_sheet(practice: Practice, blank: bool) -> None:
    address = "/blank-form" if blank else f"/fittings/{demo_fitting(practice)}/overview"
    page = practice.as_("practitioner").get(address).text
    shown = re.findall(r'data-box="([^"]+)"', page)
    assert sorted(shown) == sorted(EVERY_BOX), "each box once, none missing"


def test_each_value_leads_to_its_step_and_is_said_with_its_side_and_unit(practice: Practice) -> None:
    fitting = demo_fitting(practice)
    page = practice.as_("practitioner").get(f"/fittings/{fitting}/overview").text
    assert f'href="/fittings/{fitting}/steps/angles?box=frontal_angle.R"' in page
    assert "Patient&#39;s right: Frontal angle: 24 °" in page
    assert "Bridge projection: in front 3" in page


def test_the_patients_right_stands_before_and_left_of_the_left(practice: Practice) -> None:
    page = practice.as_("practitioner").get("/blank-form").text
    place = {
        side: re.search(rf'data-box="frontal_angle\.{side}".*?<rect[^>]* x="([\d.]+)"', page, re.DOTALL)
        for side in ("R", "L")
    }
    assert place["R"] is not None
    assert place["L"] is not None
    assert float(place["R"][1]) < float(place["L"][1])
    assert page.index('data-box="frontal_angle.R"') < page.index('data-box="frontal_angle.L"')


def test_no_finding_stands_on_the_sheet_since_the_patient_may_see_it(practice: Practice) -> None:
    fitting = demo_fitting(practice, "spoiled")
    page = words(practice.as_("practitioner"), f"/fittings/{fitting}/overview")
    for word in ("Cannot stand", "Please check", "Pause", "to check", "usual range"):
        assert word not in page


def test_blanks_and_reasons_are_told_apart(practice: Practice) -> None:
    fitting = demo_patient("patient_1")
    kept = tuple(one for one in fitting.readings if one.measurement not in ("head_height", "head_width"))
    left_out = (NotTaken(measurement="head_height", reason="declined"),)
    changed = replace(fitting, readings=kept, not_taken=left_out)
    page = (
        practice.as_("practitioner").get(f"/fittings/{demo_fitting(practice, changed=changed)}/overview").text
    )
    assert "Head height: Patient declined" in page
    assert "Head width: blank" in page


def test_a_crossed_out_reading_stays_legible_with_who_and_why(practice: Practice) -> None:
    error = EnteredInError(by="Ines Farrow", at="2026-10-02T10:00:00Z", reason="other patient's sheet")
    wrong = Reading(measurement="head_width", value=171.0, text="171", entered_in_error=error)
    fitting = demo_patient("patient_1")
    changed = replace(fitting, readings=(*fitting.readings, wrong))
    page = (
        practice.as_("practitioner").get(f"/fittings/{demo_fitting(practice, changed=changed)}/overview").text
    )
    assert "<s>171 mm</s>" in page
    assert "other patient&#39;s sheet" in page


def test_nothing_about_the_patient_stands_in_title_or_address(practice: Practice) -> None:
    fitting = demo_fitting(practice)
    for page in ("overview", "review", "orders/1", "compare"):
        text = practice.as_("practitioner").get(f"/fittings/{fitting}/{page}").text
        title = re.search(r"<title>(.*?)</title>", text)
        assert title is not None
        assert "Fenwick" not in title[1]
        assert not re.findall(r'href="[^"]*(?:Fenwick|Odile|1968)', text)


def test_reception_and_manager_see_no_sheet(practice: Practice) -> None:
    fitting = demo_fitting(practice)
    for role in ("receptionist", "manager"):
        assert practice.as_(role).get(f"/fittings/{fitting}/overview").status_code == 403


def test_an_unknown_fitting_is_said_so(practice: Practice) -> None:
    assert practice.as_("practitioner").get("/fittings/nothing-here/overview").status_code == 404


def test_the_earlier_value_shows_only_once_the_new_one_stands(practice: Practice) -> None:
    first = signed_demo(practice)
    person = load_fitting(practice.database, first).person_id
    second = imported(practice, person, replace(demo_patient("patient_1"), readings=(), not_taken=()))
    chair = practice.as_("practitioner")
    before = chair.get(f"/fittings/{second}/compare").text
    assert "shown when the new one stands" in before
    assert "148" not in before, "the head width of the first visit would lead the hand"
    reading = Reading(measurement="head_width", value=150.0, text="150")
    add_reading(
        practice.database,
        key=new_key(),
        actor=practice.actor("practitioner"),
        fitting_id=second,
        reading=reading,
    )
    after = words(chair, f"/fittings/{second}/compare")
    assert "Head width 148 mm 150 mm 2 more" in after


def test_an_earlier_visit_that_was_never_signed_is_not_compared_with(practice: Practice) -> None:
    first = demo_fitting(practice)
    person = load_fitting(practice.database, first).person_id
    second = imported(practice, person, demo_patient("patient_1"))
    assert "no earlier signed visit" in words(practice.as_("practitioner"), f"/fittings/{second}/compare")


def test_the_version_shows_the_values_as_signed_even_after_a_change(practice: Practice) -> None:
    fitting = signed_demo(practice)
    chair = practice.as_("practitioner")
    chair.post(f"/fittings/{fitting}/new-version", data={"key": new_key(), "reason": "head measured again"})
    stored = load_fitting(practice.database, fitting).fitting
    old = next(one for one in stored.readings if one.measurement == "head_width")
    change = Reading(measurement="head_width", value=149.0, text="149", replaces=old.identity)
    add_reading(
        practice.database,
        key=new_key(),
        actor=practice.actor("practitioner"),
        fitting_id=fitting,
        reading=change,
    )
    assert sign(practice, fitting) == 303
    first, second = (chair.get(f"/fittings/{fitting}/versions/{number}").text for number in (1, 2))
    assert ">148<" in first
    assert ">149<" in second
    assert "head measured again" in second

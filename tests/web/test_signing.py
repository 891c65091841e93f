"""Sign-off and new versions. Restricted groups: Opticians Act 1989 s.27 (UK), as a default; local rules first."""

from dataclasses import replace

import pytest

from app.fitting.fitting_file import write_fitting
from app.fitting.reading import Reading
from app.practice.settings import Adjustments, PracticeSettings
from app.records.errors import Frozen
from app.records.fittings import load_fitting
from app.records.identity import new_key
from app.records.readings import add_reading
from app.records.signoff import load_signed
from app.web.application import refresh_practice
from app.web.signed_record import read_signed
from tests.web.demo_patients import (
    answer_all,
    demo_fitting,
    demo_patient,
    sign,
    signed_demo,
    waiting,
    with_value,
    words,
)
from tests.web.practice import Practice

HEAD = Reading(measurement="head_width", value=149.0, text="149")


def state(practice: Practice, fitting: str) -> str:
    return load_fitting(practice.database, fitting).state


def test_signing_freezes_the_values_with_name_registration_and_time(practice: Practice) -> None:
    fitting = signed_demo(practice)
    signed = load_signed(practice.database, fitting)
    assert (signed.version.number, signed.version.name, signed.version.registration) == (
        1,
        "Ines Farrow",
        "D-00417",
    )
    assert signed.intact
    record = read_signed(signed.document)
    assert write_fitting(record.fitting) == write_fitting(load_fitting(practice.database, fitting).fitting)
    page = words(practice.as_("practitioner"), f"/fittings/{fitting}/review")
    assert "Signed off: version 1 by Ines Farrow, registration D-00417" in page
    with pytest.raises(Frozen):
        add_reading(
            practice.database,
            key=new_key(),
            actor=practice.actor("practitioner"),
            fitting_id=fitting,
            reading=HEAD,
        )


def test_the_form_comes_with_the_name_and_registration_of_who_is_signed_in(practice: Practice) -> None:
    page = practice.as_("practitioner").get(f"/fittings/{demo_fitting(practice)}/review").text
    assert 'name="name" maxlength="200" autocomplete="off" value="Ines Farrow"' in page
    assert 'value="D-00417"' in page


@pytest.mark.parametrize("blank", ["name", "registration"])
def test_without_name_or_registration_nothing_is_signed(practice: Practice, blank: str) -> None:
    fitting = demo_fitting(practice)
    assert sign(practice, fitting, **{blank: "  "}) == 422
    assert state(practice, fitting) == "open"


def test_an_open_finding_blocks_sign_off_in_words_with_a_link(practice: Practice) -> None:
    fitting = demo_fitting(practice, changed=with_value("patient_1", "frontal_angle", "R", 34))
    assert waiting(practice, fitting)
    assert sign(practice, fitting) == 422
    assert state(practice, fitting) == "open"
    page = practice.as_("practitioner").get(f"/fittings/{fitting}/review").text
    assert "Before it can be signed:" in page
    assert 'class="obstacles"' in page
    answer_all(practice, fitting)
    assert sign(practice, fitting) == 303


def test_a_missing_reading_blocks_sign_off(practice: Practice) -> None:
    fitting = demo_patient("patient_1")
    kept = tuple(one for one in fitting.readings if one.measurement != "head_width")
    identity = demo_fitting(practice, changed=replace(fitting, readings=kept))
    assert sign(practice, identity) == 422
    assert state(practice, identity) == "open"


@pytest.mark.parametrize("role", ["assistant", "receptionist", "manager"])
def test_only_a_practitioner_signs(practice: Practice, role: str) -> None:
    fitting = demo_fitting(practice)
    form = {"key": new_key(), "revision": "1", "name": "T. Marsh", "registration": "none"}
    assert practice.as_(role).post(f"/fittings/{fitting}/sign-off", data=form).status_code == 403
    assert state(practice, fitting) == "open"


def test_what_changed_since_the_page_was_opened_is_looked_at_again_before_signing(practice: Practice) -> None:
    fitting = demo_fitting(practice)
    seen = str(load_fitting(practice.database, fitting).revision)
    add_reading(
        practice.database,
        key=new_key(),
        actor=practice.actor("practitioner"),
        fitting_id=fitting,
        reading=HEAD,
    )
    assert sign(practice, fitting, revision=seen) == 409
    assert state(practice, fitting) == "open"


def test_the_same_signature_sent_twice_signs_once(practice: Practice) -> None:
    fitting = demo_fitting(practice)
    form = {
        "key": new_key(),
        "revision": str(load_fitting(practice.database, fitting).revision),
        "name": "Ines Farrow",
        "registration": "D-00417",
    }
    answers = [
        practice.as_("practitioner").post(f"/fittings/{fitting}/sign-off", data=form) for _ in range(2)
    ]
    assert [one.status_code for one in answers] == [303, 303]
    assert len(load_fitting(practice.database, fitting).signed_versions) == 1


def test_a_child_measured_by_an_assistant_needs_the_named_registered_practitioner(practice: Practice) -> None:
    child = demo_patient("patient_5")
    unnamed = replace(child.taken, by="Tobi Marsh", role="assistant", supervisor=None)
    fitting = demo_fitting(practice, changed=replace(child, taken=unnamed))
    answer_all(practice, fitting)
    assert sign(practice, fitting) == 422
    page = words(practice.as_("practitioner"), f"/fittings/{fitting}/review")
    assert "no registered practitioner is named" in page
    named = demo_fitting(practice, changed=replace(child, taken=replace(unnamed, supervisor="Ines Farrow")))
    answer_all(practice, named)
    assert sign(practice, named) == 303


def test_a_new_version_needs_a_reason_and_keeps_the_old_one(practice: Practice) -> None:
    fitting = signed_demo(practice)
    chair = practice.as_("practitioner")
    refused = chair.post(f"/fittings/{fitting}/new-version", data={"key": new_key(), "reason": " "})
    assert refused.status_code == 422
    assert state(practice, fitting) == "signed"
    reason = {"key": new_key(), "reason": "lens form changed at the patient's wish"}
    assert chair.post(f"/fittings/{fitting}/new-version", data=reason).status_code == 303
    assert state(practice, fitting) == "open"
    assert sign(practice, fitting) == 303
    versions = load_fitting(practice.database, fitting).signed_versions
    assert [(one.number, one.reason) for one in versions] == [(1, None), (2, reason["reason"])]
    page = words(chair, f"/fittings/{fitting}/review")
    assert "Version 2 : signed by Ines Farrow" in page
    assert "Reason: lens form changed at the patient's wish" in page


@pytest.mark.parametrize("role", ["assistant", "receptionist", "manager"])
def test_only_a_practitioner_opens_a_new_version(practice: Practice, role: str) -> None:
    fitting = signed_demo(practice)
    form = {"key": new_key(), "reason": "wrong"}
    assert practice.as_(role).post(f"/fittings/{fitting}/new-version", data=form).status_code == 403
    assert state(practice, fitting) == "signed"


def test_answers_stay_with_the_signed_version(practice: Practice) -> None:
    fitting = signed_demo(practice, "patient_7")
    answers = load_fitting(practice.database, fitting).answers
    assert answers
    assert {one.words for one in answers} == {"measured twice"}
    assert "Answered (" in words(practice.as_("practitioner"), f"/fittings/{fitting}/review")


def test_what_was_measured_again_or_corrected_is_kept_with_the_signature(practice: Practice) -> None:
    fitting = demo_fitting(practice, changed=with_value("patient_1", "head_circumference", None, 56.2))
    check, fingerprint, _ = waiting(practice, fitting)[0]
    form = {"check": check, "fingerprint": fingerprint, "key": new_key(), "offer": "0"}
    practice.as_("practitioner").post(f"/fittings/{fitting}/review/offer", data=form)
    assert sign(practice, fitting) == 303
    assert (check, "corrected") in {
        (one.check, one.kind) for one in load_fitting(practice.database, fitting).answers
    }


def test_later_settings_of_the_practice_do_not_change_what_was_signed(practice: Practice) -> None:
    fitting = signed_demo(practice)
    refresh_practice(practice.app, PracticeSettings(adjustments=Adjustments(head_width_grip_mm=10.0)))
    page = words(practice.as_("practitioner"), f"/fittings/{fitting}/orders/1")
    assert "148 −5 143 1.4 mm" in page, "facial 148, grip 5, ordered 143, as on the day of signing"

"""What happened to a pair is noted at the desk: only what is reception's, after a check or with nobody there."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from app.fitting.cover_test import CoverFinding, CoverTest
from app.records.contacts import last_contacts
from app.records.fittings import load_fitting
from app.records.identity import new_key
from app.records.pairs import pair_states
from app.records.signoff import open_new_version, sign_off
from tests.web.demo_patients import answer_all, demo_fitting, demo_patient, sign, waiting
from tests.web.desk import ANSWERS, PAIRS, answered, signed_with_pairs
from tests.web.practice import MINA, Practice


def test_with_nobody_on_the_line_a_delivery_can_be_noted_and_the_look_is_noted_too(
    practice: Practice,
) -> None:
    person = practice.person()
    fitting = signed_with_pairs(practice, person)
    desk = practice.as_("receptionist")
    desk.post(f"/desk/people/{person}/no-caller", data={"key": new_key()})
    page = desk.get(f"/desk/people/{person}").text
    assert "Being made" in page
    assert "we will ring when it is here" not in page, (
        "no sentence to say, since there is nobody to say it to"
    )
    sent = desk.post(f"/desk/people/{person}/pairs/1", data={"key": new_key(), "state": "received"})
    assert sent.status_code == 303
    assert pair_states(practice.database, fitting)[1].state.key == "received"
    assert last_contacts(practice.database, person)[0].kind == "opened_without_caller"


def test_reception_notes_only_what_is_receptions(practice: Practice) -> None:
    person = practice.person()
    fitting = signed_with_pairs(practice, person, state="received")
    page = answered(practice, person, **ANSWERS)
    assert "Checked, ready" not in page, "measuring a pair against its order is not reception's"
    desk = practice.as_("receptionist")
    sent = desk.post(f"/desk/people/{person}/pairs/1", data={"key": new_key(), "state": "checked"})
    assert sent.status_code == 422
    assert "This pair is elsewhere by now" in sent.text
    assert pair_states(practice.database, fitting)[1].state.key == "received"


def test_without_a_check_no_event_can_be_noted_by_address(practice: Practice) -> None:
    person = practice.person()
    signed_with_pairs(practice, person)
    sent = practice.as_("receptionist").post(
        f"/desk/people/{person}/pairs/1", data={"key": new_key(), "state": "received"}
    )
    assert sent.status_code == 404


def test_a_promised_date_is_read_as_written_and_refused_in_words(practice: Practice) -> None:
    person = practice.person()
    fitting = practice.signed_fitting(person, pairs=PAIRS)
    answered(practice, person, **ANSWERS)
    desk = practice.as_("receptionist")
    coming = date.today() + timedelta(days=30)
    address = f"/desk/people/{person}/pairs/1"
    for wrong, words in (("Thursday week", "cannot be read as a date"), ("1 May 2020", "is past")):
        sent = desk.post(
            address, data={"key": new_key(), "state": "ordered", "promised": wrong, "words": "ab"}
        )
        assert sent.status_code == 422
        assert words in sent.text
        assert f'value="{wrong}"' in sent.text, "what was typed stays"
    sent = desk.post(
        address, data={"key": new_key(), "state": "ordered", "promised": coming.strftime("%d.%m.%Y")}
    )
    assert sent.status_code == 303
    assert pair_states(practice.database, fitting)[1].promised == coming.isoformat()


def test_a_childs_pair_is_not_collected_without_a_named_practitioner(practice: Practice) -> None:
    """Under 16 and registered sight impaired: Opticians Act 1989 s.27 and its exemptions, as a default."""
    person = practice.person(replace(MINA, telephone="01632 960 155"))
    fitting = signed_with_pairs(practice, person, state="checked")
    page = answered(practice, person, said_name="Mina Okafor-Lund", said_born="11 Feb 2020")
    assert "a practitioner must be here" in page
    desk = practice.as_("receptionist")
    address = f"/desk/people/{person}/pairs/1"
    sent = desk.post(address, data={"key": new_key(), "state": "collected"})
    assert sent.status_code == 422
    assert "choose the practitioner who is there" in sent.text
    sent = desk.post(address, data={"key": new_key(), "state": "collected", "practitioner": "Ines Farrow"})
    assert sent.status_code == 303
    status = pair_states(practice.database, fitting)[1]
    assert (status.state.key, status.words) == ("collected", "Practitioner present: Ines Farrow.")


def reopened(practice: Practice, fitting: str) -> None:
    """The practitioner opens a new version."""
    actor = practice.actor("practitioner")
    open_new_version(practice.database, key=new_key(), actor=actor, fitting_id=fitting, reason="head again")


def signed_again(practice: Practice, fitting: str) -> None:
    """The practitioner signs once more."""
    actor = practice.actor("practitioner")
    sign_off(
        practice.database,
        key=new_key(),
        actor=actor,
        fitting_id=fitting,
        name="Ines Farrow",
        registration="D-00417",
        document={"made": "for a test"},
    )


@pytest.mark.parametrize("state", ["agreed", "ordered"])
def test_while_a_new_version_is_open_the_desk_cannot_send_the_old_one(practice: Practice, state: str) -> None:
    person = practice.person()
    fitting = practice.signed_fitting(person, pairs=PAIRS)
    reopened(practice, fitting)
    page = answered(practice, person, **ANSWERS)
    assert "A new version is open" in page
    assert f'value="{state}"' not in page, "what cannot be noted is not offered"
    sent = practice.as_("receptionist").post(
        f"/desk/people/{person}/pairs/1", data={"key": new_key(), "state": state}
    )
    assert sent.status_code == 422
    assert "sign it off first" in sent.text
    assert pair_states(practice.database, fitting)[1].state.key == "measuring"


def test_a_delivery_can_be_noted_even_while_a_new_version_is_open(practice: Practice) -> None:
    person = practice.person()
    fitting = signed_with_pairs(practice, person)
    reopened(practice, fitting)
    answered(practice, person, **ANSWERS)
    sent = practice.as_("receptionist").post(
        f"/desk/people/{person}/pairs/1", data={"key": new_key(), "state": "received"}
    )
    assert sent.status_code == 303


def test_after_a_second_version_the_desk_reads_what_must_be_recalled_and_the_caller_hears_no_promise(
    practice: Practice,
) -> None:
    person = practice.person()
    fitting = signed_with_pairs(practice, person, state="ordered")
    reopened(practice, fitting)
    signed_again(practice, fitting)
    page = answered(practice, person, **ANSWERS)
    assert "Version 2 must go out, version 1 be recalled (ordered)" in page
    assert "the practitioner will ring you" in page
    assert "14-Jan-2027" not in page, "the maker promised the other version"
    assert "New version ordered, old one recalled" in page

    desk = practice.as_("receptionist")
    sent = desk.post(f"/desk/people/{person}/pairs/1", data={"key": new_key(), "state": "ordered"})
    assert sent.status_code == 303
    status = pair_states(practice.database, fitting)[1]
    assert (status.label, status.replaced) == ("Ordered", False)


def test_a_paused_order_is_not_sent_from_the_desk_and_the_desk_reads_no_clinical_cause(
    practice: Practice,
) -> None:
    seen = CoverFinding(
        finding="manifest", eye="L", direction="out", size=30, constancy="constant", known="no"
    )
    changed = replace(demo_patient("patient_1"), cover_test=CoverTest(distance=seen, near=seen))
    fitting = demo_fitting(practice, changed=changed)
    for check, fingerprint, severity in waiting(practice, fitting):
        if severity == "refer":
            said = {"kind": "referred", "destination": "eye clinic", "advice": "seen on Monday"}
            form = {"check": check, "fingerprint": fingerprint, "key": new_key()} | said
            practice.as_("practitioner").post(f"/fittings/{fitting}/review/referral", data=form)
    answer_all(practice, fitting)
    assert sign(practice, fitting) == 303
    person = load_fitting(practice.database, fitting).person_id
    page = answered(practice, person, said_name="Odile Fenwick-Rae", said_born=changed.person.born or "")
    sent = practice.as_("receptionist").post(
        f"/desk/people/{person}/pairs/1", data={"key": new_key(), "state": "ordered"}
    )
    assert sent.status_code == 422
    for text in (page, sent.text):
        assert "waits for the practitioner" in text
        assert "eye clinic" not in text
        assert "squint" not in text

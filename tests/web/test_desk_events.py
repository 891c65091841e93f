"""What happened to a pair is noted at the desk: only what is reception's, after a check or with nobody there."""

from dataclasses import replace
from datetime import date, timedelta

from app.records.contacts import last_contacts
from app.records.identity import new_key
from app.records.pairs import pair_states
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

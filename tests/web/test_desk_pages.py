"""The desk asks before it tells, tells nothing clinical, and notes what happened."""

from dataclasses import replace

import pytest

from app.fitting.reading import Reading
from app.records.contacts import last_contacts
from app.records.identity import new_key
from tests.web.desk import ANSWERS, PAIRS, answered, signed_with_pairs
from tests.web.practice import ODILE, Practice


def test_a_search_shows_name_and_birth_year_and_no_more(practice: Practice) -> None:
    practice.person()
    answer = practice.as_("receptionist").post("/desk/search", data={"sought": "enwi"})
    assert "Odile Fenwick-Rae" in answer.text
    assert "born 1961" in answer.text
    for private in ("30-May", "30 May", "01632", "Quay"):
        assert private not in answer.text


def test_while_one_types_only_the_hits_come_back_and_only_from_three_letters_on(practice: Practice) -> None:
    practice.person()
    desk = practice.as_("receptionist")
    typing = {"HX-Request": "true"}
    two = desk.post("/desk/search", data={"sought": "fe"}, headers=typing).text
    three = desk.post("/desk/search", data={"sought": "fen"}, headers=typing).text
    assert "Fenwick" not in two
    assert "Fenwick" in three
    assert "<html" not in three


@pytest.mark.parametrize("sought", ["", " ", "x", "%", '"', "zzzz"])
def test_a_search_for_nothing_finds_nobody_and_says_so(practice: Practice, sought: str) -> None:
    practice.person()
    answer = practice.as_("receptionist").post("/desk/search", data={"sought": sought})
    assert answer.status_code == 200
    assert "Fenwick" not in answer.text
    assert "at least 2 letters" in answer.text or "Nobody found" in answer.text


def test_before_two_answers_match_neither_pair_nor_what_is_held_is_shown(practice: Practice) -> None:
    person = practice.person()
    signed_with_pairs(practice, person)
    page = practice.as_("receptionist").get(f"/desk/people/{person}").text
    assert "What is your date of birth?" in page
    for hidden in ("Being made", "14-Jan-2027", "30-May-1961", "Quay Steps", "01632 960 111"):
        assert hidden not in page


def test_one_matching_answer_is_not_enough(practice: Practice) -> None:
    person = practice.person()
    signed_with_pairs(practice, person)
    page = answered(practice, person, said_name="Odile Fenwick-Rae", said_born="30-05-1962")
    assert "Matches: Odile Fenwick-Rae" in page
    assert "Not the same letter by letter" in page
    assert "30-May-1961" not in page, "a wrong guess is not told the right answer"
    assert "Being made" not in page


def test_two_matching_answers_open_both_pairs_with_words_dates_and_promise(practice: Practice) -> None:
    person = practice.person()
    signed_with_pairs(practice, person)
    page = answered(practice, person, **ANSWERS)
    assert "Being made" in page
    assert "14-Jan-2027" in page
    assert "It is being made; we will ring when it is here." in page
    assert "Signed off, to order" in page
    noted = last_contacts(practice.database, person)[0]
    assert (noted.kind, noted.words, noted.by) == (
        "identity_confirmed",
        "full name, date of birth",
        "Wren Calder",
    )


@pytest.mark.parametrize(
    "said",
    [
        {"said_name": "odie fenwick rae", "said_contact": "01632 960111"},
        {"said_born": "30 May 1961", "said_contact": "4 Quay"},
        {"said_born": "1961-05-30", "said_contact": "+44 1632 960 111"},
    ],
)
def test_answers_match_however_they_are_written(practice: Practice, said: dict[str, str]) -> None:
    person = practice.person()
    signed_with_pairs(practice, person)
    assert "Being made" in answered(practice, person, **said)


@pytest.mark.parametrize(
    "said",
    [
        {"said_name": "Odile", "said_born": "30 May"},
        {"said_name": "Fenwick-Rae", "said_contact": "4"},
        {"said_contact": "000000", "said_born": "30 May 1961"},
        {"said_contact": "111", "said_born": "30 May 1961"},
    ],
)
def test_half_an_answer_is_no_answer(practice: Practice, said: dict[str, str]) -> None:
    person = practice.person()
    signed_with_pairs(practice, person)
    assert "Being made" not in answered(practice, person, **said)


def test_what_is_held_is_shown_only_once_the_caller_has_answered(practice: Practice) -> None:
    person = practice.person()
    signed_with_pairs(practice, person)
    page = answered(practice, person, said_name="Odile Fenwick-Rae", show="born")
    assert "30-May-1961" in page
    assert "Quay Steps" not in page
    state = {"said_name": "Odile Fenwick-Rae", "verdict_name": "same", "shown_born": "yes"}
    assert "Being made" in answered(practice, person, **state, same="born")


def test_an_answer_that_does_not_match_ends_the_call_and_is_noted(practice: Practice) -> None:
    person = practice.person()
    signed_with_pairs(practice, person)
    page = answered(practice, person, verdict_name="different", different="born", shown_born="yes")
    assert "Say nothing about any pair" in page
    assert "Being made" not in page
    answer = practice.as_("receptionist").post(
        f"/desk/people/{person}/identity",
        data={"key": new_key(), "verdict_name": "different", "give_up": "yes"},
    )
    assert answer.headers["location"] == "/desk"
    assert last_contacts(practice.database, person)[0].kind == "identity_not_confirmed"


def test_nothing_held_cannot_be_confirmed(practice: Practice) -> None:
    person = practice.person(replace(ODILE, born=None, telephone="", address_line=""))
    signed_with_pairs(practice, person)
    page = answered(practice, person, said_name="Odile Fenwick-Rae", same="born", said_born="30 May 1961")
    assert "Nothing is held" in page
    assert "Say nothing about any pair" in page


def test_the_end_of_the_call_closes_the_pairs_again(practice: Practice) -> None:
    person = practice.person()
    signed_with_pairs(practice, person)
    assert "Being made" in answered(practice, person, **ANSWERS)
    desk = practice.as_("receptionist")
    sent = desk.post(
        f"/desk/people/{person}/contacts", data={"key": new_key(), "kind": "spoke", "words": "will ring"}
    )
    assert sent.status_code == 303
    assert "Being made" not in desk.get(f"/desk/people/{person}").text


def test_a_check_by_one_person_does_not_open_the_pairs_for_another(practice: Practice) -> None:
    person = practice.person()
    signed_with_pairs(practice, person)
    answered(practice, person, **ANSWERS)
    assert "Being made" not in practice.as_("assistant").get(f"/desk/people/{person}").text


def test_a_call_passed_on_needs_words_and_keeps_them(practice: Practice) -> None:
    person = practice.person()
    desk = practice.as_("receptionist")
    answer = desk.post(f"/desk/people/{person}/contacts", data={"key": new_key(), "kind": "passed_on"})
    assert answer.status_code == 422
    assert "Write what was said and to whom it was passed" in answer.text
    answer = desk.post(
        f"/desk/people/{person}/contacts", data={"key": new_key(), "words": "asks about Thursday"}
    )
    assert answer.status_code == 422
    assert "Say how the call ended" in answer.text
    assert "asks about Thursday" in answer.text


def test_nothing_clinical_ever_stands_on_the_desk(practice: Practice) -> None:
    """A value of every kind is planted; none may come out at the desk, checked or not."""
    person = practice.person()
    marks = ("71.3", "171.4", "pressure mark on the left", "declined-sentinel")
    readings = (
        Reading(measurement="pd_distance", value=71.3, text="71.3", method="rule"),
        Reading(measurement="head_width", value=171.4, text="171.4", note="declined-sentinel"),
    )
    practice.signed_fitting(
        person, pairs=PAIRS, readings=readings, history={"allergy_detail": "pressure mark on the left"}
    )
    desk = practice.as_("receptionist")
    pages = [
        desk.post("/desk/search", data={"sought": "Fenwick"}).text,
        desk.get(f"/desk/people/{person}").text,
        answered(practice, person, **ANSWERS),
        desk.get(f"/people/{person}").text,
    ]
    assert "Signed off, to order" in pages[2]
    for page in pages:
        assert not [mark for mark in marks if mark in page]


@pytest.mark.parametrize("words", ["sudden loss or change of sight", "an injury or a chemical splash"])
def test_words_that_stop_the_script_stand_on_the_desk_from_the_start(practice: Practice, words: str) -> None:
    person = practice.person()
    practice.signed_fitting(person, pairs=PAIRS)
    desk = practice.as_("receptionist")
    assert words in desk.get("/desk").text
    page = desk.get(f"/desk/people/{person}").text
    assert words in page
    assert "Pass to <strong>Ines Farrow</strong>" in page


def test_a_person_without_a_fitting_has_no_pair(practice: Practice) -> None:
    person = practice.person()
    assert "No fitting yet" in answered(practice, person, **ANSWERS)

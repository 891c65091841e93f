"""A person's page keeps what was typed, shows possible doubles, and shows both values where two people differ."""

import re
from dataclasses import replace

from app.records.identity import new_key
from app.records.people import load_person, save_person
from app.records.search import find_people
from tests.web.practice import ODILE, Practice


def hidden(page: str, name: str) -> str:
    """The value of a hidden box."""
    found = re.search(rf'name="{re.escape(name)}" value="([^"]*)"', page)
    assert found is not None, f"no hidden box {name}"
    return found[1]


def test_a_new_person_needs_no_more_than_a_name(practice: Practice) -> None:
    answer = practice.as_("receptionist").post(
        "/people/new", data={"key": new_key(), "given_name": "Bram", "family_name": "Oduya"}
    )
    assert answer.status_code == 303
    stored = load_person(practice.database, answer.headers["location"].split("/")[-1])
    assert stored.details.name == "Bram Oduya"
    assert stored.details.reference, "a reference is made where none was typed"


def test_what_is_wrong_is_said_beside_the_box_and_nothing_typed_is_lost(practice: Practice) -> None:
    answer = practice.as_("receptionist").post(
        "/people/new",
        data={
            "key": new_key(),
            "given_name": "Bram",
            "family_name": "",
            "born": "30-05-61",
            "telephone": "12",
            "email": "bram at sea",
            "note": "likes to be rung after six",
        },
    )
    assert answer.status_code == 422
    page = answer.text
    assert "<title>Error: New person" in page
    for words in ("Family name: please fill this in", "all four digits", "not a telephone number"):
        assert page.count(words) == 2, "once on top, once at the box"
    assert "is not an e-mail address" in page
    for kept in ("Bram", "30-05-61", "bram at sea", "likes to be rung after six"):
        assert kept in page
    assert find_people(practice.database, "Bram") == []


def test_the_same_name_and_birth_is_shown_before_a_second_one_is_stored(practice: Practice) -> None:
    held = practice.person()
    form = {
        "key": new_key(),
        "given_name": "ODILE",
        "family_name": "Fenwick Rae",
        "born": "30 May 1961",
        "telephone": "",
    }
    client = practice.as_("receptionist")
    answer = client.post("/people/new", data=form)
    assert answer.status_code == 409
    assert f'href="/people/{held}"' in answer.text
    assert "same name, same date of birth" in answer.text
    assert client.post("/people/new", data={**form, "somebody_else": "yes"}).status_code == 303
    assert len(find_people(practice.database, "Fenwick")) == 2


def test_the_same_telephone_is_shown_too_however_it_is_written(practice: Practice) -> None:
    practice.person()
    answer = practice.as_("receptionist").post(
        "/people/new",
        data={
            "key": new_key(),
            "given_name": "Piet",
            "family_name": "Rae",
            "telephone": "+44 1632 960111",
        },
    )
    assert answer.status_code == 409
    assert "same telephone" in answer.text


def test_a_new_person_sent_twice_is_stored_once(practice: Practice) -> None:
    form = {"key": new_key(), "given_name": "Bram", "family_name": "Oduya", "somebody_else": "yes"}
    client = practice.as_("receptionist")
    first, second = client.post("/people/new", data=form), client.post("/people/new", data=form)
    assert first.headers["location"] == second.headers["location"]
    assert len(find_people(practice.database, "Oduya")) == 1


def test_a_reference_in_use_is_refused_in_words(practice: Practice) -> None:
    practice.person()
    answer = practice.as_("receptionist").post(
        "/people/new",
        data={"key": new_key(), "given_name": "Joss", "family_name": "Tavener", "reference": "d 0001"},
    )
    assert answer.status_code == 422
    assert "already has the reference" in answer.text


def test_two_people_changing_one_detail_see_both_values_and_choose(practice: Practice) -> None:
    person = practice.person()
    client = practice.as_("receptionist")
    page = client.get(f"/people/{person}").text
    form = form_of_page(page)
    somebody = practice.actor("practitioner")
    record = load_person(practice.database, person)
    changed = {"telephone": "01632 960 222", "note": "rings back"}
    save_person(
        practice.database,
        key=new_key(),
        actor=somebody,
        details=replace(record.details, **changed),
        person_id=person,
        base_version=record.version,
    )
    answer = client.post(f"/people/{person}", data={**form, "telephone": "01632 960 333"})
    assert answer.status_code == 409
    assert "Yours: 01632 960 333" in answer.text
    assert "01632 960 222" in answer.text
    assert "Ines Farrow" in answer.text
    assert load_person(practice.database, person).details.telephone == "01632 960 222"
    again = form_of_page(answer.text)
    assert again["note"] == "rings back", "what the other changed elsewhere is not undone"
    assert "telephone" not in again, "the detail in doubt has no second box that could say something else"
    chosen = {**again, "choose.telephone": "01632 960 333"}
    assert client.post(f"/people/{person}", data=chosen).status_code == 303
    stands = load_person(practice.database, person).details
    assert (stands.telephone, stands.note) == ("01632 960 333", "rings back")


def test_changes_to_different_details_are_both_kept(practice: Practice) -> None:
    person = practice.person()
    client = practice.as_("receptionist")
    form = form_of_page(client.get(f"/people/{person}").text)
    record = load_person(practice.database, person)
    save_person(
        practice.database,
        key=new_key(),
        actor=practice.actor("assistant"),
        details=replace(record.details, email="odile@example.org"),
        person_id=person,
        base_version=record.version,
    )
    assert client.post(f"/people/{person}", data={**form, "note": "step-free"}).status_code == 303
    stands = load_person(practice.database, person).details
    assert (stands.email, stands.note) == ("odile@example.org", "step-free")


def test_neither_address_nor_title_names_anybody(practice: Practice) -> None:
    person = practice.person()
    answer = practice.as_("receptionist").get(f"/people/{person}")
    assert "<title>Person – Chair to Bench</title>" in answer.text
    assert "enwick" not in str(answer.url)


def test_an_unknown_person_is_a_page_in_words(practice: Practice) -> None:
    answer = practice.as_("receptionist").get("/people/" + "0" * 32)
    assert answer.status_code == 404
    assert "There is no such person here" in answer.text


def test_a_manager_sees_no_person(practice: Practice) -> None:
    person = practice.person()
    answer = practice.as_("manager").get(f"/people/{person}")
    assert answer.status_code == 403
    assert ODILE.family_name not in answer.text


def form_of_page(page: str) -> dict[str, str]:
    """What a browser would send back from the form of details, untouched."""
    form = {name: hidden(page, name) for name in ("base_version",)}
    form["key"] = new_key()
    for name in ("family_name", "given_name", "preferred_name", "born", "reference", "telephone"):
        if f'id="{name}"' in page:
            form[name] = value_of(page, name)
    for name in ("email", "address_line", "permission_to_speak", "note"):
        form[name] = value_of(page, name)
    for name in ("sex", "contact_channel"):
        found = re.search(rf'name="{name}" value="([^"]*)" checked', page)
        form[name] = found[1] if found else ""
    for name in ("leave_message", "registered_sight_impaired"):
        if re.search(rf'name="{name}" value="yes" checked', page):
            form[name] = "yes"
    return form


def value_of(page: str, name: str) -> str:
    """What stands in a box."""
    found = re.search(rf'id="{name}" name="{name}" type="\w+" value="([^"]*)"', page)
    assert found is not None, f"no box {name}"
    return found[1]

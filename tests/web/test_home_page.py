"""The start at the chair: what is open, what was signed, and beginning a fitting."""

from app.fitting.reading import Reading
from app.records.fittings import fittings_of, load_fitting
from app.records.identity import new_key
from tests.web.practice import Practice


def test_the_start_shows_open_fittings_with_how_far_they_are(practice: Practice) -> None:
    person = practice.person()
    readings = (
        Reading(measurement="bridge_width_10", value=23.5, text="23.5"),
        Reading(measurement="bridge_width_15", value=19.5, text="19.5"),
    )
    fitting = practice.fitting(person, readings=readings)
    page = practice.as_("practitioner").get("/").text
    assert f"/fittings/{fitting}/overview" in page
    assert "2 of " in page
    assert "to answer" in page, "two swapped widths wait for an answer"
    assert "02-Oct-2026" in page


def test_a_signed_fitting_moves_to_the_signed_ones(practice: Practice) -> None:
    fitting = practice.signed_fitting(practice.person())
    page = practice.as_("assistant").get("/").text
    assert f"/fittings/{fitting}/overview" not in page
    assert f"/fittings/{fitting}/orders/1" in page
    assert "version 1" in page


def test_reception_and_manager_start_in_their_own_rooms(practice: Practice) -> None:
    assert practice.as_("receptionist").get("/").headers["location"] == "/desk"
    assert practice.as_("manager").get("/").headers["location"] == "/manage"
    assert practice.anybody().get("/").headers["location"].startswith("/sign-in")


def test_a_fitting_is_started_with_one_tap_and_only_once(practice: Practice) -> None:
    person = practice.person()
    key = new_key()
    chair = practice.as_("practitioner")
    first = chair.post(f"/people/{person}/fittings", data={"key": key})
    second = chair.post(f"/people/{person}/fittings", data={"key": key})
    assert first.headers["location"] == second.headers["location"]
    assert first.headers["location"].endswith("/steps/person")
    (only,) = fittings_of(practice.database, person)
    taken = load_fitting(practice.database, only.fitting_id).fitting.taken
    assert (taken.by, taken.role, taken.from_paper) == ("Ines Farrow", "practitioner", False)


def test_a_second_fitting_knows_the_visit_before(practice: Practice) -> None:
    person = practice.person()
    before = practice.signed_fitting(person)
    practice.as_("practitioner").post(f"/people/{person}/fittings", data={"key": new_key()})
    newest = fittings_of(practice.database, person)[0]
    assert load_fitting(practice.database, newest.fitting_id).previous_fitting_id == before


def test_a_paper_form_keeps_its_own_day_and_measurer(practice: Practice) -> None:
    person = practice.person()
    answer = practice.as_("assistant").post(
        f"/people/{person}/fittings",
        data={"key": new_key(), "from_paper": "yes", "taken_on": "30 Sep 2025", "taken_by": "Ines Farrow"},
    )
    assert answer.status_code == 303
    (only,) = fittings_of(practice.database, person)
    taken = load_fitting(practice.database, only.fitting_id).fitting.taken
    assert (taken.on, taken.by, taken.role, taken.from_paper) == (
        "2025-09-30",
        "Ines Farrow",
        "practitioner",
        True,
    )


def test_a_paper_form_without_day_or_name_is_asked_for_both(practice: Practice) -> None:
    person = practice.person()
    answer = practice.as_("practitioner").post(
        f"/people/{person}/fittings", data={"key": new_key(), "from_paper": "yes", "taken_on": "31-02-2025"}
    )
    assert answer.status_code == 422
    assert "that month has no day 31" in answer.text
    assert "Write who measured" in answer.text
    assert 'value="31-02-2025"' in answer.text
    assert fittings_of(practice.database, person) == ()


def test_a_day_typed_without_the_tick_is_asked_about(practice: Practice) -> None:
    person = practice.person()
    answer = practice.as_("practitioner").post(
        f"/people/{person}/fittings", data={"key": new_key(), "taken_on": "30 Sep 2025"}
    )
    assert answer.status_code == 422
    assert "Tick this where a paper form is typed in" in answer.text


def test_reception_starts_no_fitting(practice: Practice) -> None:
    person = practice.person()
    answer = practice.as_("receptionist").post(f"/people/{person}/fittings", data={"key": new_key()})
    assert answer.status_code == 403
    assert fittings_of(practice.database, person) == ()


def test_the_search_at_the_chair_opens_the_person(practice: Practice) -> None:
    person = practice.person()
    answer = practice.as_("practitioner").post("/people/find", data={"sought": "960 111"})
    assert f'href="/people/{person}"' in answer.text

"""Step pages without scripts: taking readings, repeats, corrections, gaps, and two people at once."""

import re

import pytest

from app.fitting.fitting import Taken
from app.fitting.reading import Reading
from app.records.fittings import load_fitting, start_fitting
from app.records.identity import new_key
from app.records.people import save_person
from app.records.readings import add_reading
from tests.web.practice import ODILE, Practice

Form = dict[str, str]


@pytest.fixture
def fitting(practice: Practice) -> str:
    """An open fitting of an adult."""
    actor = practice.actor("practitioner")
    person = save_person(practice.database, key=new_key(), actor=actor, details=ODILE)
    taken = Taken(on="2026-10-02", by="Ines Farrow", role="practitioner")
    return start_fitting(practice.database, key=new_key(), actor=actor, person_id=person, taken=taken)


def reading(box: str, text: str, **more: str) -> Form:
    """What the form of an armed box sends."""
    return {"box": box, "text": text, "key": new_key(), **more}


def values(practice: Practice, fitting: str, measurement: str) -> list[float]:
    """The stored values of a measurement, in order."""
    stored = load_fitting(practice.database, fitting).fitting.readings
    return [one.value for one in stored if one.measurement == measurement]


def test_a_reading_is_kept_and_the_next_box_is_armed(practice: Practice, fitting: str):
    answer = practice.as_("practitioner").post(
        f"/fittings/{fitting}/readings", data=reading("head_width", "148"), follow_redirects=False
    )

    assert answer.status_code == 303
    assert answer.headers["location"].endswith("/steps/head?box=temple_width&after=head_width")
    assert values(practice, fitting, "head_width") == [148]


@pytest.mark.parametrize("text", ["1.2.3", "wide", "", "1e3", "148 kg"])
def test_text_that_cannot_be_read_stays_in_its_box_with_an_example(
    practice: Practice, fitting: str, text: str
):
    answer = practice.as_("practitioner").post(
        f"/fittings/{fitting}/readings", data=reading("head_width", text)
    )

    assert answer.status_code == 422
    assert f'value="{text}"' in answer.text
    assert "Example: " in answer.text
    assert values(practice, fitting, "head_width") == []


def test_centimetres_are_asked_about_before_they_are_kept(practice: Practice, fitting: str):
    client = practice.as_("practitioner")

    asked = client.post(f"/fittings/{fitting}/readings", data=reading("head_circumference", "56.2"))
    assert asked.status_code == 422
    assert "Did you mean 562?" in asked.text
    assert values(practice, fitting, "head_circumference") == []

    client.post(f"/fittings/{fitting}/readings", data=reading("head_circumference", "56.2", as_entered="1"))
    assert values(practice, fitting, "head_circumference") == [56.2]


def test_centimetres_that_say_so_are_converted_and_the_text_kept(practice: Practice, fitting: str):
    practice.as_("practitioner").post(
        f"/fittings/{fitting}/readings", data=reading("head_circumference", "56.2 cm")
    )

    stored = load_fitting(practice.database, fitting).fitting.readings[0]
    assert (stored.value, stored.text) == (562, "56.2 cm")


def test_projection_behind_the_lashes_is_asked_in_words_and_kept_with_its_sign(
    practice: Practice, fitting: str
):
    practice.as_("practitioner").post(
        f"/fittings/{fitting}/readings", data=reading("bridge_projection", "2", sign_word="minus")
    )

    assert values(practice, fitting, "bridge_projection") == [-2]


def test_the_same_form_sent_twice_is_one_reading(practice: Practice, fitting: str):
    client, form = practice.as_("practitioner"), reading("head_width", "148")

    client.post(f"/fittings/{fitting}/readings", data=form)
    client.post(f"/fittings/{fitting}/readings", data=form)

    assert values(practice, fitting, "head_width") == [148]


def test_two_tablets_on_one_box_both_keep_their_reading_and_see_the_other(practice: Practice, fitting: str):
    practice.as_("assistant").post(f"/fittings/{fitting}/readings", data=reading("head_width", "147"))
    practice.as_("practitioner").post(f"/fittings/{fitting}/readings", data=reading("head_width", "148"))

    page = practice.as_("assistant").get(f"/fittings/{fitting}/steps/head?box=head_width").text
    assert values(practice, fitting, "head_width") == [147, 148]
    assert "147 mm" in page
    assert "148 mm" in page


def test_an_assistant_proposes_and_the_practitioner_accepts_what_was_seen(practice: Practice, fitting: str):
    practice.as_("assistant").post(f"/fittings/{fitting}/readings", data=reading("head_width", "148"))
    page = practice.as_("practitioner").get(f"/fittings/{fitting}/steps/head?box=head_width").text
    assert "proposed by Tobi Marsh" in page

    seen = re.findall(r'name="identity" value="(\w+)"', page)
    practice.as_("practitioner").post(
        f"/fittings/{fitting}/accept", data={"box": "head_width", "key": new_key(), "identity": seen[0]}
    )

    stored = load_fitting(practice.database, fitting).fitting.readings[0]
    assert not stored.proposed
    assert stored.accepted_by == "Ines Farrow"


@pytest.mark.parametrize(
    "box", ["lash_projection.R", "apical_radius", "pupil_horizontal.L", "bridge_width_10"]
)
def test_an_assistant_takes_no_reading_near_the_eye(practice: Practice, fitting: str, box: str):
    answer = practice.as_("assistant").post(f"/fittings/{fitting}/readings", data=reading(box, "9"))

    assert answer.status_code == 403
    assert load_fitting(practice.database, fitting).fitting.readings == ()


@pytest.mark.parametrize("role", ["receptionist", "manager"])
def test_reception_and_manager_open_no_fitting(practice: Practice, fitting: str, role: str):
    assert practice.as_(role).get(f"/fittings/{fitting}/steps/head").status_code == 403
    answer = practice.as_(role).post(f"/fittings/{fitting}/readings", data=reading("head_width", "148"))
    assert answer.status_code == 403


def test_the_second_reading_is_entered_without_seeing_the_first(practice: Practice, fitting: str):
    client = practice.as_("practitioner")
    client.post(f"/fittings/{fitting}/readings", data=reading("head_width", "148"))

    shown = client.get(f"/fittings/{fitting}/steps/head?box=head_width").text
    hidden = client.get(f"/fittings/{fitting}/steps/head?box=head_width&again=1").text

    assert "148 mm" in shown
    assert "148" not in hidden


def test_a_correction_takes_the_place_of_the_reading_that_was_seen_and_keeps_it(
    practice: Practice, fitting: str
):
    client = practice.as_("practitioner")
    client.post(f"/fittings/{fitting}/readings", data=reading("head_width", "184", as_entered="1"))
    page = client.get(f"/fittings/{fitting}/steps/head?box=head_width").text
    last = re.search(r'name="last" value="(\w+)"', page)
    assert last

    client.post(
        f"/fittings/{fitting}/readings", data=reading("head_width", "148", way="correction", last=last[1])
    )

    page = client.get(f"/fittings/{fitting}/steps/head?box=head_width").text
    assert values(practice, fitting, "head_width") == [184, 148]
    assert "<s>184 mm</s>" in page


def test_entered_in_error_needs_a_word_why_and_keeps_the_reading_legible(practice: Practice, fitting: str):
    client = practice.as_("practitioner")
    client.post(f"/fittings/{fitting}/readings", data=reading("head_width", "148"))
    identity = load_fitting(practice.database, fitting).fitting.readings[0].identity or ""
    form = {"box": "head_width", "key": new_key(), "identity": identity}

    assert client.post(f"/fittings/{fitting}/entered-in-error", data=form).status_code == 422
    client.post(f"/fittings/{fitting}/entered-in-error", data=form | {"reason": "other patient"})
    page = client.get(f"/fittings/{fitting}/steps/head?box=head_width").text

    assert "<s>148 mm</s>" in page
    assert "other patient" in page


def test_a_reading_left_out_needs_a_reason_from_the_list(practice: Practice, fitting: str):
    client, form = practice.as_("practitioner"), {"box": "head_height", "key": new_key()}

    refused = client.post(f"/fittings/{fitting}/not-taken", data=form)
    client.post(f"/fittings/{fitting}/not-taken", data=form | {"key": new_key(), "reason": "declined"})

    assert refused.status_code == 422
    assert "Choose the reason" in refused.text
    assert load_fitting(practice.database, fitting).fitting.not_taken[0].reason == "declined"


def test_a_reading_taken_after_all_takes_the_gap_back(practice: Practice, fitting: str):
    client = practice.as_("practitioner")
    client.post(
        f"/fittings/{fitting}/not-taken", data={"box": "head_height", "key": new_key(), "reason": "declined"}
    )

    client.post(f"/fittings/{fitting}/readings", data=reading("head_height", "128"))

    assert load_fitting(practice.database, fitting).fitting.not_taken == ()


def test_a_swapped_pair_is_put_right_by_taking_up_the_offer(practice: Practice, fitting: str):
    client = practice.as_("practitioner")
    client.post(f"/fittings/{fitting}/readings", data=reading("bridge_width_10", "23.5"))
    client.post(f"/fittings/{fitting}/readings", data=reading("bridge_width_15", "19.5"))
    page = client.get(f"/fittings/{fitting}/steps/bridge_widths?box=bridge_width_15").text
    offer = re.search(r'action="[^"]*put-right".*?</form>', page, re.S)
    assert offer
    form = dict(re.findall(r'name="(\w+)" value="([^"]*)"', offer[0]))

    client.post(f"/fittings/{fitting}/put-right", data=form)

    page = client.get(f"/fittings/{fitting}/steps/bridge_widths?box=bridge_width_15").text
    assert values(practice, fitting, "bridge_width_10") == [23.5, 19.5]
    assert values(practice, fitting, "bridge_width_15") == [19.5, 23.5]
    assert "Cannot stand" not in page


def test_an_expired_sign_in_gives_the_half_typed_reading_back(practice: Practice, fitting: str):
    from starlette.testclient import TestClient

    client = TestClient(practice.app, base_url="http://localhost")
    lost = client.post(f"/fittings/{fitting}/readings", data=reading("head_width", "148"))
    assert lost.status_code == 401
    assert "148" in lost.text

    form = dict(re.findall(r'type="hidden" name="(\w+)" value="([^"]*)"', lost.text))
    account = practice.actor("practitioner")
    assert form["box"] == "head_width"
    assert form["text"] == "148"
    assert account.name == "Ines Farrow"


def test_last_visits_value_shows_only_after_the_new_one(practice: Practice, fitting: str):
    actor, database = practice.actor("practitioner"), practice.database
    add_reading(
        database,
        key=new_key(),
        actor=actor,
        fitting_id=fitting,
        reading=Reading(measurement="head_width", value=151, text="151"),
    )
    person = load_fitting(database, fitting).person_id
    later = start_fitting(
        database,
        key=new_key(),
        actor=actor,
        person_id=person,
        taken=Taken(on="2026-11-02", by="Ines Farrow", role="practitioner"),
    )
    client = practice.as_("practitioner")

    before = client.get(f"/fittings/{later}/steps/head?box=head_width").text
    client.post(f"/fittings/{later}/readings", data=reading("head_width", "148"))
    after = client.get(f"/fittings/{later}/steps/head?box=head_width").text

    assert "151" not in before
    assert "Last visit: 151 mm" in after


def test_a_box_that_does_not_exist_is_said_in_words(practice: Practice, fitting: str):
    answer = practice.as_("practitioner").get(f"/fittings/{fitting}/steps/head?box=nose_length")

    assert answer.status_code == 404
    assert "There is no such" in answer.text


def test_a_step_that_is_there_answers_as_page_and_as_fragment(practice: Practice, fitting: str):
    client = practice.as_("practitioner")

    page = client.get(f"/fittings/{fitting}/steps/head")
    fragment = client.get(f"/fittings/{fitting}/steps/head", headers={"HX-Request": "true"})

    assert "<html" in page.text
    assert "<html" not in fragment.text
    assert fragment.text.strip().startswith("<main")
    assert fragment.headers["vary"] == "HX-Request"


def test_a_projection_without_its_direction_is_asked_for_and_not_guessed(practice: Practice, fitting: str):
    answer = practice.as_("practitioner").post(
        f"/fittings/{fitting}/readings", data=reading("bridge_projection", "3")
    )

    assert answer.status_code == 422
    assert "choose in front, level or behind" in answer.text
    assert values(practice, fitting, "bridge_projection") == []


def test_a_value_between_two_steps_of_the_scale_is_kept_and_said_and_not_called_fine(
    practice: Practice, fitting: str
):
    client = practice.as_("practitioner")
    client.post(f"/fittings/{fitting}/readings", data=reading("bridge_width_10", "18.25"))

    page = client.get(
        f"/fittings/{fitting}/steps/bridge_widths?box=bridge_width_15&after=bridge_width_10"
    ).text

    assert values(practice, fitting, "bridge_width_10") == [18.25]
    assert "outcome-note" in page
    assert "18.25 mm, fine" not in page

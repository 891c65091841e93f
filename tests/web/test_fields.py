"""Questions: kept one by one, read in words, and shown twice where two people answer differently."""

import re

import pytest

from app.fitting.fitting import Taken
from app.records.fittings import load_fitting, start_fitting
from app.records.identity import new_key
from app.records.people import save_person
from tests.web.practice import ODILE, Practice


@pytest.fixture
def fitting(practice: Practice) -> str:
    """An open fitting of an adult."""
    actor = practice.actor("practitioner")
    person = save_person(practice.database, key=new_key(), actor=actor, details=ODILE)
    taken = Taken(on="2026-10-02", by="Ines Farrow", role="practitioner")
    return start_fitting(practice.database, key=new_key(), actor=actor, person_id=person, taken=taken)


def served(practice: Practice, fitting: str, address: str, role: str = "practitioner") -> dict[str, str]:
    """The hidden parts of a page's form, as a browser would send them back."""
    page = practice.as_(role).get(f"/fittings/{fitting}/steps/{address}").text
    form = page[page.index('id="fields-form"') :]
    names = r'<input type="hidden" name="([^"]+)"(?: id="[^"]*")? value="([^"]*)"'
    return dict(re.findall(names, form))


def test_a_prescription_is_kept_and_read_back_with_its_cylinder_turned_round(
    practice: Practice, fitting: str
):
    # Transposition of −1.00/−0.50×37 is −1.50/+0.50×127: textbook identity, http://grafana.stuvia.com/doc/6536242.
    form = served(practice, fitting, "prescription")
    typed = {
        "f:prescription.R.sphere": "-1.00",
        "f:prescription.R.cylinder": "-0.50",
        "f:prescription.R.axis": "37",
    }
    practice.as_("practitioner").post(f"/fittings/{fitting}/fields", data=form | typed)

    page = practice.as_("practitioner").get(f"/fittings/{fitting}/steps/prescription").text
    assert "−1.00 / −0.50 × 37, which is also −1.50 / +0.50 × 127" in page


@pytest.mark.parametrize(
    ("path", "text"),
    [
        ("prescription.R.sphere", "strong"),
        ("prescription.R.axis", "200"),
        ("prescription.written", "last year"),
    ],
)
def test_a_bad_value_is_answered_beside_its_field_and_the_others_are_kept(
    practice: Practice, fitting: str, path: str, text: str
):
    form = served(practice, fitting, "prescription")
    typed = {"f:prescription.L.sphere": "-2.00", f"f:{path}": text}

    answer = practice.as_("practitioner").post(f"/fittings/{fitting}/fields", data=form | typed)

    assert answer.status_code == 422
    assert f'value="{text}"' in answer.text
    assert 'aria-invalid="true"' in answer.text
    assert load_fitting(practice.database, fitting).fields["prescription.L.sphere"].text == "-2.00"


def test_a_page_that_has_grown_old_does_not_undo_what_somebody_else_answered(
    practice: Practice, fitting: str
):
    old = served(practice, fitting, "person")
    newer = served(practice, fitting, "person", "assistant")
    assistant, practitioner = practice.as_("assistant"), practice.as_("practitioner")
    assistant.post(f"/fittings/{fitting}/fields", data=newer | {"f:history.with_them": "her husband"})

    practitioner.post(f"/fittings/{fitting}/fields", data=old | {"f:taken.room_light": "bright"})

    fields = load_fitting(practice.database, fitting).fields
    assert fields["history.with_them"].text == "her husband"
    assert fields["taken.room_light"].text == "bright"


def test_two_different_answers_to_one_question_are_both_shown_and_neither_is_lost(
    practice: Practice, fitting: str
):
    old = served(practice, fitting, "person")
    newer = served(practice, fitting, "person", "assistant")
    practice.as_("assistant").post(
        f"/fittings/{fitting}/fields", data=newer | {"f:history.with_them": "her husband"}
    )

    answer = practice.as_("practitioner").post(
        f"/fittings/{fitting}/fields", data=old | {"f:history.with_them": "nobody"}
    )

    assert answer.status_code == 409
    assert "Tobi Marsh wrote “her husband”" in answer.text
    assert "You wrote “nobody”" in answer.text
    assert load_fitting(practice.database, fitting).fields["history.with_them"].text == "her husband"

    mine = dict(re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', answer.text))
    practice.as_("practitioner").post(f"/fittings/{fitting}/fields", data=mine)
    assert load_fitting(practice.database, fitting).fields["history.with_them"].text == "nobody"


def test_the_same_answer_from_two_people_is_no_conflict(practice: Practice, fitting: str):
    old = served(practice, fitting, "person")
    newer = served(practice, fitting, "person", "assistant")
    practice.as_("assistant").post(
        f"/fittings/{fitting}/fields", data=newer | {"f:history.with_them": "nobody"}
    )

    answer = practice.as_("practitioner").post(
        f"/fittings/{fitting}/fields", data=old | {"f:history.with_them": "nobody"}
    )

    assert answer.status_code == 303


def test_several_answers_to_one_question_are_kept_together(practice: Practice, fitting: str):
    form = served(practice, fitting, "person?part=skin")
    practice.as_("practitioner").post(
        f"/fittings/{fitting}/fields", data=form | {"f:history.allergy": ["nickel", "rubber"]}
    )

    assert load_fitting(practice.database, fitting).fields["history.allergy"].text == "nickel,rubber"


def test_an_assistant_asks_the_persons_questions_but_chooses_nothing_for_a_pair(
    practice: Practice, fitting: str
):
    person = served(practice, fitting, "person", "assistant")
    pair = served(practice, fitting, "pair_1")
    assistant = practice.as_("assistant")

    kept = assistant.post(f"/fittings/{fitting}/fields", data=person | {"f:history.with_them": "her son"})
    refused = assistant.post(f"/fittings/{fitting}/fields", data=pair | {"f:pair.1.material": "horn"})

    assert kept.status_code == 303
    assert refused.status_code == 403
    assert "pair.1.material" not in load_fitting(practice.database, fitting).fields


def test_an_answer_in_place_says_that_it_is_kept_and_brings_the_next_versions(
    practice: Practice, fitting: str
):
    form = served(practice, fitting, "cover_test")
    answer = practice.as_("practitioner").post(
        f"/fittings/{fitting}/fields",
        data=form | {"f:cover_test.distance.finding": "none"},
        headers={"HX-Request": "true"},
    )

    assert "Kept at the practice" in answer.text
    assert 'id="v-cover_test-distance-finding" value="1"' in answer.text


def test_a_manifest_finding_unknown_to_the_prescriber_pauses_in_neutral_words(
    practice: Practice, fitting: str
):
    form = served(practice, fitting, "cover_test")
    typed = {
        "f:cover_test.distance.finding": "manifest",
        "f:cover_test.distance.direction": "out",
        "f:cover_test.distance.eye": "L",
        "f:cover_test.distance.known": "no",
    }
    practice.as_("practitioner").post(f"/fittings/{fitting}/fields", data=form | typed)

    page = practice.as_("practitioner").get(f"/fittings/{fitting}/steps/cover_test").text
    assert "finding-refer" in page
    assert "registered practitioner" in page
    assert "abnormal" not in page.lower()


def test_the_date_of_a_prescription_is_taken_as_people_write_it(practice: Practice, fitting: str):
    form = served(practice, fitting, "prescription") | {"f:prescription.written": "20 Sep 2026"}
    practice.as_("practitioner").post(f"/fittings/{fitting}/fields", data=form)

    assert load_fitting(practice.database, fitting).fields["prescription.written"].text == "2026-09-20"


def test_a_version_that_is_no_number_is_no_reason_to_fail(practice: Practice, fitting: str):
    form = served(practice, fitting, "prescription") | {"f:prescription.written": "20 Sep 2026"}
    form["v:prescription.written"] = "9" * 10_000
    answer = practice.as_("practitioner").post(f"/fittings/{fitting}/fields", data=form)

    assert answer.status_code == 303

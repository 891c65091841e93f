"""The review: every finding, missing and proposed reading, the answers, and what bad input gets."""

import html
from dataclasses import replace

import pytest

from app.fitting.cover_test import CoverFinding, CoverTest
from app.records.fittings import load_fitting
from app.records.identity import new_key
from app.records.pairs import pair_states
from app.records.readings import add_reading
from tests.web.demo_patients import demo_fitting, demo_patient, waiting, with_value, words
from tests.web.practice import Practice


def review(practice: Practice, fitting: str, role: str = "practitioner") -> str:
    return words(practice.as_(role), f"/fittings/{fitting}/review")


def asked(practice: Practice, fitting: str, check: str) -> dict[str, str]:
    """The hidden part of a finding's form."""
    name, fingerprint, _ = next(one for one in waiting(practice, fitting) if one[0] == check)
    return {"check": name, "fingerprint": fingerprint, "key": new_key()}


def test_the_spoiled_record_shows_root_causes_and_folds_what_they_hold_back(practice: Practice) -> None:
    fitting = demo_fitting(practice, "spoiled")
    page = review(practice, fitting)
    found = waiting(practice, fitting)
    assert found[0][2] == "refer", "what pauses comes first"
    assert f"Findings that wait for an answer ({len(found)})" in page
    assert "Held back:" in page
    assert "Dispensing is paused" in page
    assert "Did you mean 562? (centimetres?)" in page


def test_a_clean_fitting_has_nothing_in_the_way(practice: Practice) -> None:
    assert "Nothing stands in the way of sign-off" in review(practice, demo_fitting(practice))


def test_an_ask_is_answered_with_a_reason_at_hand(practice: Practice) -> None:
    fitting = demo_fitting(practice, "patient_7")
    form = (
        asked(practice, fitting, "frontal-sides")
        if any(one[0] == "frontal-sides" for one in waiting(practice, fitting))
        else asked(practice, fitting, waiting(practice, fitting)[0][0])
    )
    answer = practice.as_("practitioner").post(
        f"/fittings/{fitting}/review/answer", data=form | {"at_hand": "known for a long time"}
    )
    assert answer.status_code == 303
    assert (form["check"], form["fingerprint"]) not in [one[:2] for one in waiting(practice, fitting)]
    assert "kept: right because known for a long time" in review(practice, fitting)


def test_an_empty_reason_is_refused_in_words_and_nothing_is_kept(practice: Practice) -> None:
    fitting = demo_fitting(practice, "patient_7")
    before = waiting(practice, fitting)
    form = asked(practice, fitting, before[0][0]) | {"words": "   "}
    answer = practice.as_("practitioner").post(f"/fittings/{fitting}/review/answer", data=form)
    assert answer.status_code == 422
    assert "Say why it is right for this patient. Example:" in answer.text
    assert "<title>Error:" in answer.text
    assert waiting(practice, fitting) == before


def test_an_answer_to_values_that_changed_meanwhile_is_not_kept(practice: Practice) -> None:
    fitting = demo_fitting(practice, "patient_7")
    form = asked(practice, fitting, waiting(practice, fitting)[0][0]) | {
        "fingerprint": "as it was",
        "words": "so",
    }
    answer = practice.as_("practitioner").post(f"/fittings/{fitting}/review/answer", data=form)
    assert answer.status_code == 409
    assert load_fitting(practice.database, fitting).answers == ()


@pytest.mark.parametrize("role", ["assistant", "receptionist", "manager"])
def test_only_a_practitioner_answers(practice: Practice, role: str) -> None:
    fitting = demo_fitting(practice, "patient_7")
    form = asked(practice, fitting, waiting(practice, fitting)[0][0]) | {"words": "fine"}
    assert practice.as_(role).post(f"/fittings/{fitting}/review/answer", data=form).status_code == 403
    assert load_fitting(practice.database, fitting).answers == ()


def test_an_assistant_sees_the_review_without_forms(practice: Practice) -> None:
    fitting = demo_fitting(practice, "patient_7")
    page = practice.as_("assistant").get(f"/fittings/{fitting}/review").text
    assert "A practitioner answers this." in page
    assert "review/answer" not in page
    assert "/sign-off" not in page


def test_a_stop_is_kept_after_a_second_entry_and_a_reason(practice: Practice) -> None:
    changed = with_value("patient_1", "head_circumference", None, 695)
    fitting = demo_fitting(practice, changed=changed)
    (check,) = {one[0] for one in waiting(practice, fitting) if one[2] == "stop"}
    chair, address = practice.as_("practitioner"), f"/fittings/{fitting}/review/answer"
    said = {"words": "measured over a dressing, cannot be taken off"}
    too_soon = chair.post(address, data=asked(practice, fitting, check) | said)
    assert too_soon.status_code == 422
    assert "second time" in too_soon.text
    assert "enter it a second time; then you can say why" in review(practice, fitting)
    again = next(one for one in changed.readings if one.measurement == "head_circumference")
    add_reading(
        practice.database,
        key=new_key(),
        actor=practice.actor("practitioner"),
        fitting_id=fitting,
        reading=replace(again, identity=None),
    )
    assert chair.post(address, data=asked(practice, fitting, check) | {"words": ""}).status_code == 422
    assert chair.post(address, data=asked(practice, fitting, check) | said).status_code == 303
    assert "stop" not in {one[2] for one in waiting(practice, fitting)}


def test_a_slip_is_put_right_with_one_tap_and_shown_as_corrected(practice: Practice) -> None:
    fitting = demo_fitting(practice, changed=with_value("patient_1", "head_circumference", None, 56.2))
    check = next(one[0] for one in waiting(practice, fitting) if one[2] == "stop")
    form = asked(practice, fitting, check) | {"offer": "0"}
    assert (
        practice.as_("practitioner").post(f"/fittings/{fitting}/review/offer", data=form).status_code == 303
    )
    readings = load_fitting(practice.database, fitting).fitting.readings
    old, new = (one for one in readings if one.measurement == "head_circumference")
    assert (old.value, new.value, new.replaces) == (56.2, 562.0, old.identity)
    page = review(practice, fitting)
    assert "Nothing stands in the way" in page
    assert "Corrected : " in page


def test_the_same_tap_sent_twice_corrects_once(practice: Practice) -> None:
    fitting = demo_fitting(practice, changed=with_value("patient_1", "head_circumference", None, 56.2))
    form = asked(practice, fitting, next(one[0] for one in waiting(practice, fitting) if one[2] == "stop"))
    for _ in range(2):
        practice.as_("practitioner").post(f"/fittings/{fitting}/review/offer", data=form | {"offer": "0"})
    readings = load_fitting(practice.database, fitting).fitting.readings
    assert sum(one.measurement == "head_circumference" for one in readings) == 2


def with_squint(practice: Practice) -> str:
    """A manifest deviation that the prescriber does not know of."""
    seen = CoverFinding(
        finding="manifest", eye="L", direction="out", size=30, constancy="constant", known="no"
    )
    fitting = demo_patient("patient_1")
    return demo_fitting(practice, changed=replace(fitting, cover_test=CoverTest(distance=seen, near=seen)))


def test_a_referral_is_neutral_asks_two_questions_and_offers_three_decisions(practice: Practice) -> None:
    page = review(practice, with_squint(practice))
    assert "Please pause and let the registered practitioner see this before continuing." in page
    assert "Has this been noticed before? Has it been looked at?" in page
    for decision in ("Known and looked at: continue", "Referred: dispensing paused", "Emergency: stopped"):
        assert decision in page


@pytest.mark.parametrize(
    ("said", "wants"),
    [
        ({"kind": ""}, "Choose one of the three"),
        ({"kind": "referred", "destination": "eye clinic"}, "Say what was advised"),
        ({"kind": "emergency", "destination": "eye clinic", "advice": "go now"}, "Say when"),
        ({"kind": "right_because", "destination": "x", "advice": "y"}, "Choose one of the three"),
    ],
)
def test_a_half_said_decision_is_asked_for_the_rest_and_keeps_what_was_typed(
    practice: Practice, said: dict[str, str], wants: str
) -> None:
    fitting = with_squint(practice)
    check = next(one[0] for one in waiting(practice, fitting) if one[2] == "refer")
    form = asked(practice, fitting, check) | said
    answer = practice.as_("practitioner").post(f"/fittings/{fitting}/review/referral", data=form)
    assert answer.status_code == 422
    assert wants in html.unescape(answer.text)
    if "destination" in said:
        assert f'value="{said["destination"]}"' in answer.text


def test_referred_pauses_both_pairs_for_the_desk_without_a_clinical_word(practice: Practice) -> None:
    fitting = with_squint(practice)
    chair = practice.as_("practitioner")
    for check, fingerprint, severity in waiting(practice, fitting):
        if severity == "refer":
            said = {"kind": "referred", "destination": "eye clinic", "advice": "seen on Monday"}
            form = {"check": check, "fingerprint": fingerprint, "key": new_key()} | said
            assert chair.post(f"/fittings/{fitting}/review/referral", data=form).status_code == 303
    states = pair_states(practice.database, fitting)
    assert [states[pair].state.key for pair in (1, 2)] == ["referred", "referred"]
    assert states[1].words == ""
    page = review(practice, fitting)
    assert "Dispensing is paused" in page
    assert "referred: dispensing paused to or by: eye clinic; advice: seen on Monday" in page


def test_known_and_looked_at_lets_the_pairs_go_on(practice: Practice) -> None:
    fitting = with_squint(practice)
    chair = practice.as_("practitioner")
    refers = [one for one in waiting(practice, fitting) if one[2] == "refer"]
    for kind in ("referred", "known_investigated"):
        for check, fingerprint, _ in refers:
            said = {"kind": kind, "destination": "eye clinic", "advice": "seen"}
            form = {"check": check, "fingerprint": fingerprint, "key": new_key()} | said
            chair.post(f"/fittings/{fitting}/review/referral", data=form)
    assert pair_states(practice.database, fitting)[1].state.key == "choosing"
    assert "Dispensing is paused" not in review(practice, fitting)


def proposed(practice: Practice) -> str:
    """Head width and temple width taken by the assistant, waiting to be accepted."""
    fitting = demo_patient("patient_1")
    kept = tuple(
        replace(one, proposed=True, by="Tobi Marsh", role="assistant")
        if one.measurement in ("head_width", "temple_width")
        else one
        for one in fitting.readings
    )
    return demo_fitting(practice, changed=replace(fitting, readings=kept))


def still_proposed(practice: Practice, fitting: str) -> list[str]:
    readings = load_fitting(practice.database, fitting).fitting.readings
    return [one.measurement for one in readings if one.proposed]


def test_proposed_readings_are_accepted_one_by_one(practice: Practice) -> None:
    fitting = proposed(practice)
    assert "not accepted yet (2)" in review(practice, fitting)
    one = next(one for one in load_fitting(practice.database, fitting).fitting.readings if one.proposed)
    form = {"key": new_key(), "identity": one.identity or ""}
    assert (
        practice.as_("practitioner").post(f"/fittings/{fitting}/review/accept", data=form).status_code == 303
    )
    assert len(still_proposed(practice, fitting)) == 1


def test_all_of_one_person_are_accepted_only_after_reading_back(practice: Practice) -> None:
    fitting = proposed(practice)
    chair, address = practice.as_("practitioner"), f"/fittings/{fitting}/review/accept"
    refused = chair.post(address, data={"key": new_key(), "by": "Tobi Marsh"})
    assert refused.status_code == 422
    assert "Read them back aloud" in refused.text
    assert len(still_proposed(practice, fitting)) == 2
    assert (
        chair.post(address, data={"key": new_key(), "by": "Tobi Marsh", "read_back": "yes"}).status_code
        == 303
    )
    assert still_proposed(practice, fitting) == []


def test_an_assistant_accepts_nothing(practice: Practice) -> None:
    fitting = proposed(practice)
    form = {"key": new_key(), "by": "Tobi Marsh", "read_back": "yes"}
    assert practice.as_("assistant").post(f"/fittings/{fitting}/review/accept", data=form).status_code == 403
    assert len(still_proposed(practice, fitting)) == 2


def test_a_missing_reading_is_named_and_linked_to_its_box(practice: Practice) -> None:
    fitting = demo_patient("patient_1")
    kept = tuple(one for one in fitting.readings if (one.measurement, one.side) != ("splay_angle", "L"))
    identity = demo_fitting(practice, changed=replace(fitting, readings=kept))
    page = practice.as_("practitioner").get(f"/fittings/{identity}/review").text
    assert "Patient&#39;s left: Splay angle" in page
    assert f'href="/fittings/{identity}/steps/angles?box=splay_angle.L"' in page


def test_an_unanswered_question_about_allergy_is_missing(practice: Practice) -> None:
    fitting = demo_patient("patient_1")
    kept = {key: text for key, text in fitting.history.items() if key != "allergy"}
    identity = demo_fitting(practice, changed=replace(fitting, history=kept))
    page = practice.as_("practitioner").get(f"/fittings/{identity}/review").text
    assert f'href="/fittings/{identity}/steps/person?part=' in page
    assert "Allergy or reaction to spectacles" in page

"""The order sheets of both pairs, and noting where each pair is.

Ordered values of the demo patients: worked by hand from the facial values with the default adjustments
(lash clearance 1.5, grip 5, ease 2, front to joint 10, all common practice or ISO 8624).
"""

import re
from dataclasses import replace
from datetime import date, timedelta

import pytest

from app.fitting.cover_test import CoverFinding, CoverTest
from app.fitting.fitting import Fitting
from app.fitting.prescription import EyePrescription
from app.fitting.reading import NotTaken
from app.records.identity import new_key
from app.records.pairs import pair_events, pair_states
from app.web.order_rows import to_a_tenth
from tests.web.demo_patients import answer_all, demo_fitting, demo_patient, sign, signed_demo, waiting, words
from tests.web.practice import Practice


def sheet(practice: Practice, fitting: str, pair: int = 1) -> str:
    page = words(practice.as_("practitioner"), f"/fittings/{fitting}/orders/{pair}")
    return page[page.index("Order ", page.index("The desk may say")) :]


def row(practice: Practice, fitting: str, label: str, pair: int = 1) -> str:
    """The words of one row of the sheet."""
    page = practice.as_("practitioner").get(f"/fittings/{fitting}/orders/{pair}").text
    found = re.search(rf'<tr><th scope="row">{re.escape(label)} .*?</tr>', page, re.DOTALL)
    assert found is not None, label
    return " ".join(re.sub(r"<[^>]+>", " ", found[0]).replace("&#39;", "'").split())


# ± is 2 standard deviations of the reading: twice the repeat limit over 1.96 √2, so 1 mm gives 0.7 and 2 mm 1.4
@pytest.mark.parametrize(
    ("label", "values"),
    [
        ("Bridge projection", "3 −1.5 1.5 0.7 mm outset 1.5"),
        ("Crest height", "6 −2 4 0.7 mm 4 above the centre line"),
        ("Head width", "148 −5 143 1.4 mm"),
        ("Temple width", "137 +2 139 1.4 mm"),
        ("Frontal angle", "R 24 L 24 0 R: 24 L: 24 2.2 °"),
        ("Length to bend", "R 102 L 102 −10 R: 92 L: 92 1.4 mm"),
        ("Overall length of side", "R: 130 L: 130 2 mm"),
        ("Distance between boxed centres", "66 mm"),
        ("Segment height", "R: 16 L: 16 mm planned"),
        ("Segment top from the centre line", "R: −2 L: −2 mm 2 below the centre line"),
        ("Decentration", "R: 1.5 L: 1.5 0.7 mm in 1.5"),
    ],
)
def test_facial_value_adjustment_and_ordered_value_stand_side_by_side(
    practice: Practice, label: str, values: str
) -> None:
    assert row(practice, signed_demo(practice), label).endswith(values)


def test_a_negative_projection_is_said_in_words_too(practice: Practice) -> None:
    said = row(practice, signed_demo(practice, "patient_5"), "Bridge projection")
    assert said.endswith("−2 −1.5 −3.5 0.7 mm inset 3.5")


def test_heights_of_the_patients_own_frame_are_measured_not_planned(practice: Practice) -> None:
    assert row(practice, signed_demo(practice), "Segment height", pair=2).endswith(
        "R: 16 L: 16 0.7 mm measured"
    )


def test_sides_that_differ_are_said_to_be_confirmed(practice: Practice) -> None:
    fitting = signed_demo(practice, "patient_7")
    assert row(practice, fitting, "Frontal angle").endswith(
        "R: 19 L: 28 2.2 ° R and L differ: confirmed twice"
    )
    assert row(practice, fitting, "Decentration").endswith("R: 0 L: 3.5 0.7 mm R: none; L: in 3.5")


def test_a_note_stands_beside_the_value_that_it_explains(practice: Practice) -> None:
    said = row(practice, signed_demo(practice, "patient_4"), "Length to bend")
    assert "hearing aid in 108" in said
    assert "hearing aid out 108" in said


@pytest.mark.parametrize(
    ("reason", "said"), [("at_fit_up", "to be taken at the fit-up"), ("sore_or_healing", "not taken")]
)
def test_the_bench_is_told_only_the_reasons_that_it_can_use(
    practice: Practice, reason: str, said: str
) -> None:
    fitting = demo_patient("patient_1")
    kept = tuple(one for one in fitting.readings if one.measurement != "apical_radius")
    gaps = (NotTaken(measurement="apical_radius", reason=reason),)
    identity = demo_fitting(practice, changed=replace(fitting, readings=kept, not_taken=gaps))
    assert row(practice, identity, "Apical radius").endswith(f"not given mm {said}")


def test_the_bench_sees_reference_and_initials_and_nothing_else_of_the_person(practice: Practice) -> None:
    page = practice.as_("practitioner").get(f"/fittings/{signed_demo(practice, 'patient_7')}/orders/1").text
    order = page[page.index('id="order"') :]
    assert "O.F." in order
    for private in ("Fenwick", "Odile", "1987", "01632", "broken", "11 years"):
        assert private not in order, private


def test_the_pair_number_order_number_version_and_signature_head_the_sheet(practice: Practice) -> None:
    fitting = signed_demo(practice)
    first = sheet(practice, fitting)
    assert f"Order {fitting[-8:].upper()}-1 Version 1" in first
    assert "Signed by Ines Farrow, registration D-00417" in first
    assert "Default set by this practice. Check the current standard." in first
    assert "This line is 50 mm." in first
    page = practice.as_("practitioner").get(f"/fittings/{fitting}/orders/2").text
    assert '<span class="order-pair-number">2</span>' in page


def test_a_second_version_says_which_one_it_replaces(practice: Practice) -> None:
    fitting = signed_demo(practice)
    chair = practice.as_("practitioner")
    chair.post(f"/fittings/{fitting}/new-version", data={"key": new_key(), "reason": "note added"})
    assert sign(practice, fitting) == 303
    assert "Version 2 (replaces version 1)" in sheet(practice, fitting)


def changed_eye(eye: EyePrescription) -> Fitting:
    fitting = demo_patient("patient_1")
    assert fitting.prescription is not None
    return replace(fitting, prescription=replace(fitting.prescription, right=eye))


def test_a_plus_cylinder_is_shown_as_written_and_in_minus_cylinder(practice: Practice) -> None:
    # +1.25 / +0.50 × 180 is +1.75 / −0.50 × 90: sphere and cylinder added, sign turned, axis 90 on (any textbook).
    eye = EyePrescription(sphere=1.25, cylinder=0.5, axis=180, add=2.25)
    page = sheet(practice, demo_fitting(practice, changed=changed_eye(eye)))
    assert "R +1.25 +0.50 180" in page
    assert "in minus cylinder: R +1.75 / −0.50 × 90" in page
    assert "Tested at 12 mm" in page


def test_prism_stands_with_its_base_in_words(practice: Practice) -> None:
    page = sheet(practice, signed_demo(practice, "patient_4"))
    assert "2 base down" in page
    assert "2 base up" in page


def test_before_sign_off_the_sheet_is_a_draft_and_cannot_be_sent(practice: Practice) -> None:
    fitting = demo_fitting(practice)
    chair = practice.as_("practitioner")
    page = words(chair, f"/fittings/{fitting}/orders/1")
    assert "DRAFT – not signed" in page
    assert "cannot be marked as sent" in page
    answer = chair.post(f"/fittings/{fitting}/orders/1/events", data={"key": new_key(), "state": "ordered"})
    assert answer.status_code == 403
    assert "draft" in answer.text
    assert pair_events(practice.database, fitting) == ()


def note(practice: Practice, fitting: str, state: str, role: str = "practitioner", **more: str) -> int:
    form = {"key": new_key(), "state": state} | more
    return practice.as_(role).post(f"/fittings/{fitting}/orders/1/events", data=form).status_code


def test_ordered_then_acknowledged_with_a_promised_date(practice: Practice) -> None:
    fitting = signed_demo(practice)
    promised = date.today() + timedelta(weeks=6)
    assert note(practice, fitting, "ordered", role="assistant") == 303
    assert (
        note(practice, fitting, "being_made", promised=f"{promised:%d-%m-%Y}", note="the maker rang") == 303
    )
    state = pair_states(practice.database, fitting)[1]
    assert (state.state.key, state.promised, state.words) == (
        "being_made",
        promised.isoformat(),
        "the maker rang",
    )
    page = words(practice.as_("practitioner"), f"/fittings/{fitting}/orders/1")
    assert "It is being made; we will ring when it is here." in page
    assert pair_states(practice.database, fitting)[2].state.key == "signed", "pair 2 goes its own way"


@pytest.mark.parametrize(
    ("promised", "words_said"),
    [("soon", "cannot be read as a date"), ("01-01-2020", "is past"), ("31-02-2030", "31")],
)
def test_a_promised_date_that_cannot_be_right_is_asked_for_again(
    practice: Practice, promised: str, words_said: str
) -> None:
    fitting = signed_demo(practice)
    form = {"key": new_key(), "state": "ordered", "promised": promised, "note": "by post"}
    answer = practice.as_("practitioner").post(f"/fittings/{fitting}/orders/1/events", data=form)
    assert answer.status_code == 422
    assert words_said in answer.text
    assert f'value="{promised}"' in answer.text
    assert 'value="by post"' in answer.text
    assert pair_events(practice.database, fitting) == ()


def test_a_pair_does_not_jump_to_a_state_that_cannot_come_next(practice: Practice) -> None:
    fitting = signed_demo(practice)
    assert note(practice, fitting, "collected") == 422
    assert note(practice, fitting, "referred") == 422
    assert pair_events(practice.database, fitting) == ()


def test_while_a_new_version_is_open_the_signed_one_is_shown_and_nothing_is_sent(practice: Practice) -> None:
    fitting = signed_demo(practice)
    chair = practice.as_("practitioner")
    chair.post(f"/fittings/{fitting}/new-version", data={"key": new_key(), "reason": "head measured again"})
    page = words(chair, f"/fittings/{fitting}/orders/1")
    assert "A new version is open" in page
    assert "DRAFT" not in page
    assert "DRAFT – not signed" in words(chair, f"/fittings/{fitting}/orders/1?draft=true")
    assert note(practice, fitting, "ordered") == 403


def test_a_referral_that_pauses_dispensing_stops_the_order_of_a_signed_fitting(practice: Practice) -> None:
    seen = CoverFinding(
        finding="manifest", eye="L", direction="out", size=30, constancy="constant", known="no"
    )
    fitting = demo_patient("patient_1")
    changed = replace(fitting, cover_test=CoverTest(distance=seen, near=seen))
    identity = demo_fitting(practice, changed=changed)
    for check, fingerprint, severity in waiting(practice, identity):
        if severity == "refer":
            said = {"kind": "referred", "destination": "eye clinic", "advice": "seen on Monday"}
            form = {"check": check, "fingerprint": fingerprint, "key": new_key()} | said
            practice.as_("practitioner").post(f"/fittings/{identity}/review/referral", data=form)
    answer_all(practice, identity)
    assert sign(practice, identity) == 303, "saving is not paused"
    page = words(practice.as_("practitioner"), f"/fittings/{identity}/orders/1")
    assert "Dispensing is paused" in page
    assert "clinic" not in page
    assert note(practice, identity, "ordered") == 403
    assert pair_states(practice.database, identity)[1].state.key == "referred"


@pytest.mark.parametrize("role", ["receptionist", "manager"])
def test_an_order_is_clinical_so_reception_and_manager_do_not_see_it(practice: Practice, role: str) -> None:
    assert practice.as_(role).get(f"/fittings/{signed_demo(practice)}/orders/1").status_code == 403


def test_there_are_two_pairs_and_no_third(practice: Practice) -> None:
    assert practice.as_("practitioner").get(f"/fittings/{demo_fitting(practice)}/orders/3").status_code == 404


def test_a_pair_of_which_nothing_is_chosen_says_so(practice: Practice) -> None:
    fitting = demo_patient("patient_1")
    only = tuple(pair for pair in fitting.pairs if pair.pair == 1)
    kept = tuple(one for one in fitting.readings if one.pair is None)
    identity = demo_fitting(practice, changed=replace(fitting, pairs=only, readings=kept))
    assert "Nothing is chosen for pair 2 yet" in words(
        practice.as_("practitioner"), f"/fittings/{identity}/orders/2"
    )


@pytest.mark.parametrize(
    ("value", "shown"), [(2.25, 2.3), (2.249, 2.2), (-2.25, -2.3), (-0.04, 0.0), (143.0, 143.0)]
)
def test_worked_out_values_are_shown_to_a_tenth(value: float, shown: float) -> None:
    assert to_a_tenth(value) == shown

"""The bench's pages: from sending an order to the pair on the patient, as a browser without scripts sees it."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from app.fitting.fitting_file import read_fitting
from app.records.fittings import load_fitting
from app.records.handovers import handovers_of
from app.records.identity import new_key
from app.records.pairs import pair_states, record_pair_event
from app.records.queries import queries_of
from app.records.receipts import decisions_of, load_receipt
from tests.plausibility.demo_files import demo_document
from tests.web.bench import a_maker, came_in, post, right_values
from tests.web.demo_patients import answer_all, demo_fitting, imported, sign, signed_demo, words
from tests.web.practice import Practice


def state(practice: Practice, fitting: str, pair: int = 1) -> str:
    """Where a pair is."""
    return pair_states(practice.database, fitting)[pair].state.key


def test_an_order_is_sent_confirmed_asked_about_changed_and_sent_again(practice: Practice) -> None:
    fitting, bench = signed_demo(practice), a_maker(practice)
    here = f"/fittings/{fitting}/orders/1"
    sending = {"maker": bench, "way": "courier", "sent": ["sheet", "drawing"]}
    assert post(practice, f"{here}/sendings", "assistant", **sending)[0] == 303
    page = words(practice.as_("assistant"), f"{here}/bench")
    assert "A Bench Frame maker · version 1, courier" in page
    assert "Order sheet, Drawing at 1:1" in page
    dispatch = practice.as_("assistant").get(f"{here}/bench").text.split("sendings/")[1].split("/")[0]
    promised = date.today() + timedelta(weeks=6)
    confirmation = {"promised": f"{promised:%d-%m-%Y}", "words": "thanks"}
    assert (
        post(practice, f"{here}/sendings/{dispatch}/acknowledgement", "assistant", **confirmation)[0] == 303
    )
    assert state(practice, fitting) == "being_made"
    question = {"line": "bridge_projection", "question": "Inset or outset?"}
    assert post(practice, f"{here}/questions", "assistant", **question)[0] == 303
    page = words(practice.as_("practitioner"), f"{here}/bench")
    assert "Bridge projection: 1.5 mm in version 1 · waits for an answer" in page
    assert state(practice, fitting) == "query"
    thread = queries_of(practice.database, fitting)[0].query_id
    answer = {"kind": "change", "words": "Inset, the sign was read wrong."}
    assert post(practice, f"{here}/questions/{thread}", **answer)[0] == 303
    assert sign(practice, fitting) == 303
    page = words(practice.as_("practitioner"), f"{here}/bench")
    assert "version 2 (replaces version 1)" in page
    assert "Answered with a change (version 2, replaces version 1): Inset, the sign was read wrong." in page
    sheet = words(practice.as_("practitioner"), here)
    assert "Version 2 (replaces version 1)" in sheet


def test_an_assistant_notes_questions_but_does_not_answer_them(practice: Practice) -> None:
    fitting = signed_demo(practice)
    here = f"/fittings/{fitting}/orders/1"
    post(practice, f"{here}/questions", "assistant", question="Sheet too thin?")
    thread = queries_of(practice.database, fitting)[0].query_id
    assert post(practice, f"{here}/questions/{thread}", "assistant", kind="answer", words="no")[0] == 403
    assert "It stays as it is" not in practice.as_("assistant").get(f"{here}/bench").text
    assert "It stays as it is" in practice.as_("practitioner").get(f"{here}/bench").text


@pytest.mark.parametrize(
    ("place", "form", "said"),
    [
        ("sendings", {}, "Choose to whom it was sent"),
        ("sendings", {"maker": "BENCH", "way": "courier"}, "at least one thing"),
        ("questions", {"question": "  "}, "Write what the bench asks"),
        ("remake", {"cause": ""}, "Choose the cause"),
    ],
)
def test_a_form_of_the_bench_that_lacks_something_says_so_and_keeps_what_was_typed(
    practice: Practice, place: str, form: dict[str, str], said: str
) -> None:
    fitting, bench = signed_demo(practice), a_maker(practice)
    form = {name: bench if text == "BENCH" else text for name, text in form.items()}
    status, page = post(practice, f"/fittings/{fitting}/orders/1/{place}", **form)
    assert (status, said in page) == (422, True)
    assert state(practice, fitting) == "signed"


def test_an_order_that_is_not_signed_cannot_be_sent(practice: Practice) -> None:
    fitting, bench = demo_fitting(practice), a_maker(practice)
    here = f"/fittings/{fitting}/orders/1"
    status, page = post(practice, f"{here}/sendings", maker=bench, way="post", sent="sheet")
    assert (status, "draft" in page) == (403, True)
    for address in ("bench", "receipt", "collection"):
        assert practice.as_("practitioner").get(f"{here}/{address}").status_code == 403


def test_an_incomplete_order_cannot_be_sent_and_says_what_is_missing(practice: Practice) -> None:
    fitting = read_fitting(demo_document("patient_1"))
    pairs = tuple(replace(one, lens_height=None) if one.pair == 1 else one for one in fitting.pairs)
    identity = demo_fitting(practice, changed=replace(fitting, pairs=pairs))
    answer_all(practice, identity)
    assert sign(practice, identity) == 303
    page = words(practice.as_("practitioner"), f"/fittings/{identity}/orders/1")
    assert "It cannot be sent yet. Missing: " in page
    assert "Lens height" in page.partition("It cannot be sent yet. Missing: ")[2][:200]
    sending = {"maker": a_maker(practice), "way": "post", "sent": "sheet"}
    assert post(practice, f"/fittings/{identity}/orders/1/sendings", **sending)[0] == 403
    assert state(practice, identity) == "signed"


def test_what_came_in_is_measured_judged_and_passes(practice: Practice) -> None:
    fitting, here = signed_demo(practice), ""
    came_in(practice, fitting)
    here = f"/fittings/{fitting}/orders/1/receipt"
    page = words(practice.as_("assistant"), here)
    assert "Lens width R" in page
    assert "48 mm" in page
    assert post(practice, here, "assistant", standard="iso", **right_values())[0] == 303
    page = words(practice.as_("assistant"), here)
    assert "Judged: nothing outside or to be decided" in page
    assert "Ordered, not measured:" in page
    status, page = post(practice, f"{here}/decision", "assistant", outcome="pass")
    assert (status, "say why that is enough" in page) == (422, True)
    gaps = {"outcome": "pass", "reason": "bridge gauge away"}
    assert post(practice, f"{here}/decision", "assistant", **gaps)[0] == 303
    assert state(practice, fitting) == "checked"
    kept = decisions_of(practice.database, fitting, 1)[0]
    assert (kept.outcome, kept.standard, kept.reason) == ("pass", "iso", "bridge gauge away")
    assert {one["ruling"] for one in kept.document} == {"pass"}


def test_a_value_outside_is_named_with_how_much_and_goes_back_with_the_list(practice: Practice) -> None:
    fitting = signed_demo(practice)
    came_in(practice, fitting)
    here = f"/fittings/{fitting}/orders/1/receipt"
    post(practice, here, **(right_values() | {"m-head_width-one": "147.5", "m-axis-R": "100"}))
    page = words(practice.as_("assistant"), here)
    assert "outside by 1.5" in page
    assert "outside by 1 " in page, "axis 90 ordered, 100 measured, 9 allowed at 0.50 D"
    assert "It passes" not in page
    assert "Accept with this reason" not in page, "that is the practitioner's"
    assert "Accept with this reason" in words(practice.as_("practitioner"), here)
    assert post(practice, f"{here}/decision", "assistant", outcome="concession", reason="x")[0] == 403
    status, page = post(practice, f"{here}/decision", outcome="concession")
    assert (status, "Say why the differences are accepted" in page) == (422, True)
    assert post(practice, f"{here}/decision", "assistant", outcome="return")[0] == 303
    assert state(practice, fitting) == "returned"
    page = words(practice.as_("practitioner"), here)
    assert "please put right" in page
    assert "Head width 143 mm 147.5 +4.5" in page


def test_what_is_no_number_stays_in_its_box_and_the_rest_is_kept(practice: Practice) -> None:
    fitting = signed_demo(practice)
    came_in(practice, fitting)
    here = f"/fittings/{fitting}/orders/1/receipt"
    typed = {"m-lens_width-R": "48,5", "m-lens_width-L": "about 48", "m-sphere-R": "900", "m-axis-R": "90 mm"}
    status, page = post(practice, here, **typed)
    assert status == 422
    assert 'value="about 48"' in page
    assert "Sphere R: it lies from" in page
    kept = load_receipt(practice.database, fitting, 1).values
    assert [(one.item, one.side, one.value, one.text) for one in kept] == [("lens_width", "R", 48.5, "48,5")]
    assert post(practice, here, **{"m-lens_width-R": ""})[0] == 303
    assert load_receipt(practice.database, fitting, 1).values == ()


def test_the_other_standard_judges_by_its_own_figures(practice: Practice) -> None:
    fitting = signed_demo(practice)
    came_in(practice, fitting)
    here = f"/fittings/{fitting}/orders/1/receipt"
    post(practice, here, **(right_values() | {"m-axis-R": "98"}))
    assert "outside by 1 " in words(practice.as_("practitioner"), f"{here}?standard=ansi")
    assert "outside by" not in words(practice.as_("practitioner"), f"{here}?standard=iso")


def ready(practice: Practice) -> str:
    """A demo patient whose pair 1 was measured and passed."""
    fitting = signed_demo(practice)
    came_in(practice, fitting)
    here = f"/fittings/{fitting}/orders/1/receipt"
    post(practice, here, **right_values())
    assert post(practice, f"{here}/decision", outcome="pass", reason="sizes and powers are enough")[0] == 303
    return fitting


def test_the_pair_is_handed_over_with_checks_advice_and_what_was_adjusted(practice: Practice) -> None:
    fitting = ready(practice)
    here = f"/fittings/{fitting}/orders/1/collection"
    form = {"checks": ["bridge", "level"], "advice": ["cleaning", "case"], "received_by": "the patient"}
    wrong = form | {"a-head_width-one": "a bit", "received_by": ""}
    status, page = post(practice, here, **wrong)
    assert status == 422
    assert "who took the pair along" in page
    assert 'value="a bit"' in page
    assert 'value="level" checked' in page
    done = form | {"a-head_width-one": "+2", "a-side_angle-L": "-1.5"}
    assert post(practice, here, **done)[0] == 303
    assert state(practice, fitting) == "collected"
    (kept,) = handovers_of(practice.database, fitting)
    assert (kept.practitioner, kept.received_by, kept.checks) == (
        "Ines Farrow",
        "the patient",
        ("bridge", "level"),
    )
    page = words(practice.as_("practitioner"), here)
    assert "Adjusted: Head width +2 mm; Angle of side L −1.5°." in page


def test_what_was_adjusted_is_offered_at_the_next_order(practice: Practice) -> None:
    fitting = ready(practice)
    form = {"received_by": "the patient", "a-head_width-one": "2"}
    post(practice, f"/fittings/{fitting}/orders/1/collection", **form)
    person = load_fitting(practice.database, fitting).person_id
    later = imported(practice, person, read_fitting(demo_document("patient_1")))
    page = words(practice.as_("practitioner"), f"/fittings/{later}/orders/1")
    assert "pair 1: Head width +2 mm" in page
    assert "Head width +2 mm" not in words(practice.as_("practitioner"), f"/fittings/{fitting}/orders/1")


def test_a_pair_that_was_not_checked_is_not_handed_over(practice: Practice) -> None:
    fitting = signed_demo(practice)
    here = f"/fittings/{fitting}/orders/1/collection"
    status, page = post(practice, here, received_by="the patient")
    assert (status, "elsewhere by now" in page) == (422, True)
    assert handovers_of(practice.database, fitting) == ()
    assert practice.as_("assistant").get(here).status_code == 403


def test_overdue_pairs_stand_on_top_for_whoever_rings(practice: Practice) -> None:
    fitting = signed_demo(practice)
    promised = (date.today() - timedelta(days=3)).isoformat()
    record_pair_event(
        practice.database,
        key=new_key(),
        actor=practice.actor("practitioner"),
        fitting_id=fitting,
        pair=1,
        state="being_made",
        promised=promised,
    )
    for role in ("practitioner", "receptionist"):
        page = words(practice.as_(role), "/bench")
        assert "Overdue (1)" in page
        assert "3 days over" in page
        assert "Fenwick" not in page, "reference and initials are enough"
    assert f"/fittings/{fitting}" not in practice.as_("receptionist").get("/bench").text
    assert practice.as_("manager").get("/bench").status_code == 403


@pytest.mark.parametrize(
    ("form", "said"),
    [
        ({"name": ""}, "Give the maker"),
        ({"name": "A", "kind": "tailor"}, "Choose from the lists"),
        ({"name": "A", "usual_days": "four weeks"}, "whole number of days"),
        ({"name": "A", "usual_days": "4000"}, "1 to 365"),
    ],
)
def test_an_entry_that_cannot_be_is_refused_with_what_was_typed(
    practice: Practice, form: dict[str, str], said: str
) -> None:
    whole = {"kind": "lens_lab", "way": "post", "wants": "sheet", "active": "yes", "address": "4 Mill Lane"}
    status, page = post(practice, "/makers/new", **(whole | form))
    assert (status, said in page, "4 Mill Lane" in page) == (422, True, True)


def test_an_entry_is_kept_and_a_later_change_of_somebody_else_is_not_lost(practice: Practice) -> None:
    whole = {"name": "A Lab", "kind": "lens_lab", "way": "upload", "active": "yes", "version": "0"}
    assert post(practice, "/makers/new", "manager", wants=["lab_message", "sheet"], **whole)[0] == 303
    page = practice.as_("practitioner").get("/makers").text
    assert "Lab message, Order sheet" in " ".join(page.split()) or "Order sheet, Lab message" in page
    identity = page.split("/makers/")[2].split("/")[0].split('"')[0]
    changed = whole | {"name": "Another Lab", "version": "1"}
    assert post(practice, f"/makers/{identity}", **changed)[0] == 303
    status, page = post(practice, f"/makers/{identity}", **(changed | {"name": "Third"}))
    assert (status, "Somebody changed" in page, 'value="Third"' in page) == (409, True, True)
    assert practice.as_("receptionist").get("/makers/new").status_code == 403


def test_the_bias_of_a_maker_is_drawn_over_its_orders(practice: Practice) -> None:
    bench = a_maker(practice)
    assert "Nothing that this maker made was measured" in words(
        practice.as_("practitioner"), f"/makers/{bench}/bias"
    )
    for width in ("48.3", "48.4", "48.2"):
        fitting = signed_demo(practice)
        here = f"/fittings/{fitting}/orders/1"
        post(practice, f"{here}/sendings", maker=bench, way="post", sent="sheet")
        came_in(practice, fitting)
        values = right_values() | {"m-lens_width-R": width, "m-lens_width-L": width}
        post(practice, f"{here}/receipt", **values)
        post(practice, f"{here}/receipt/decision", outcome="pass", reason="enough")
    page = words(practice.as_("practitioner"), f"/makers/{bench}/bias?item=lens_width")
    assert "3 received: passed 3" in page
    assert "Mean +0.3 mm over 6 values" in page
    drawn = practice.as_("practitioner").get(f"/makers/{bench}/bias?item=lens_width").text
    assert drawn.count("bias-point") == 6
    assert "Sphere" not in page, "lenses are judged under the lab that made them"

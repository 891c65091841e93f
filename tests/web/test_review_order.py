"""The review asks what an order lacks, with a link to each field, and what an answered stop had held back."""

from dataclasses import replace

from app.records.identity import new_key
from tests.web.demo_patients import demo_fitting, demo_patient, waiting
from tests.web.practice import Practice


def test_what_an_order_lacks_is_named_and_linked_to_its_field(practice: Practice) -> None:
    fitting = demo_patient("patient_1")
    first, second = fitting.pairs
    bare = replace(first, material=None, route=None, choices={"order_type": "new"})
    identity = demo_fitting(practice, changed=replace(fitting, pairs=(bare, second)))
    page = practice.as_("practitioner").get(f"/fittings/{identity}/review").text
    assert "Pair 1 cannot be ordered as it stands; not chosen: route; material; colour, front." in page
    assert f'href="/fittings/{identity}/steps/pair_1?part=frame"' in page
    assert f'href="/fittings/{identity}/steps/pair_1?part=colour"' in page
    assert "Pair 2 cannot be ordered" not in page


def test_what_a_stop_held_back_waits_for_an_answer_once_the_stop_has_one(practice: Practice) -> None:
    # given the two bridge widths in each other's box, each entered twice, and an angle that does not go with them
    fitting = demo_patient("patient_1")
    swapped = {"bridge_width_10": 23.5, "bridge_width_15": 19.5}
    kept = [one for one in fitting.readings if one.measurement not in swapped]
    twice = [
        replace(one, value=swapped[one.measurement], text=str(swapped[one.measurement]))
        for one in fitting.readings
        if one.measurement in swapped
    ] * 2
    identity = demo_fitting(practice, changed=replace(fitting, readings=(*kept, *twice)))
    ((_, fingerprint, _),) = [one for one in waiting(practice, identity) if one[0] == "bridge-widths-order"]
    assert "frontal-angle-widths" not in {one[0] for one in waiting(practice, identity)}

    answer = {"check": "bridge-widths-order", "fingerprint": fingerprint, "words": "seen", "key": new_key()}
    practice.as_("practitioner").post(f"/fittings/{identity}/review/answer", data=answer)

    left = {one[0] for one in waiting(practice, identity)}
    assert "frontal-angle-widths" in left
    assert "bridge-widths-order" not in left

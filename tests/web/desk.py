"""What tests of the desk share: a person with two pairs, and a caller who answers."""

from app.fitting.pair import Pair
from app.records.identity import new_key
from app.records.pairs import record_pair_event
from tests.web.practice import Practice

PAIRS = (Pair(pair=1, kind="handmade"), Pair(pair=2, kind="own_frame"))
ANSWERS = {"said_name": "Odile Fenwick Rae", "said_born": "30.5.1961"}


def signed_with_pairs(practice: Practice, person: str, *, state: str = "being_made") -> str:
    """A signed fitting whose first pair is in that state."""
    fitting = practice.signed_fitting(person, pairs=PAIRS)
    actor = practice.actor("practitioner")
    record_pair_event(
        practice.database,
        key=new_key(),
        actor=actor,
        fitting_id=fitting,
        pair=1,
        state=state,
        promised="2027-01-14",
    )
    return fitting


def answered(practice: Practice, person: str, **said: str) -> str:
    """The desk's page after the receptionist sent what the caller said."""
    desk = practice.as_("receptionist")
    sent = desk.post(f"/desk/people/{person}/identity", data={"key": new_key(), **said})
    if sent.status_code == 303:
        return desk.get(sent.headers["location"]).text
    assert sent.status_code == 200
    return sent.text

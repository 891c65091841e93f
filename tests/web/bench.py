"""What tests of the bench's pages share: a signed demo patient, a maker, and forms sent as a browser sends
them.
"""

from app.records.identity import new_key
from app.records.makers import Maker, save_maker
from app.records.pairs import record_pair_event
from tests.web.practice import Practice


def a_maker(practice: Practice, kind: str = "frame_maker", name: str = "A Bench") -> str:
    """A maker in the address book."""
    wanted = Maker(kind=kind, name=name, wants=("sheet", "drawing"), way="courier", usual_days=28)
    return save_maker(practice.database, key=new_key(), actor=practice.actor("practitioner"), maker=wanted)


def post(practice: Practice, page: str, role: str = "practitioner", **form: object) -> tuple[int, str]:
    """Send a form; gives status and page."""
    answer = practice.as_(role).post(page, data={"key": new_key(), **form})
    return answer.status_code, answer.text


def came_in(practice: Practice, fitting: str, pair: int = 1) -> None:
    """The pair arrived."""
    record_pair_event(
        practice.database,
        key=new_key(),
        actor=practice.actor("practitioner"),
        fitting_id=fitting,
        pair=pair,
        state="received",
    )


def right_values() -> dict[str, str]:
    """Demo patient 1, pair 1, exactly as ordered: frame sizes and lens powers."""
    return {
        "m-lens_width-R": "48",
        "m-lens_width-L": "48",
        "m-distance_between_lenses-one": "18",
        "m-head_width-one": "143",
        "m-sphere-R": "+1.75",
        "m-cylinder-R": "-0.50",
        "m-axis-R": "90",
        "m-sphere-L": "+2.00",
        "m-cylinder-L": "-0.25",
        "m-axis-L": "85",
    }

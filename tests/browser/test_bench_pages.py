"""The bench's pages on a tablet: axe finds nothing, nothing runs over the edge, every box takes a thumb."""

import pytest

from app.records.accounts import list_accounts
from app.records.dispatches import Sending, send_order
from app.records.identity import new_key
from app.records.makers import Maker, save_maker
from app.records.pairs import pair_states, record_pair_event
from app.records.queries import Question, ask
from app.records.receipts import MeasuredValue, WantedDecision, decide_receipt, save_receipt_values
from app.records.worklist import open_fittings, signed_since
from tests.browser.conftest import picture, sign_in
from tests.browser.test_accessibility import faults
from tests.web.bench import right_values


def seeded(practice) -> tuple[str, str]:
    """A signed fitting of the demo practice with everything of the bench on it, and the maker."""
    actor = next(one for one in list_accounts(practice.database) if one.role == "practitioner").actor
    database, fitting = practice.database, signed_since(practice.database, since="2000-01-01")[0].fitting_id
    maker = save_maker(
        database,
        key="bench-maker",
        actor=actor,
        maker=Maker(kind="frame_maker", name="A Bench", wants=("sheet", "drawing"), usual_days=28),
    )
    if pair_states(database, fitting)[1].state.key == "received":
        return fitting, maker
    sending = Sending(fitting_id=fitting, pair=1, version=1, maker_id=maker, way="courier", sent=("sheet",))
    send_order(database, key=new_key(), actor=actor, sending=sending)
    asked = Question(
        fitting_id=fitting,
        pair=1,
        version=1,
        dimension="head_width",
        value="143 mm",
        words="Facial or frame?",
    )
    ask(database, key=new_key(), actor=actor, question=asked)
    place = {"fitting_id": fitting, "pair": 1, "actor": actor}
    for width in (48.2, 48.4, 47.9, 48.6, 48.3, 48.4):
        record_pair_event(database, key=new_key(), state="received", **place)
        wanted = WantedDecision(
            fitting_id=fitting,
            pair=1,
            version=1,
            outcome="return",
            standard="iso",
            reason="too wide",
            document=(
                {
                    "item": "lens_width",
                    "label": "Lens width",
                    "side": "R",
                    "unit": "mm",
                    "ordered": 48.0,
                    "measured": width,
                    "difference": width - 48.0,
                    "tolerance": 0.5,
                    "ruling": "outside" if width > 48.5 else "pass",
                    "outside_by": width - 48.5 if width > 48.5 else None,
                    "source": "agreed",
                    "note": "",
                },
            ),
            differences=1,
            frame_maker=maker,
        )
        decide_receipt(database, key=new_key(), actor=actor, wanted=wanted)
    record_pair_event(database, key=new_key(), state="received", **place)
    typed = {**right_values(), "m-head_width-one": "148", "m-axis-R": "100"}
    values = []
    for name, text in typed.items():
        _, item, side = name.split("-")
        values.append(
            MeasuredValue(item=item, side=side if side in "RL" else None, value=float(text), text=text)
        )
    save_receipt_values(database, key=new_key(), values=values, **place)
    return fitting, maker


PAGES = (
    *(
        "orders/1",
        "orders/1/bench",
        "orders/1/receipt",
        "orders/1/collection",
        "exports",
        "prescription-import",
    ),
)


@pytest.mark.parametrize("tablet", ["portrait", "landscape"], indirect=True)
def test_the_pages_of_the_bench_are_accessible_and_fit_the_tablet(tablet, practice):
    fitting, maker = seeded(practice)
    open_one = open_fittings(practice.database)[0].fitting_id
    sign_in(tablet, "Ines Farrow")
    rooms = (
        "/bench",
        "/makers",
        "/makers/new",
        f"/makers/{maker}",
        f"/makers/{maker}/bias",
        "/help/exchange",
    )
    addresses = (
        *(f"/fittings/{fitting}/{page}" for page in PAGES),
        f"/fittings/{open_one}/prescription-import",
        *rooms,
    )
    troubles = []
    for address in addresses:
        answer = tablet.goto(address)
        assert answer.status == 200, f"{address}: {answer.status}"
        troubles += [f"{address}: {one}" for one in faults(tablet)]
        wide = tablet.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
        if wide > 0:
            troubles.append(f"{address}: runs {wide} px over the edge")
        name = address.replace(fitting, "signed").replace(open_one, "open").replace(maker, "one")
        picture(tablet, "bench" + name.replace("/", "-"))
    assert troubles == [], "\n".join(troubles)


@pytest.mark.parametrize("tablet", ["portrait"], indirect=True)
def test_a_prescription_is_read_on_the_page_before_it_is_kept(tablet, practice):
    open_one = open_fittings(practice.database)[0].fitting_id
    sign_in(tablet, "Ines Farrow")
    tablet.goto(f"/fittings/{open_one}/prescription-import")
    tablet.get_by_label("Paste it").fill("OD -2.00 -0.50 x 90 add 2.00; OS -1.75")
    with tablet.expect_navigation():
        tablet.get_by_role("button", name="Read it").tap()
    assert tablet.get_by_text("Nothing is stored yet").is_visible()
    assert faults(tablet) == []
    picture(tablet, "bench-import-read")

"""The manager's pages: each box says its default, source and range; nothing typed is lost or overwritten."""

import re
from dataclasses import fields, replace

import pytest

from app.practice.adjustment_fields import ADJUSTMENT_FIELDS
from app.practice.settings import Adjustments
from app.records.accounts import check_passphrase, list_accounts
from app.records.identity import new_key
from app.records.practice import load_settings, load_settings_version, save_settings
from app.web.rights import RIGHTS
from tests.web.practice import Practice


def sent_back(page: str) -> dict[str, str]:
    """What a browser sends back from a form of text boxes and ticks, untouched."""
    form = dict(re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', page))
    form |= dict(re.findall(r'name="(\w+)" type="text" value="([^"]*)"', page))
    return form | dict(re.findall(r'type="checkbox" id="\w+" name="(\w+)" value="(yes)" checked', page))


def test_every_adjustment_has_its_box_with_default_range_and_source(practice: Practice) -> None:
    page = practice.as_("manager").get("/manage/adjustments").text
    assert {one.key for one in ADJUSTMENT_FIELDS} == {field.name for field in fields(Adjustments)}
    for one in ADJUSTMENT_FIELDS:
        assert f'name="{one.key}"' in page
        assert one.holds(one.default_mm)
        assert one.source in page.replace("&#39;", "'")


def test_an_adjustment_holds_from_then_on(practice: Practice) -> None:
    manager = practice.as_("manager")
    form = sent_back(manager.get("/manage/adjustments").text)
    sent = manager.post("/manage/adjustments", data={**form, "head_width_grip_mm": "10 mm"})
    assert sent.status_code == 303
    assert load_settings(practice.database).adjustments.head_width_grip_mm == 10
    assert practice.app.state.practice.adjustments.head_width_grip_mm == 10


def test_an_empty_box_takes_the_default_and_a_comma_is_a_point(practice: Practice) -> None:
    manager = practice.as_("manager")
    form = sent_back(manager.get("/manage/adjustments").text)
    manager.post("/manage/adjustments", data={**form, "lash_clearance_mm": "1,25", "rim_depth_mm": ""})
    stands = load_settings(practice.database).adjustments
    assert (stands.lash_clearance_mm, stands.rim_depth_mm) == (1.25, 2.0)


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("15", "is outside 0 to 5 mm"),
        ("-1", "is outside 0 to 5 mm"),
        ("one", "is not a number"),
        ("1.2.3", "more than one decimal point"),
        ("0.15 cm", "write it in mm"),
        ("1.234", "at most two decimals"),
    ],
)
def test_an_adjustment_that_cannot_be_meant_is_refused_beside_its_box(
    practice: Practice, typed: str, words: str
) -> None:
    manager = practice.as_("manager")
    form = sent_back(manager.get("/manage/adjustments").text)
    sent = manager.post(
        "/manage/adjustments", data={**form, "lash_clearance_mm": typed, "lug_allowance_mm": "7"}
    )
    assert sent.status_code == 422
    assert sent.text.count(words) == 2, "on top and at the box"
    assert f'value="{typed}"' in sent.text
    assert 'value="7"' in sent.text, "the other boxes keep what was typed"
    assert load_settings(practice.database).adjustments == Adjustments()


def test_two_managers_changing_one_box_see_both_values(practice: Practice) -> None:
    manager = practice.as_("manager")
    form = sent_back(manager.get("/manage/adjustments").text)
    change(practice, head_width_grip_mm=8.0, lug_allowance_mm=9.0)
    sent = manager.post("/manage/adjustments", data={**form, "head_width_grip_mm": "10"})
    assert sent.status_code == 409
    assert "Somebody else set this to “8” meanwhile" in sent.text
    again = sent_back(sent.text)
    assert again["lug_allowance_mm"] == "9", "what the other changed elsewhere is not undone"
    assert manager.post("/manage/adjustments", data=again).status_code == 303
    stands = load_settings(practice.database).adjustments
    assert (stands.head_width_grip_mm, stands.lug_allowance_mm) == (10, 9)


def change(practice: Practice, **values: float) -> None:
    """Another manager changes adjustments."""
    settings, version = load_settings_version(practice.database)
    changed = replace(settings, adjustments=replace(settings.adjustments, **values))
    save_settings(
        practice.database,
        key=new_key(),
        actor=practice.actor("manager"),
        settings=changed,
        base_version=version,
    )


def test_the_practice_keeps_name_telephone_and_ways_of_working(practice: Practice) -> None:
    manager = practice.as_("manager")
    form = sent_back(manager.get("/manage").text)
    assert form["second_reading_blind"] == "yes"
    del form["second_reading_blind"]
    sent = manager.post("/manage", data={**form, "name": "Pellwick Quay", "telephone": "01632 960 100"})
    assert sent.status_code == 303
    stands = load_settings(practice.database)
    assert (stands.name, stands.telephone, stands.second_reading_blind) == (
        "Pellwick Quay",
        "01632 960 100",
        False,
    )


@pytest.mark.parametrize(
    ("box", "typed", "words"),
    [
        ("name", "", "Name of the practice: please fill this in"),
        ("telephone", "12", "is not a telephone number"),
        ("prescription_ask_days", "two years", "a whole number of days from 30 to 1827"),
        ("measurement_ask_days", "0", "a whole number of days from 1 to 366"),
        ("measurement_ask_days", "30.5", "a whole number of days from 1 to 366"),
    ],
)
def test_what_cannot_be_a_setting_is_said_and_not_stored(
    practice: Practice, box: str, typed: str, words: str
) -> None:
    manager = practice.as_("manager")
    form = sent_back(manager.get("/manage").text)
    sent = manager.post("/manage", data={**form, box: typed})
    assert sent.status_code == 422
    assert words in sent.text
    assert load_settings_version(practice.database)[1] == 0


def test_a_step_moves_and_is_left_out_and_comes_back(practice: Practice) -> None:
    manager = practice.as_("manager")
    assert move(manager, "up:head") == 303
    order = load_settings(practice.database).step_order
    assert order.index("head") == order.index("sides") - 1
    move(manager, "leave_out:pupils_and_lids")
    assert load_settings(practice.database).steps_left_out == ("pupils_and_lids",)
    move(manager, "take_in:pupils_and_lids")
    assert load_settings(practice.database).steps_left_out == ()
    move(manager, "usual")
    assert load_settings(practice.database).step_order == ()


@pytest.mark.parametrize(
    "wish", ["leave_out:review", "up:person", "down:orders", "up:nowhere", "sideways:head", ""]
)
def test_the_first_and_last_steps_stay_where_they_are(practice: Practice, wish: str) -> None:
    assert move(practice.as_("manager"), wish) == 303
    assert load_settings_version(practice.database)[1] == 0


def move(manager: object, wish: str) -> int:
    """Tap a button on the page of steps."""
    answer = manager.post("/manage/steps", data={"key": new_key(), "move": wish})  # type: ignore[attr-defined]
    return int(answer.status_code)


NEWCOMER = {
    "name": "Ana Ruiz",
    "sign_in": "ana",
    "role": "practitioner",
    "registration": "D-00733",
    "passphrase": "four words in a row",
    "passphrase_again": "four words in a row",
}


def test_an_account_is_added_and_can_sign_in(practice: Practice) -> None:
    sent = practice.as_("manager").post("/manage/accounts", data={"key": new_key(), **NEWCOMER})
    assert sent.status_code == 303
    account = check_passphrase(practice.database, "Ana", "four words in a row")
    assert account is not None
    assert (account.name, account.role, account.registration) == ("Ana Ruiz", "practitioner", "D-00733")


@pytest.mark.parametrize(
    ("box", "typed", "words"),
    [
        ("name", "", "Name: please fill this in"),
        ("sign_in", "wren calder", "already. Choose another name."),
        ("role", "", "Role: choose one."),
        ("role", "king", "Role: choose one."),
        ("registration", "", "registration number is needed"),
        ("passphrase", "short", "8 to 200 characters"),
        ("passphrase_again", "four words in row", "The two passphrases differ"),
    ],
)
def test_an_account_that_lacks_something_is_not_made(
    practice: Practice, box: str, typed: str, words: str
) -> None:
    sent = practice.as_("manager").post("/manage/accounts", data={"key": new_key(), **NEWCOMER, box: typed})
    assert sent.status_code == 422
    assert words in sent.text
    assert "four words" not in sent.text.replace("four words are good", "").replace(
        "four words in a row are good", ""
    ), "a passphrase is never sent back"
    assert len(list_accounts(practice.database)) == 4


def test_a_closed_account_is_signed_out_at_once(practice: Practice) -> None:
    desk = practice.as_("receptionist")
    account = practice.actor("receptionist").account
    assert desk.get("/desk").status_code == 200
    practice.as_("manager").post(f"/manage/accounts/{account}", data={"active": "no"})
    assert desk.get("/desk").status_code == 303
    assert desk.get("/desk").headers["location"].startswith("/sign-in")


def test_the_last_manager_cannot_lock_everybody_out(practice: Practice) -> None:
    account = practice.actor("manager").account
    sent = practice.as_("manager").post(f"/manage/accounts/{account}", data={"active": "no"})
    assert sent.status_code == 403
    assert practice.as_("manager").get("/manage").status_code == 200


@pytest.mark.parametrize("role", ["practitioner", "assistant", "receptionist"])
@pytest.mark.parametrize(
    "address", ["/manage", "/manage/adjustments", "/manage/steps", "/manage/accounts", "/manage/rights"]
)
def test_nobody_else_manages(practice: Practice, role: str, address: str) -> None:
    assert practice.as_(role).get(address).status_code == 403


def test_the_table_of_rights_is_the_one_that_the_pages_use(practice: Practice) -> None:
    page = practice.as_("manager").get("/manage/rights").text.replace("&#39;", "'")
    for _, words in RIGHTS.values():
        assert words in page

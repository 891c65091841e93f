"""Hands that are faster than the network, and instruments that type: no digit is lost, none lands elsewhere."""

import time

from tests.browser.conftest import sign_in, until
from tests.browser.test_whole_fitting import Finger, new_fitting

SIDES = ["9", "10", "101", "102", "45", "45"]
BOXES = [
    "side_angle.R",
    "side_angle.L",
    "length_to_tangent.R",
    "length_to_tangent.L",
    "drop_angle.R",
    "drop_angle.L",
]


def slow_network(page, seconds: float) -> None:
    """Every stored reading takes so much longer to be answered."""

    def hold(route) -> None:
        time.sleep(seconds)
        route.continue_()

    page.route("**/readings", hold)


def burst(page, text: str) -> None:
    """What an instrument types: 8 ms from key to key by the keyboard's own clock, however busy the machine is."""
    keyboard = page.context.new_cdp_session(page)
    moment = time.time()
    for count, character in enumerate(text):
        enter = character == "\n"
        keyboard.send(
            "Input.dispatchKeyEvent",
            {
                "type": "keyDown",
                "key": "Enter" if enter else character,
                "text": "\r" if enter else character,
                "timestamp": moment + 0.008 * count,
            },
        )
    keyboard.detach()


def shown(page, box: str) -> str:
    return page.locator(f'[id="box-{box}"] .box-value').inner_text()


def test_bursts_one_after_another_fill_one_box_after_another(tablet):
    sign_in(tablet, "Ines Farrow")
    tablet.goto(f"{new_fitting(tablet)}/steps/sides")
    slow_network(tablet, 0.15)

    for value in SIDES:
        burst(tablet, f"{value}\n")

    until(
        tablet, "document.querySelector('[id=\"box-drop_angle.L\"] .box-value').innerText.includes('45')", 8
    )
    assert [shown(tablet, box) for box in BOXES] == SIDES


def test_pad_taps_made_while_a_reading_is_stored_wait_their_turn(tablet):
    sign_in(tablet, "Ines Farrow")
    tablet.goto(f"{new_fitting(tablet)}/steps/head")
    slow_network(tablet, 0.3)
    for digit in "148":
        tablet.locator(f'#pad [data-type="{digit}"]').tap()
    tablet.locator(".keep").tap()

    for digit in "137":
        tablet.locator(f'#pad [data-type="{digit}"]').tap()

    until(tablet, "document.querySelector('#entry').value === '137'")
    assert shown(tablet, "head_width") == "148"
    assert tablet.locator("#entry-form [name=box]").input_value() == "temple_width"


def test_the_pad_stays_where_the_finger_knows_it(tablet):
    sign_in(tablet, "Ines Farrow")
    tablet.goto(f"{new_fitting(tablet)}/steps/angles")
    finger, places = Finger(tablet), []

    for box, value in [("frontal_angle.R", "22"), ("frontal_angle.L", "23"), ("splay_angle.R", "27")]:
        pad, keep = (
            tablet.locator('#pad [data-type="1"]').bounding_box(),
            tablet.locator(".keep").bounding_box(),
        )
        places.append((round(pad["y"]), round(pad["x"]), round(keep["y"])))
        finger.read(box, value)

    assert len(set(places)) == 1, places


def test_keys_after_a_tap_on_the_pad_go_to_the_armed_box(tablet):
    sign_in(tablet, "Ines Farrow")
    tablet.goto(f"{new_fitting(tablet)}/steps/head")
    tablet.locator('#pad [data-type="1"]').tap()
    tablet.locator('#pad [data-deed="clear"]').tap()

    burst(tablet, "148\n")

    until(tablet, "document.querySelector('[id=\"box-head_width\"] .box-value').innerText.includes('148')")


def test_an_instrument_that_types_into_the_note_is_put_where_it_belongs(tablet):
    sign_in(tablet, "Ines Farrow")
    tablet.goto(f"{new_fitting(tablet)}/steps/head")
    tablet.get_by_text("Note, how…").tap()
    tablet.locator("#note").fill("hair thick ")
    tablet.locator("#note").press("End")

    burst(tablet, "148\n")

    until(tablet, "document.querySelector('[id=\"box-head_width\"] .box-value').innerText.includes('148')")
    tablet.goto(tablet.url + "?box=head_width")
    assert "note: hair thick" in tablet.content()
    assert "thick 148" not in tablet.content()


def test_a_number_meant_for_the_next_box_is_not_taken_as_a_repeat_where_the_first_is_asked_about(tablet):
    sign_in(tablet, "Ines Farrow")
    tablet.goto(f"{new_fitting(tablet)}/steps/bridge_widths")
    Finger(tablet).read("bridge_width_10", "23.5")
    slow_network(tablet, 0.2)

    burst(tablet, "19.5\n")
    burst(tablet, "24\n")

    until(tablet, "!document.querySelector('#connection').hidden")
    assert "“24” was typed meanwhile" in tablet.locator("#connection").inner_text()
    assert shown(tablet, "bridge_width_15") == "19.5"


def test_a_half_typed_number_is_kept_when_another_box_is_tapped(tablet):
    sign_in(tablet, "Ines Farrow")
    base = new_fitting(tablet)
    tablet.goto(f"{base}/steps/head")
    for digit in "148":
        tablet.locator(f'#pad [data-type="{digit}"]').tap()

    tablet.locator('[id="box-head_height"]').tap()
    until(tablet, "document.querySelector('#entry-form [name=box]').value === 'head_height'")
    assert "Head width “148”" in tablet.locator(".entry-slot").inner_text()
    tablet.get_by_text("Head width “148”").tap()

    until(tablet, "document.querySelector('#entry').value === '148'")


def test_what_the_assistant_enters_appears_by_itself_and_leaves_the_half_typed_number(
    tablet, practice, chromium
):
    sign_in(tablet, "Ines Farrow")
    base = new_fitting(tablet)
    tablet.goto(f"{base}/steps/head?box=head_height")
    tablet.locator('#pad [data-type="1"]').tap()
    other = chromium.new_context(
        viewport={"width": 820, "height": 1180}, has_touch=True, base_url=practice.address
    )
    page = other.new_page()
    sign_in(page, "Tobi Marsh")
    page.goto(f"{base}/steps/head?box=head_width")

    Finger(page).read("head_width", "148")

    until(tablet, "document.querySelector('[id=\"box-head_width\"]').innerText.includes('148')", 6)
    assert "proposed by Tobi Marsh" in tablet.locator('[id="box-head_width"]').inner_text()
    assert tablet.locator("#entry").input_value() == "1"
    other.close()

"""The page “What it becomes” on a tablet: all on one screen, and it follows the finger."""

from tests.browser.conftest import picture, sign_in, until


def open_pair(tablet, practice, pair: int = 1) -> None:
    from app.records.worklist import open_fittings

    sign_in(tablet, "Ines Farrow")
    fitting = open_fittings(practice.database)[0].fitting_id
    tablet.goto(f"/fittings/{fitting}/specification/{pair}")


def test_the_page_fits_the_screen_without_scrolling_sideways_or_down(tablet, practice) -> None:
    open_pair(tablet, practice)

    picture(tablet, "what-it-becomes")
    assert tablet.evaluate("document.documentElement.scrollWidth <= innerWidth")
    assert tablet.evaluate("document.documentElement.scrollHeight <= innerHeight")
    assert tablet.evaluate(
        "[...document.querySelectorAll('.becomes-sizes')].every((one) => one.scrollWidth <= one.clientWidth)"
    )
    box = tablet.locator("svg.front").bounding_box()
    assert box["width"] > 300
    assert box["height"] > 120


def test_a_width_tapped_in_the_table_is_drawn_at_once_and_offered_to_be_kept(tablet, practice) -> None:
    open_pair(tablet, practice)
    outline = tablet.locator(".lens-outline").first.get_attribute("d")

    width = tablet.locator(".sizes button").first.inner_text()
    tablet.locator(".sizes button").first.tap()
    until(tablet, f"document.querySelector('.size-chosen .size-width').textContent.startsWith('{width}')")
    assert tablet.locator(".lens-outline").first.get_attribute("d") != outline
    assert tablet.get_by_role("button", name="Keep these sizes").is_visible()
    assert width not in tablet.url.rpartition("/fittings/")[2].partition("/")[2]


def test_a_size_typed_is_drawn_when_the_box_is_left(tablet, practice) -> None:
    open_pair(tablet, practice)
    outline = tablet.locator(".lens-outline").first.get_attribute("d")

    box = tablet.get_by_label("Lens height")
    box.fill("30")
    box.blur()
    until(tablet, "document.querySelector('.tried') !== null")
    assert tablet.locator(".lens-outline").first.get_attribute("d") != outline


def test_what_is_kept_is_there_when_the_page_is_opened_again(tablet, practice) -> None:
    open_pair(tablet, practice)
    box = tablet.get_by_label("Line above lid")
    was = box.input_value()
    box.fill("3" if was != "3" else "2")
    box.blur()
    until(tablet, "document.querySelector('.tried') !== null")

    tablet.get_by_role("button", name="Keep these sizes").tap()
    until(tablet, "document.querySelector('.tried') === null")
    tablet.reload()
    assert tablet.get_by_label("Line above lid").input_value() != was


def test_axe_finds_nothing_on_either_view(tablet, practice) -> None:
    from tests.browser.test_accessibility import faults

    for query in ("", "?part=dimensions"):
        open_pair(tablet, practice)
        if query:
            tablet.goto(tablet.url + query)
        assert faults(tablet) == []

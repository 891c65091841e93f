"""Every page, looked at by axe-core 4.14.1 (Deque Systems, MPL-2.0): it finds nothing."""

import hashlib
from pathlib import Path

import pytest

from app.catalogue.catalogue import STEPS
from app.records.search import find_people
from app.records.worklist import open_fittings, signed_since
from app.web.screens import screens_of
from tests.browser.conftest import picture, sign_in

VENDOR = Path(__file__).resolve().parent / "vendor"
AXE = VENDOR / "axe-4.14.1.min.js"
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
SCRIPT = """async rules => {
  const found = await axe.run(document, { runOnly: rules });
  const pieces = one => one.nodes.slice(0, 3).map(node => node.html.slice(0, 120));
  return found.violations.map(one => one.id + ': ' + pieces(one).join(' | '));
}"""


def test_the_vendored_axe_is_the_one_that_was_checked():
    wanted, name = (VENDOR / "SHA256SUMS").read_text(encoding="utf-8").split()

    assert name == AXE.name
    assert hashlib.sha256(AXE.read_bytes()).hexdigest() == wanted


def faults(page) -> list[str]:
    """What axe has against the page as it stands."""
    page.evaluate(AXE.read_text(encoding="utf-8"))
    return page.evaluate(SCRIPT, RULES)


def addresses(practice) -> dict[str, list[str]]:
    """Every page, by who opens it."""
    fitting = open_fittings(practice.database)[0].fitting_id
    signed = signed_since(practice.database, since="2000-01-01")[0].fitting_id
    person = find_people(practice.database, "Solano")[0].person_id
    steps = [
        f"/fittings/{fitting}/steps/{step.key}?part={screen.key}"
        for step in STEPS
        if step.key not in ("review", "orders")
        for screen in screens_of(step)
    ]
    chair = ["overview", "review", "compare", "orders/1", "orders/2"]
    helps = ["/help", "/help/measurements/head_width", "/help/checks", "/help/checks/head-temple-width"]
    return {
        "Ines Farrow": [
            "/",
            "/people/new",
            f"/people/{person}",
            *steps,
            *(f"/fittings/{fitting}/{page}" for page in chair),
            *(f"/fittings/{signed}/{page}" for page in chair),
            f"/fittings/{signed}/steps/head",
            "/blank-form",
            *helps,
            "/help/rights",
            "/help/expected",
            f"/fittings/{fitting}/steps/head?box=head_circumference",
            f"/fittings/{fitting}/steps/head?box=head_height&after=head_circumference",
            "/help/sources",
        ],
        "Tobi Marsh": ["/", f"/fittings/{fitting}/steps/head", f"/fittings/{fitting}/steps/bridge_widths"],
        "Wren Calder": ["/desk", f"/desk/people/{person}", f"/people/{person}"],
        "Hale Osborn": [
            "/manage",
            "/manage/accounts",
            "/manage/adjustments",
            "/manage/steps",
            "/manage/expected",
            "/manage/rights",
        ],
    }


@pytest.mark.parametrize("tablet", ["portrait", "landscape"], indirect=True)
@pytest.mark.parametrize("name", ["Ines Farrow", "Tobi Marsh", "Wren Calder", "Hale Osborn"])
def test_axe_finds_nothing_on_any_page(tablet, practice, name: str):
    tablet.goto("/sign-in")
    found = {"/sign-in": faults(tablet)}
    sign_in(tablet, name)
    for address in addresses(practice)[name]:
        answer = tablet.goto(address)
        assert answer.status == 200, f"{address}: {answer.status}"
        found[address] = faults(tablet)
        picture(tablet, "page" + address.split("?")[0].replace("/", "-")[-40:])

    faulty = [f"{address}: {problem}" for address, problems in found.items() for problem in problems]
    assert faulty == [], "\n".join(faulty)

"""Everything that leaves the practice for one fitting: names, sameness, and what cannot be written.

The names of the files: the fitting file's own description of `papers`.
"""

import json

import ezdxf
import pytest

from app.documents.papers import Wanted, papers
from app.practice.settings import PracticeSettings
from tests.documents.made import HANDMADE, fitting_of

OF_A_PAIR = (
    "front.svg",
    "front.dxf",
    "bridge.svg",
    "sides.svg",
    "lens.svg",
    "order.pdf",
    "label.pdf",
    "lab.txt",
)
NAMES = {f"pair-{number}-{name}" for number in (1, 2) for name in OF_A_PAIR} | {
    "record.pdf",
    "prescription.json",
}


def written(fitting) -> dict[str, bytes | None]:
    return {one.name: one.content for one in papers(Wanted(fitting=fitting, settings=PracticeSettings()))}


@pytest.mark.parametrize("name", HANDMADE)
def test_every_paper_of_every_demo_patient_is_written_and_twice_the_same(name: str) -> None:
    first, second = written(fitting_of(name)), written(fitting_of(name))
    assert set(first) == NAMES
    assert all(first.values())
    assert first == second


def test_what_cannot_be_written_names_what_is_missing() -> None:
    made = list(papers(Wanted(fitting=fitting_of(without=("crest_height",)), settings=PracticeSettings())))
    refused = {one.name: one.why_not for one in made if one.content is None}
    assert set(refused) == {"pair-1-front.svg", "pair-1-front.dxf", "pair-1-bridge.svg", "pair-2-bridge.svg"}
    assert all("missing: Crest height" in why for why in refused.values())
    assert {one.name for one in made} == NAMES


def test_a_pair_of_which_nothing_is_chosen_still_gets_its_order_sheet() -> None:
    fitting = fitting_of(
        lens_width=None,
        lens_height=None,
        distance_between_lenses=None,
        outline=None,
        longest_diameter_mm=None,
    )
    found = written(fitting)
    assert found["pair-1-order.pdf"]
    assert found["pair-1-front.dxf"] is None


def test_a_tracing_that_cannot_be_read_stops_only_what_is_drawn_by_it() -> None:
    made = list(
        papers(
            Wanted(fitting=fitting_of(tracing="TRCFMT=1;40;E;R;F\nR=2400;2400"), settings=PracticeSettings())
        )
    )
    refused = {one.name: one.why_not for one in made if one.content is None}
    assert set(refused) == {"pair-1-front.svg", "pair-1-front.dxf", "pair-1-lens.svg"}
    assert all("line 1: The header announces 40 radii, 2 came" in why for why in refused.values())


def test_machine_files_can_be_read_by_machines(tmp_path) -> None:
    found = written(fitting_of())
    place = tmp_path / "front.dxf"
    place.write_bytes(found["pair-1-front.dxf"] or b"")
    assert len(ezdxf.readfile(place).modelspace().query('LWPOLYLINE[layer=="LENS"]')) == 2
    bundle = json.loads(found["prescription.json"] or b"")
    assert bundle["resourceType"] == "Bundle"
    assert (found["pair-1-lab.txt"] or b"").count(b"TRCFMT=") == 2, "an outline for each lens"

"""A lens as it would be made, for the checks that look at what a choice leads to."""

from dataclasses import dataclass

from app.catalogue.measurement import Side
from app.frame.lens_body import LensBody, NoLensBody, lens_body
from app.frame.lens_order import planned_lens
from app.frame.lens_outline import LensOutline, lens_outline
from app.frame.ordered_centration import decentration_of
from app.frame.ordered_heights import optical_centre_up
from app.frame.ordered_worksheet import Worksheet
from app.plausibility.facts import Facts
from app.plausibility.pair_facts import PairFacts


@dataclass(frozen=True, slots=True, kw_only=True)
class MadeLens:
    """Outline and body of one lens, with the worksheet they came from."""

    sheet: Worksheet
    outline: LensOutline
    body: LensBody | NoLensBody
    ordered: bool
    """True where everything that a lab needs was there, so that a missing body means that it cannot be made."""


def made_lens(facts: Facts, pair: PairFacts, side: Side) -> MadeLens:
    """The lens of one side; worked out once for each judging, without uncertainties, which no check asks for."""
    key = (pair.number, side)
    if key not in facts.made:
        fellow: MadeLens | None = facts.made.get((pair.number, "L" if side == "R" else "R"))
        facts.made[key] = _make(pair.sheet if fellow is None else fellow.sheet, side)
    found: MadeLens = facts.made[key]
    return found


def _make(sheet: Worksheet, side: Side) -> MadeLens:
    outline = lens_outline(sheet)
    inward, upward = decentration_of(sheet, side), optical_centre_up(sheet, side)
    body = lens_body(sheet, side, outline, inward=inward, upward=upward, bare=True)
    known = inward.value is not None and upward.value is not None and outline.right_mm is not None
    return MadeLens(
        sheet=sheet,
        outline=outline,
        body=body,
        ordered=known and planned_lens(sheet, side).order is not None,
    )

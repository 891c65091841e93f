"""The smallest blank as ordered: exactly from the outline where the shape is known, else by the usual rule."""

import numpy as np

from app.catalogue.measurement import SIDES, Side
from app.fitting.entry import show_number
from app.frame.lens_order import EYES
from app.frame.lens_outline import LensOutline
from app.frame.needed import Needed, Samples, simulated
from app.frame.ordered_centration import decentration_of
from app.frame.ordered_dimension import OrderedDimension
from app.frame.ordered_heights import optical_centre_up
from app.frame.ordered_line import ordered_line
from app.frame.ordered_worksheet import Worksheet, once
from app.optics.eye import nasal_sign
from app.reference.bibliography import COMMON_PRACTICE

EXACT_BASIS = "twice the longest way from the centration point to the edge, and the edging allowance"
EXACT_SOURCE = "geometry of the outline"
RULE_SOURCE = f"{COMMON_PRACTICE}, rule of the smallest blank"
PLACES = np.linspace(-5, 5, 21)
"""Places of the centration point, in standard deviations, between which the way to the edge is a straight line."""


def blank_dimensions(sheet: Worksheet, outline: LensOutline) -> tuple[OrderedDimension, ...]:
    """The smallest blank of both lenses."""
    lines = []
    for side in SIDES:
        needed, basis, source = smallest_blank(sheet, side, outline)
        lines.append(
            ordered_line(
                needed,
                dimension="smallest_blank",
                label="Smallest blank",
                group="lenses",
                unit="mm",
                side=side,
                basis=basis,
                source=source,
                reference_line="Diameter of the uncut lens",
            )
        )
    return tuple(lines)


def smallest_blank(sheet: Worksheet, side: Side, outline: LensOutline) -> tuple[Needed, str, str]:
    """The smallest blank, its basis in words and its source.

    A shape that is only assumed from three sizes is left to the rule, which is never too small.
    """
    shape = outline.right_mm if side == "R" else outline.left_mm
    inward, upward = decentration_of(sheet, side), optical_centre_up(sheet, side)
    if shape is None or outline.assumed or upward.value is None:
        allowance = show_number(sheet.adjustments.edging_allowance_mm)
        basis = f"longest diameter, twice the decentration and {allowance} for edging"
        return smallest_blank_of(sheet, side), basis, RULE_SOURCE
    allowance_mm, sign = sheet.adjustments.edging_allowance_mm, nasal_sign(EYES[side])
    if inward.value is None:
        return simulated("Smallest blank", lambda at: at, inward), EXACT_BASIS, EXACT_SOURCE
    at = inward.value + PLACES * max(inward.standard, 1e-6)
    ways = np.hypot(shape[:, 0] - sign * at[:, None], shape[:, 1] - upward.value).max(axis=1)

    def from_outline(place: Samples | float) -> Samples | float:
        return np.asarray(2 * np.interp(place, at, ways) + allowance_mm)

    return simulated("Smallest blank", from_outline, inward), EXACT_BASIS, EXACT_SOURCE


@once
def smallest_blank_of(sheet: Worksheet, side: Side) -> Needed:
    """Smallest blank by the usual rule: longest diameter, twice the decentration, edging allowance.

    It holds for a round lens, else overstates. Source: as for `optics.boxed_system.smallest_blank_by_rule`.
    """
    decentration = decentration_of(sheet, side)
    longest = Needed(
        name=f"Longest diameter of the lens, pair {sheet.pair.pair}",
        value=sheet.pair.longest_diameter_mm,
        count=0,
    )
    allowance = sheet.adjustments.edging_allowance_mm

    def by_rule(inward: Samples | float, diameter: Samples | float) -> Samples | float:
        return np.asarray(diameter + 2 * np.abs(inward) + allowance)

    return simulated("Smallest blank", by_rule, decentration, longest)

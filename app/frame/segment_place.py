"""The segment of a bifocal or trifocal: its place on the lens, its optics, and what both do when reading."""

from app.catalogue.measurement import SIDES, Side
from app.fitting.pair import Segment as ChosenSegment
from app.frame.lens_order import power_of
from app.frame.ordered_centration import SEGMENT_FORMS
from app.frame.ordered_heights import segment_top_of
from app.frame.ordered_worksheet import Worksheet
from app.optics.differential_prism import NearImbalance, NearPortion, near_imbalance
from app.optics.refusal import NotPossible
from app.optics.segment import Segment, executive_segment, round_segment, segment_from_words

WORDS = {"D": "D", "R": "round", "E": "executive"}
"""Trade words of the segment shapes whose own optical centre is known; a curved top has no one depth."""


def segment_optics(chosen: ChosenSegment) -> Segment | None:
    """The segment with its own optical centre; None where shape and diameter alone do not tell it."""
    if chosen.shape == "E":
        return executive_segment()
    try:
        if chosen.shape == "R":
            return round_segment(chosen.diameter)
        return segment_from_words(f"{WORDS.get(chosen.shape, chosen.shape)} {chosen.diameter:g}")
    except NotPossible:
        return None


def pair_imbalance(sheet: Worksheet) -> NearImbalance | None:
    """Vertical prism between the eyes at the practice's reading level, prism dioptres; None where unknown.

    Segments are counted where both their places and their optics are known; otherwise the distance powers alone,
    which is right where the two segments are alike.
    """
    prescription = sheet.fitting.prescription_for(sheet.pair)
    eyes = [None if prescription is None else prescription.eye(side) for side in SIDES]
    powers = [None if eye is None else power_of(eye) for eye in eyes]
    right, left = powers
    if right is None or left is None or not sheet.pair.multifocal:
        return None
    level = sheet.adjustments.reading_level_mm
    portions = [_portion(sheet, side) for side in SIDES]
    if any(one is None for one in portions):
        return near_imbalance(right=right, left=left, level_mm=level)
    return near_imbalance(
        right=right, left=left, level_mm=level, right_portion=portions[0], left_portion=portions[1]
    )


def _portion(sheet: Worksheet, side: Side) -> NearPortion | None:
    prescription, chosen = sheet.fitting.prescription_for(sheet.pair), sheet.pair.segment
    eye = None if prescription is None else prescription.eye(side)
    if chosen is None or eye is None or not eye.add or sheet.pair.lens_form not in SEGMENT_FORMS:
        return None
    segment, top = segment_optics(chosen), segment_top_of(sheet, side)
    if segment is None or top.value is None:
        return None
    return NearPortion(segment=segment, addition_d=eye.add, top_below_centre_mm=-top.value)

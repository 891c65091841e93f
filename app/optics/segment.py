"""Segments of multifocals: their optical centres, image jump, and sizes that remove an imbalance."""

import re
from dataclasses import dataclass

from app.optics.refusal import NotPossible, require_positive


@dataclass(frozen=True, slots=True)
class Segment:
    """A segment by trade word, with the distance in mm from its top to its own optical centre."""

    shape: str
    optical_centre_below_top_mm: float


def round_segment(diameter_mm: float) -> Segment:
    """A round segment: its optical centre lies one radius below its top (geometry).

    >>> round_segment(22).optical_centre_below_top_mm
    11.0
    """
    require_positive(diameter_mm, "The segment diameter in mm")
    return Segment("round", diameter_mm / 2)


def flat_top_segment(*, width_mm: float, depth_mm: float) -> Segment:
    """A flat-top (D) segment.

    Its optical centre lies below the top by depth - half the width (geometry of a cut circle).
    Source of the example: D 28 x 19 at
    http://online.flipbuilder.com/oqxun/fxeq/files/basic-html/page124.html (5 mm).

    >>> flat_top_segment(width_mm=28, depth_mm=19).optical_centre_below_top_mm
    5.0
    """
    require_positive(width_mm, "The segment width in mm")
    if not width_mm / 2 <= depth_mm <= width_mm:
        raise NotPossible(
            f"A flat-top segment {width_mm:g} wide is from {width_mm / 2:g} to {width_mm:g} mm deep."
        )
    return Segment("flat top", depth_mm - width_mm / 2)


def executive_segment() -> Segment:
    """A full-width segment: its optical centre lies on the dividing line (common trade knowledge)."""
    return Segment("executive", 0.0)


FLAT_TOP_28_CENTRE_MM = 5.0  # D or flat top 28, when no depth is given (https://nbeopart2.com/image-jump/)


def segment_from_words(words: str) -> Segment:
    """The segment meant by trade words.

    Understood are "round 22", "D 28x19", "FT28", "executive", or with "OC 5 mm below top".
    An optical centre written out wins over the shape. Sizes in mm. Raises NotPossible for words not
    understood.

    >>> segment_from_words("round 24")
    Segment(shape='round', optical_centre_below_top_mm=12.0)
    >>> segment_from_words("FT28 OC 5 mm below top")
    Segment(shape='flat top', optical_centre_below_top_mm=5.0)
    """
    text = words.strip().lower()
    sizes = [float(size) for size in re.findall(r"\d+(?:\.\d+)?", text.split("oc")[0])]
    shape = _shape_named(text)
    centre = re.search(r"oc\s*(?:is\s*)?(\d+(?:\.\d+)?)", text)
    if centre and shape:
        return Segment(shape, float(centre.group(1)))
    if shape == "executive":
        return executive_segment()
    if shape == "round" and sizes:
        return round_segment(sizes[0])
    if shape == "flat top" and len(sizes) > 1:
        return flat_top_segment(width_mm=sizes[0], depth_mm=sizes[1])
    if shape == "flat top" and sizes == [28]:
        return Segment(shape, FLAT_TOP_28_CENTRE_MM)
    raise NotPossible(f"No segment is meant by “{words}”; write for example round 22 or D 28x19.")


def _shape_named(text: str) -> str:
    """The shape that the words begin with, or nothing."""
    if text.startswith(("exec", "e-line", "full width")):
        return "executive"
    if text.startswith(("round", "r ")) or re.match(r"r\d", text):
        return "round"
    if text.startswith(("flat", "ft", "st", "d ", "d-")) or re.match(r"d\d", text):
        return "flat top"
    return ""


def image_jump(*, segment: Segment, addition_d: float) -> float:
    """Sudden prism at the segment top in prism dioptres, base down.

    Segment top to segment centre in cm x addition (dioptres).
    It does not depend on the distance power. Source: round 24, addition 2.00: 2.4 at
    http://online.flipbuilder.com/oqxun/fxeq/files/basic-html/page124.html.

    >>> round(image_jump(segment=round_segment(24), addition_d=2), 3)
    2.4
    """
    return segment.optical_centre_below_top_mm / 10 * addition_d


def unequal_round_segments(
    *, imbalance_prism_dioptres: float, addition_d: float, nominal_diameter_mm: float
) -> tuple[float, float]:
    """Diameters in mm of the smaller and the larger round segment that take out a vertical imbalance at near.

    Their difference is 20 P / addition (P prism dioptres, addition dioptres). The smaller one, whose centre
    lies higher, goes before the eye with more base down.
    Source: http://online.flipbuilder.com/oqxun/fxeq/files/basic-html/page131.html (0.8, addition 3, 20:
    17.34, 22.66).

    >>> [round(d, 1) for d in unequal_round_segments(
    ...     imbalance_prism_dioptres=0.8, addition_d=3, nominal_diameter_mm=20)]
    [17.3, 22.7]
    """
    require_positive(addition_d, "The addition in D")
    half_difference_mm = 10 * abs(imbalance_prism_dioptres) / addition_d
    if half_difference_mm >= nominal_diameter_mm:
        raise NotPossible("No pair of round segments takes out that much imbalance with this addition.")
    return nominal_diameter_mm - half_difference_mm, nominal_diameter_mm + half_difference_mm

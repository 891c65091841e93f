"""The bridge as ordered: widths, angles, projection, radius and height of the crest."""

from app.catalogue.measurement import SIDES
from app.fitting.entry import show_number
from app.frame.ordered_dimension import OrderedDimension, above_centre_line, signed_words
from app.frame.ordered_worksheet import Needed, Worksheet, adjusted
from app.reference.bibliography import COMMON_PRACTICE


def bridge_dimensions(sheet: Worksheet) -> tuple[OrderedDimension, ...]:
    """The bridge of a frame to be made. Widths, angles and radius go to the bench as measured.

    Source: common practice in handmade frame making.
    """
    widths = [adjusted(sheet.face(key), measurement=key, group="bridge") for key in WIDTHS]
    angles = [
        adjusted(sheet.face(key, side), measurement=key, group="bridge", side=side)
        for key in ("frontal_angle", "splay_angle")
        for side in SIDES
    ]
    crest = [
        adjusted(sheet.face(key), measurement=key, group="bridge") for key in ("apical_radius", "crest_angle")
    ]
    return (*widths, *angles, projection(sheet), *crest, crest_height(sheet))


WIDTHS = ("bridge_width_10", "bridge_width_15")


def projection(sheet: Worksheet) -> OrderedDimension:
    """Projection of the frame: facial projection less the room wanted at the lashes; − is an inset bridge.

    Source: common practice; the clearance is a setting of the practice.
    """
    clearance = sheet.adjustments.lash_clearance_mm
    return adjusted(
        sheet.face("bridge_projection"),
        measurement="bridge_projection",
        group="bridge",
        adjustment=-clearance,
        because=f"less {show_number(clearance)} clearance at the lashes",
        source=COMMON_PRACTICE,
        reference_line="From the back plane of the front to the crest of the bridge; + in front of it",
        words=lambda value: signed_words(value, plus="outset", level="flush", minus="inset"),
    )


def crest_height(sheet: Worksheet) -> OrderedDimension:
    """Height of the crest above the horizontal centre line: facial height less the line's height above the lid.

    Source: plane geometry; the planned height of the line is the pair's, else a setting of the practice.
    """
    line = sheet.centre_line_above_lid_mm
    facial, of_which = _facial_crest_height(sheet)
    return adjusted(
        facial,
        measurement="crest_height",
        group="bridge",
        adjustment=-line,
        because=f"{of_which}less {show_number(line)}, the centre line above the lower lid",
        source=COMMON_PRACTICE,
        reference_line="From the horizontal centre line up to the crest; + above it",
        words=above_centre_line,
    )


def _facial_crest_height(sheet: Worksheet) -> tuple[Needed, str]:
    """The single value, else the mean above both lids: the crest is one point, the lids are two."""
    single = sheet.face("crest_height")
    right, left = (sheet.face("crest_height", side) for side in SIDES)
    if single.value is not None or right.value is None or left.value is None:
        return single, ""
    mean = (right.value + left.value) / 2
    return Needed(name=single.name, value=mean), "mean of right and left lid, "

"""The bridge as ordered: widths, angles, projection, radius and height of the crest."""

from dataclasses import replace
from math import sqrt

from app.catalogue.catalogue import MEASUREMENTS
from app.catalogue.measurement import SIDES, Side
from app.fitting.entry import show_number
from app.frame.bridge_fit import BridgeFit, fit_bridge
from app.frame.needed import Needed, derived
from app.frame.ordered_dimension import OrderedDimension, above_centre_line, signed_words
from app.frame.ordered_line import adjusted, ordered_line, repeats
from app.frame.ordered_worksheet import Worksheet, once
from app.reference.bibliography import COMMON_PRACTICE

WIDTHS = ("bridge_width_10", "bridge_width_15")
CLEAR_OF_CREST = {
    "keyhole": "for the record: a keyhole bears on the flanks, clear of the crest",
    "pad": "for the record: the pads bear, not the crest",
    "pads_on_arms": "for the record: the pads bear, not the crest",
}
"""Bridges whose crest carries nothing, so that radius and angle of the crest are not cut. Common practice."""
FITTED = "fitted together with the other readings of the section"
ROUNDING = "rounding to the step of the scale"
FIT_SOURCE = "weighted least squares over widths, frontal angles and radius"


def bridge_dimensions(sheet: Worksheet) -> tuple[OrderedDimension, ...]:
    """The bridge of a frame to be made. Splay and radius go to the bench as measured, widths and frontal angles
    as the fitted section has them.

    Source: common practice in handmade frame making.
    """
    fit = bridge_fit(sheet)
    widths = [_of_section(sheet, fit, key, None) for key in WIDTHS]
    frontal = [_of_section(sheet, fit, "frontal_angle", side) for side in SIDES]
    splay = [
        adjusted(sheet.face("splay_angle", side), measurement="splay_angle", group="bridge", side=side)
        for side in SIDES
    ]
    clear = CLEAR_OF_CREST.get(sheet.pair.bridge_style or "", "")
    crest = [
        adjusted(sheet.face(key), measurement=key, group="bridge", because=clear)
        for key in ("apical_radius", "crest_angle")
    ]
    return (*widths, *frontal, *splay, projection(sheet), *crest, crest_height(sheet))


@once
def bridge_fit(sheet: Worksheet) -> BridgeFit | None:
    """The section that this sheet's readings describe; None where too few were taken."""
    return fit_bridge(
        upper=sheet.face("bridge_width_10"),
        lower=sheet.face("bridge_width_15"),
        right=sheet.face("frontal_angle", "R"),
        left=sheet.face("frontal_angle", "L"),
        radius=sheet.face("apical_radius"),
    )


def _of_section(
    sheet: Worksheet, fit: BridgeFit | None, measurement: str, side: Side | None
) -> OrderedDimension:
    """One dimension of the section: fitted, to the nearest step of the scale; as measured without a fit."""
    facial = sheet.face(measurement, side)
    fitted = None if fit is None else fit.fitted(measurement, side)
    if facial.value is None or fitted is None or fitted.value is None:
        return adjusted(facial, measurement=measurement, group="bridge", side=side)
    declared = MEASUREMENTS[measurement]
    # a bench works in steps of the scale; a uniform error of one step has the standard deviation step / √12
    step = declared.scale_step
    moved = round((fitted.value - facial.value) / step) * step
    ordered = replace(
        fitted,
        value=facial.value + moved,
        shares={**fitted.shares, ROUNDING: step / sqrt(12)},
    )
    basis = f"as measured {repeats(facial)}".strip()
    return ordered_line(
        ordered,
        dimension=measurement,
        label=declared.label,
        group="bridge",
        unit=declared.unit,
        side=side,
        facial=facial.value,
        adjustment=round(moved, 4),
        basis=basis if moved == 0 else f"{basis}, {FITTED}",
        source=FIT_SOURCE,
        reference_line=declared.reference_line,
    )


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
    facial, of_which = facial_crest_height(sheet)
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


@once
def facial_crest_height(sheet: Worksheet) -> tuple[Needed, str]:
    """The single value, else the mean above both lids: the crest is one point, the lids are two."""
    single = sheet.face("crest_height")
    right, left = (sheet.face("crest_height", side) for side in SIDES)
    if single.value is not None or right.value is None or left.value is None:
        return single, ""
    return derived(single.name, lambda one, other: (one + other) / 2, right, left), (
        "mean of right and left lid, "
    )

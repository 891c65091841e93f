"""Centration of the lenses as ordered: each eye's own distance, decentration, insets and smallest blank."""

from collections.abc import Callable

from app.catalogue.measurement import SIDE_WORDS, SIDES, Side
from app.fitting.entry import show_number
from app.frame.needed import Needed, derived
from app.frame.ordered_dimension import READING_SOURCE, OrderedDimension, signed_words
from app.frame.ordered_front import boxed_centre_distance_of
from app.frame.ordered_line import adjusted, ordered_line
from app.frame.ordered_worksheet import Worksheet, once
from app.optics.boxed_system import monocular_decentration
from app.optics.near_centration import near_pd

NEAR_FORM = "single_vision_near"
INTERMEDIATE_FORM = "single_vision_intermediate"
SEGMENT_FORMS = ("bifocal", "trifocal")
MILLIMETRES_IN_A_CENTIMETRE = 10
BOXED_SYSTEM = "boxed system of ISO 8624"


def centration_dimensions(sheet: Worksheet) -> tuple[OrderedDimension, ...]:
    """Centration of both lenses. A lens without a form is taken for one for distance."""
    lines: list[OrderedDimension] = []
    if sheet.pair.lens_form not in (NEAR_FORM, INTERMEDIATE_FORM):
        lines += [_centration(sheet, side) for side in SIDES]
    if sheet.pair.lens_form == NEAR_FORM or sheet.pair.multifocal:
        lines += [_near_centration(sheet, side) for side in SIDES]
    lines += [_decentration(sheet, side) for side in SIDES]
    if sheet.pair.lens_form in SEGMENT_FORMS:
        lines += [_segment_inset(sheet, side) for side in SIDES]
    return tuple(lines)


@once
def near_centration_of(sheet: Worksheet, side: Side) -> tuple[Needed, str]:
    """Near centration of one eye and how it came about.

    The measured near PD, shared between the eyes as their single-eye PDs are; where it was not measured, the
    single-eye PD × w / (w + s) from the working distance (similar triangles).
    """
    eyes = [sheet.face("pd_monocular", each) for each in SIDES]
    near, away = sheet.face("pd_near"), sheet.face("working_distance")
    own = eyes[SIDES.index(side)]
    name = f"Near centration distance, {SIDE_WORDS[side]}"
    if near.value is not None or away.value is None:
        shared = derived(
            name,
            lambda total, one, right, left: total * one / (right + left) if right + left else 0.0,
            *(near, own, *eyes),
        )
        return shared, "near PD, shared as the single-eye PDs are"
    rotation = sheet.adjustments.centre_of_rotation_mm
    by_distance = derived(
        name,
        lambda one, centimetres: near_pd(
            distance_pd_mm=one,
            object_from_lens_mm=centimetres * MILLIMETRES_IN_A_CENTIMETRE,
            lens_to_rotation_centre_mm=rotation,
        ),
        *(own, away),
    )
    return by_distance, f"single-eye PD at {show_number(away.value)} cm"


@once
def decentration_of(sheet: Worksheet, side: Side) -> Needed:
    """Decentration of one lens, mm, + in, from the centration of its form."""
    return derived(
        "Decentration",
        lambda boxed, own: monocular_decentration(
            boxed_centre_distance_mm=boxed, single_eye_centration_distance_mm=own
        ),
        boxed_centre_distance_of(sheet),
        centred_to(sheet, side),
    )


def centred_to(sheet: Worksheet, side: Side) -> Needed:
    """The single-eye distance to which a lens of this form is centred, mm."""
    if sheet.pair.lens_form == INTERMEDIATE_FORM:
        return Needed(name="Working distance of the lens for in between", value=None)
    if sheet.pair.lens_form == NEAR_FORM:
        return near_centration_of(sheet, side)[0]
    return sheet.face("pd_monocular", side)


def _centration(sheet: Worksheet, side: Side) -> OrderedDimension:
    return adjusted(
        sheet.face("pd_monocular", side),
        measurement="pd_monocular",
        group="lenses",
        dimension="centration",
        label="Centration distance",
        side=side,
        source=READING_SOURCE,
        reference_line="From the middle of the bridge to the centration point",
    )


def _near_centration(sheet: Worksheet, side: Side) -> OrderedDimension:
    needed, basis = near_centration_of(sheet, side)
    return _line(
        needed,
        "near_centration",
        "Near centration distance",
        side,
        basis=basis,
        source="similar triangles; single-eye share: plane geometry",
        reference_line="From the middle of the bridge to the near centration point",
    )


def _decentration(sheet: Worksheet, side: Side) -> OrderedDimension:
    return _line(
        decentration_of(sheet, side),
        "decentration_in",
        "Decentration",
        side,
        basis="half the distance between boxed centres less the centration distance",
        source=BOXED_SYSTEM,
        reference_line="From the boxed centre towards the nose; + in",
        words=_in_or_out,
    )


def _in_or_out(value: float) -> str:
    return signed_words(value, plus="in", level="none", minus="out")


def _segment_inset(sheet: Worksheet, side: Side) -> OrderedDimension:
    far, (near, _) = sheet.face("pd_monocular", side), near_centration_of(sheet, side)
    return _line(
        derived("Segment inset", lambda away, close: away - close, far, near),
        "segment_inset",
        "Segment inset",
        side,
        basis="centration distance less near centration distance",
        source=BOXED_SYSTEM,
        reference_line="From the centration point towards the nose",
        words=_in_or_out,
    )


def _line(
    needed: Needed,
    dimension: str,
    label: str,
    side: Side,
    *,
    basis: str,
    source: str,
    reference_line: str,
    words: Callable[[float], str] | None = None,
) -> OrderedDimension:
    return ordered_line(
        needed,
        dimension=dimension,
        label=label,
        group="lenses",
        unit="mm",
        side=side,
        basis=basis,
        source=source,
        reference_line=reference_line,
        words=words,
    )

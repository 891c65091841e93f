"""Centration of the lenses as ordered: each eye's own distance, decentration, insets and smallest blank."""

from app.catalogue.measurement import SIDE_WORDS, SIDES, Side
from app.fitting.entry import show_number
from app.frame.ordered_dimension import READING_SOURCE, OrderedDimension, signed_words
from app.frame.ordered_worksheet import Needed, Worksheet, adjusted, missing, worked_out
from app.optics.boxed_system import boxed_centre_distance, monocular_decentration, smallest_blank_by_rule
from app.optics.near_centration import near_pd
from app.reference.bibliography import COMMON_PRACTICE

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
    return (*lines, *(_smallest_blank(sheet, side) for side in SIDES))


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
        value, absent = worked_out(
            lambda: near.known * own.known / (eyes[0].known + eyes[1].known), near, *eyes
        )
        basis = "near PD, shared as the single-eye PDs are"
        return Needed(name=name, value=value, count=0, lacking=absent), basis
    value, absent = worked_out(lambda: _near_by_distance(sheet, own.known, away.known), own)
    basis = f"single-eye PD at {show_number(away.value)} cm"
    return Needed(name=name, value=value, count=0, lacking=absent), basis


def decentration_of(sheet: Worksheet, side: Side) -> tuple[float | None, tuple[str, ...]]:
    """Decentration of one lens, mm, + in, from the centration of its form; or what is missing for it."""
    width, between, centred = sheet.lens_width, sheet.between_lenses, _centred_to(sheet, side)
    return worked_out(
        lambda: monocular_decentration(
            boxed_centre_distance_mm=boxed_centre_distance(
                lens_width_mm=width.known, distance_between_lenses_mm=between.known
            ),
            single_eye_centration_distance_mm=centred.known,
        ),
        width,
        between,
        centred,
    )


def _near_by_distance(sheet: Worksheet, single_eye_pd_mm: float, working_distance_cm: float) -> float:
    return near_pd(
        distance_pd_mm=single_eye_pd_mm,
        object_from_lens_mm=working_distance_cm * MILLIMETRES_IN_A_CENTIMETRE,
        lens_to_rotation_centre_mm=sheet.adjustments.centre_of_rotation_mm,
    )


def _centred_to(sheet: Worksheet, side: Side) -> Needed:
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
        "near_centration",
        "Near centration distance",
        side,
        needed.value,
        missing(needed),
        basis=basis,
        source="similar triangles; single-eye share: plane geometry",
        reference_line="From the middle of the bridge to the near centration point",
    )


def _decentration(sheet: Worksheet, side: Side) -> OrderedDimension:
    value, absent = decentration_of(sheet, side)
    return _line(
        "decentration_in",
        "Decentration",
        side,
        value,
        absent,
        basis="half the distance between boxed centres less the centration distance",
        source=BOXED_SYSTEM,
        reference_line="From the boxed centre towards the nose; + in",
        words="" if value is None else signed_words(value, plus="in", level="none", minus="out"),
    )


def _segment_inset(sheet: Worksheet, side: Side) -> OrderedDimension:
    far, (near, _) = sheet.face("pd_monocular", side), near_centration_of(sheet, side)
    value, absent = worked_out(lambda: far.known - near.known, far, near)
    return _line(
        "segment_inset",
        "Segment inset",
        side,
        value,
        absent,
        basis="centration distance less near centration distance",
        source=BOXED_SYSTEM,
        reference_line="From the centration point towards the nose",
        words="" if value is None else signed_words(value, plus="in", level="none", minus="out"),
    )


def _smallest_blank(sheet: Worksheet, side: Side) -> OrderedDimension:
    """Longest diameter, twice the decentration, edging allowance. It holds for a round lens, else overstates."""
    decentration, absent = decentration_of(sheet, side)
    longest = sheet.pair.longest_diameter_mm
    if longest is None:
        absent = (*absent, f"Longest diameter of the lens, pair {sheet.pair.pair}")
    value = None
    if longest is not None and decentration is not None:
        value = smallest_blank_by_rule(
            effective_diameter_mm=longest,
            decentration_mm=decentration,
            allowance_mm=sheet.adjustments.edging_allowance_mm,
        )
    return _line(
        "smallest_blank",
        "Smallest blank",
        side,
        value,
        absent,
        basis=f"longest diameter, twice the decentration and {_edging(sheet)} for edging",
        source=f"{COMMON_PRACTICE}, rule of the smallest blank",
        reference_line="Diameter of the uncut lens",
    )


def _edging(sheet: Worksheet) -> str:
    return show_number(sheet.adjustments.edging_allowance_mm)


def _line(
    dimension: str,
    label: str,
    side: Side,
    value: float | None,
    absent: tuple[str, ...],
    *,
    basis: str,
    source: str,
    reference_line: str,
    words: str = "",
) -> OrderedDimension:
    return OrderedDimension(
        dimension=dimension,
        label=label,
        group="lenses",
        unit="mm",
        side=side,
        ordered=value,
        basis=basis,
        source=source,
        reference_line=reference_line,
        words=words,
        missing=absent,
    )

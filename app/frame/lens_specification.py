"""Every value of one lens that a lab asks for, under the keys of the assessment document."""

from collections.abc import Iterator

from app.catalogue.measurement import SIDE_WORDS, Side
from app.frame.lens_body import LensBody, NoLensBody, lens_body
from app.frame.lens_order import EYES, index_of, power_of
from app.frame.lens_outline import LensOutline
from app.frame.lens_position import as_worn_tilt
from app.frame.lens_values import LensValue, NamedPower, lens_value
from app.frame.needed import Needed, derived, missing
from app.frame.ordered_blank import EXACT_BASIS, EXACT_SOURCE, smallest_blank
from app.frame.ordered_centration import (
    BOXED_SYSTEM,
    INTERMEDIATE_FORM,
    NEAR_FORM,
    SEGMENT_FORMS,
    decentration_of,
    near_centration_of,
)
from app.frame.ordered_heights import (
    FITTING_CROSS_FORMS,
    decentration_up_of,
    optical_centre_up,
    segment_top_of,
    vertex_of,
)
from app.frame.ordered_worksheet import Worksheet
from app.optics.prentice import prism_by_decentration
from app.optics.prescription_algebra import Power
from app.optics.refusal import NotPossible
from app.optics.tilt_and_wrap import Wear, worn_power
from app.optics.vertex_distance import moved_prescription

ONE_MILLIMETRE = 1.0
FLAT_FRONT = "flat"
EXACT_THICKNESS = (
    "exact sags and vertex powers all round the outline (Jalie, Ophthalmic Lenses and Dispensing)"
)

WORN_VERTEX = NamedPower(
    key="power_at_worn_vertex",
    label="Same effect at the worn vertex",
    basis="the prescription moved from the tested to the worn vertex distance; shown, never applied",
    source="effectivity along each principal meridian, textbook",
)
AS_WORN = NamedPower(
    key="worn_power",
    label="Power as worn",
    basis="the prescription tilted and wrapped as it will be worn; shown, never applied",
    source="Martin's formula in matrix form (Keating; Harris), thin lens",
)


def body_of(sheet: Worksheet, side: Side, outline: LensOutline) -> LensBody | NoLensBody:
    """The body of one lens, its optical centre where the order puts it."""
    return lens_body(
        sheet, side, outline, inward=decentration_of(sheet, side), upward=optical_centre_up(sheet, side)
    )


def lens_values(
    sheet: Worksheet, side: Side, body: LensBody | NoLensBody, outline: LensOutline
) -> tuple[LensValue, ...]:
    """All values of one lens, in the order in which a lab reads them."""
    return (
        *_centration(sheet, side),
        _smallest_blank(sheet, side, body, outline),
        *_thickness(body),
        *_power(sheet, side),
    )


def _length(needed: Needed, key: str, label: str, basis: str, source: str = BOXED_SYSTEM) -> LensValue:
    return lens_value(needed, key=key, label=label, unit="mm", basis=basis, source=source)


def _centration(sheet: Worksheet, side: Side) -> Iterator[LensValue]:
    form = sheet.pair.lens_form
    if form not in (NEAR_FORM, INTERMEDIATE_FORM):
        own = sheet.face("pd_monocular", side)
        yield _length(own, "centration", "Centration distance", "single-eye PD", "reading of this fitting")
    near, near_basis = near_centration_of(sheet, side)
    if form == NEAR_FORM or sheet.pair.multifocal:
        yield _length(near, "near_centration", "Near centration distance", near_basis, "similar triangles")
    inward = decentration_of(sheet, side)
    basis = "half the distance between boxed centres less the centration distance; + in"
    yield _length(inward, "decentration_in", "Decentration in", basis)
    measurement = "fitting_height" if form in FITTING_CROSS_FORMS else "centre_height"
    height = sheet.on_pair(measurement, side)
    if form in FITTING_CROSS_FORMS or (height.value is not None and form not in SEGMENT_FORMS):
        up = decentration_up_of(sheet, height)
        yield _length(
            up, "decentration_up", "Height from the centre line", "height less half the lens height; + up"
        )
    if form in SEGMENT_FORMS:
        far = sheet.face("pd_monocular", side)
        inset = derived("Segment inset", lambda away, close: away - close, far, near)
        yield _length(
            inset, "segment_inset", "Segment inset", "centration less near centration distance; + in"
        )
        top = segment_top_of(sheet, side)
        basis = "segment height less half the lens height; + above"
        yield _length(top, "segment_top_above_centre_line", "Segment top from the centre line", basis)


def _smallest_blank(
    sheet: Worksheet, side: Side, body: LensBody | NoLensBody, outline: LensOutline
) -> LensValue:
    """As on the order; where the longest diameter is not known, from the outline that the lens is made to."""
    needed, basis, source = smallest_blank(sheet, side, outline)
    if needed.value is None and isinstance(body, LensBody):
        needed, basis, source = body.smallest_blank, EXACT_BASIS, EXACT_SOURCE
    return _length(needed, "smallest_blank", "Smallest blank", basis, source)


def _thickness(body: LensBody | NoLensBody) -> Iterator[LensValue]:
    named = (
        ("centre_thickness", "Centre thickness", "mm", "the least centre, or what the least edge needs"),
        ("edge_thickness_max", "Edge, thickest", "mm", "all round the outline"),
        ("edge_thickness_min", "Edge, thinnest", "mm", "all round the outline"),
        (
            "weight_g",
            "Weight of the cut lens",
            "g",
            "thickness integrated over the outline, times the density",
        ),
    )
    for key, label, unit, basis in named:
        if isinstance(body, NoLensBody):
            needed = Needed(name=label, value=None, count=0, lacking=body.missing)
        else:
            needed = {
                "centre_thickness": body.centre,
                "edge_thickness_max": body.edge_thickest,
                "edge_thickness_min": body.edge_thinnest,
                "weight_g": body.weight,
            }[key]
        yield lens_value(needed, key=key, label=label, unit=unit, basis=basis, source=EXACT_THICKNESS)


def _power(sheet: Worksheet, side: Side) -> Iterator[LensValue]:
    prescription = sheet.fitting.prescription_for(sheet.pair)
    eye = None if prescription is None else prescription.eye(side)
    absent = f"Prescription, {SIDE_WORDS[side]}"
    slip = None if eye is None else abs(prism_by_decentration(eye.strongest_meridian, ONE_MILLIMETRE))
    yield lens_value(
        Needed(name=absent, value=slip, count=0),
        key="prism_for_1mm",
        label="Prism of a 1 mm slip",
        unit="prism dioptres",
        basis="strongest meridian × 0.1 cm",
        source="C. F. Prentice (1890)",
    )
    power = None if eye is None else power_of(eye)
    lacking = () if power is not None else (absent if eye is None else f"Axis, {SIDE_WORDS[side]}",)
    tested = Needed(
        name="Vertex distance at which it was tested",
        value=None if prescription is None else prescription.tested_at_mm,
        count=0,
    )
    yield _at_worn_vertex(power, lacking, tested, vertex_of(sheet))
    yield _as_worn(sheet, side, power, lacking)


def _at_worn_vertex(power: Power | None, lacking: tuple[str, ...], tested: Needed, worn: Needed) -> LensValue:
    absent = (*lacking, *missing(tested, worn))
    if power is None or absent:
        return WORN_VERTEX.value(None, absent)
    try:
        moved = moved_prescription(power, tested_vertex_mm=tested.known, worn_vertex_mm=worn.known)
    except NotPossible as refusal:
        return WORN_VERTEX.value(None, (str(refusal),))
    return WORN_VERTEX.value(moved)


def wrap_of(sheet: Worksheet) -> Needed:
    """Face-form angle in degrees: as measured with the pair on, 0 where a flat front was chosen, else missing."""
    measured = sheet.on_pair("face_form_angle")
    if measured.value is None and sheet.handmade and sheet.pair.choices.get("front_curve") == FLAT_FRONT:
        return Needed(name=measured.name, value=0.0, count=0)
    return measured


def _as_worn(sheet: Worksheet, side: Side, power: Power | None, lacking: tuple[str, ...]) -> LensValue:
    index = Needed(name=f"Refractive index, pair {sheet.pair.pair}", value=index_of(sheet), count=0)
    tilt, wrap = as_worn_tilt(sheet)[0], wrap_of(sheet)
    absent = (*lacking, *missing(tilt, wrap, index))
    if power is None or absent:
        return AS_WORN.value(None, absent)
    try:
        wear = Wear(eye=EYES[side], pantoscopic_deg=tilt.known, wrap_deg=wrap.known, index=index.known)
        return AS_WORN.value(worn_power(power, wear))
    except NotPossible as refusal:
        return AS_WORN.value(None, (str(refusal),))

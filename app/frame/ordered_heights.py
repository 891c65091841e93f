"""How the lenses stand before the eyes: vertex distance, room for the lashes, segment and fitting heights."""

import numpy as np

from app.catalogue.measurement import SIDES, Side
from app.fitting.entry import show_number
from app.frame.needed import Needed, Samples, derived, simulated
from app.frame.ordered_centration import SEGMENT_FORMS
from app.frame.ordered_dimension import (
    AS_CHOSEN,
    CHOICE_SOURCE,
    ON_THE_PAIR,
    READING_SOURCE,
    OrderedDimension,
    above_centre_line,
)
from app.frame.ordered_line import declared_line, ordered_line
from app.frame.ordered_worksheet import Worksheet, once
from app.optics.boxed_system import segment_top_above_centre_line, vertical_decentration
from app.reference.bibliography import COMMON_PRACTICE

FITTING_CROSS_FORMS = ("progressive", "degressive")
AS_WORN = ("pantoscopic_angle", "face_form_angle")


def height_dimensions(sheet: Worksheet) -> tuple[OrderedDimension, ...]:
    """Vertex distance, room for the lashes, tilt where it was measured, and the heights of the lens form."""
    worn = [_read(sheet, key, sheet.on_pair(key)) for key in AS_WORN]
    heights = [line for side in SIDES for line in _heights(sheet, side)]
    return (
        _vertex_distance(sheet),
        _clearance_at_lashes(sheet),
        *(line for line in worn if line.ordered is not None),
        *sorted(heights, key=lambda line: line.dimension),
    )


def _heights(sheet: Worksheet, side: Side) -> list[OrderedDimension]:
    form = sheet.pair.lens_form
    if form in SEGMENT_FORMS:
        return [_segment_height(sheet, side), _segment_top(sheet, side)]
    measurement = "fitting_height" if form in FITTING_CROSS_FORMS else "centre_height"
    height = sheet.on_pair(measurement, side)
    if height.value is None and form not in FITTING_CROSS_FORMS:
        return []
    return [_read(sheet, measurement, height, side), _decentration_up(sheet, height, side)]


def _vertex_distance(sheet: Worksheet) -> OrderedDimension:
    return _read(sheet, "vertex_distance", vertex_of(sheet))


@once
def vertex_of(sheet: Worksheet) -> Needed:
    """Vertex distance as worn, else as planned: a plan gives way to what was measured on the pair."""
    read = sheet.on_pair("vertex_distance")
    return read if read.value is not None else Needed(name=read.name, value=sheet.pair.vertex_mm, count=0)


def _clearance_at_lashes(sheet: Worksheet) -> OrderedDimension:
    """Vertex distance less the longer lash projection."""
    lashes = [sheet.face("lash_projection", side) for side in SIDES]
    return ordered_line(
        simulated("Room at the lashes", _room, vertex_of(sheet), *lashes),
        dimension="clearance_at_lashes",
        label="Room at the lashes",
        group="lenses",
        unit="mm",
        basis="vertex distance less the longer lash projection",
        source="plane geometry",
        reference_line="From the lash tips to the back of the lens",
    )


def _room(vertex: Samples | float, right: Samples | float, left: Samples | float) -> Samples | float:
    return np.asarray(vertex - np.maximum(right, left))


@once
def segment_height_of(sheet: Worksheet, side: Side) -> tuple[Needed, str]:
    """Measured with the pair on; for a frame still to be made, planned at the lower lid.

    Planned: half the lens height less the height of the centre line above the lid, so that the segment top lies
    at the lower lid margin. Source: common practice.
    """
    read = sheet.on_pair("segment_height", side)
    height = sheet.lens_height
    if read.value is not None or not sheet.handmade or height.value is None:
        return read, ON_THE_PAIR
    line = sheet.centre_line_above_lid_mm
    planned = derived(read.name, lambda depth: depth / 2 - line, height)
    return (
        planned,
        f"planned at the lower lid: half the lens height less {show_number(line)}; confirm it worn",
    )


def _segment_height(sheet: Worksheet, side: Side) -> OrderedDimension:
    height, basis = segment_height_of(sheet, side)
    source = READING_SOURCE if basis == ON_THE_PAIR else COMMON_PRACTICE
    return declared_line(
        height, measurement="segment_height", group="lenses", basis=basis, source=source, side=side
    )


@once
def segment_top_of(sheet: Worksheet, side: Side) -> Needed:
    """Segment top above the horizontal centre line, mm."""
    return derived(
        "Segment top from the centre line",
        lambda height, depth: segment_top_above_centre_line(segment_height_mm=height, lens_depth_mm=depth),
        segment_height_of(sheet, side)[0],
        sheet.lens_height,
    )


def _segment_top(sheet: Worksheet, side: Side) -> OrderedDimension:
    return ordered_line(
        segment_top_of(sheet, side),
        dimension="segment_top_above_centre_line",
        label="Segment top from the centre line",
        group="lenses",
        unit="mm",
        side=side,
        basis="segment height less half the lens height",
        source="boxed system of ISO 8624",
        reference_line="From the horizontal centre line to the segment top; + above it",
        words=above_centre_line,
    )


def decentration_up_of(sheet: Worksheet, height: Needed) -> Needed:
    """A measured height as its place above the horizontal centre line, mm."""
    return derived(
        "Height from the centre line",
        lambda above, depth: vertical_decentration(height_mm=above, lens_depth_mm=depth),
        height,
        sheet.lens_height,
    )


def _decentration_up(sheet: Worksheet, height: Needed, side: Side) -> OrderedDimension:
    return ordered_line(
        decentration_up_of(sheet, height),
        dimension="decentration_up",
        label="Height from the centre line",
        group="lenses",
        unit="mm",
        side=side,
        basis="height less half the lens height",
        source="boxed system of ISO 8624",
        reference_line="From the horizontal centre line up to the centre or cross; + above it",
        words=above_centre_line,
    )


def _read(sheet: Worksheet, measurement: str, needed: Needed, side: Side | None = None) -> OrderedDimension:
    chosen = needed.value is not None and needed.count == 0
    return declared_line(
        needed,
        measurement=measurement,
        group="lenses",
        side=side,
        basis=AS_CHOSEN if chosen else ON_THE_PAIR,
        source=CHOICE_SOURCE if chosen else READING_SOURCE,
    )


def optical_centre_up(sheet: Worksheet, side: Side) -> Needed:
    """Height of the optical centre above the centre line, mm: as measured for a single vision lens, else on it.

    The default place is at the height of the boxed centre (ISO 13666, standard optical centre position, from
    memory). The cross of a progressive lens is not its optical centre, so it is not used here.
    """
    measured = sheet.on_pair("centre_height", side)
    if measured.value is None or sheet.pair.multifocal:
        return Needed(name="Height of the optical centre", value=0.0, count=0)
    return decentration_up_of(sheet, measured)

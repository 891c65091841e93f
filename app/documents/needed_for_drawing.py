"""What each drawing needs, by name, so that one that cannot be made says what is missing."""

from app.catalogue.measurement import SIDE_WORDS, SIDES
from app.documents.traced_outline import outline_in
from app.frame.bridge_fit import BridgeFit
from app.frame.needed import missing
from app.frame.ordered_bridge import bridge_fit, facial_crest_height
from app.frame.ordered_worksheet import Worksheet
from app.frame.specification import PairSpecification

ONE_SECTION = "Bridge readings that describe one section"


def missing_for_front(specification: PairSpecification) -> tuple[str, ...]:
    """What the front lacks: sizes, outline and, for a frame to be made, its bridge."""
    sheet = specification.sheet
    sizes = missing(sheet.lens_width, sheet.lens_height, sheet.between_lenses)
    bridge = missing_for_bridge(specification) if sheet.handmade else ()
    outline = (*unreadable_tracing(specification), *specification.outline.missing)
    return tuple(dict.fromkeys((*sizes, *outline, *bridge)))


def unreadable_tracing(specification: PairSpecification) -> tuple[str, ...]:
    """Why a tracing that stands in the order cannot be used: then nothing is drawn in its place."""
    why = outline_in(specification.pair.tracing or "")[1]
    return (f"A tracing that can be read: {why.rstrip('.')}",) if why else ()


def missing_for_bridge(specification: PairSpecification) -> tuple[str, ...]:
    """What the section of the bridge lacks."""
    sheet = specification.sheet
    return (*_of_section(sheet, section_of(sheet)), *missing(facial_crest_height(sheet)[0]))


def section_of(sheet: Worksheet) -> BridgeFit | None:
    """The section of the nose as fitted to the readings of the face, whatever the frame."""
    return bridge_fit(sheet)


def _of_section(sheet: Worksheet, fit: BridgeFit | None) -> tuple[str, ...]:
    if fit is not None:
        return ()
    readings = [
        *(sheet.face(key) for key in ("bridge_width_10", "bridge_width_15", "apical_radius")),
        *(sheet.face("frontal_angle", side) for side in SIDES),
    ]
    return missing(*readings) or (ONE_SECTION,)


def missing_for_sides(specification: PairSpecification) -> tuple[str, ...]:
    """What both sides lack: without its length to bend a side is no side."""
    return tuple(
        name
        for side in SIDES
        if (line := specification.dimension("length_to_bend", side)) is not None
        for name in line.missing
    )


def missing_for_lenses(specification: PairSpecification) -> tuple[str, ...]:
    """What the lens sheet lacks, for either lens."""
    names: list[str] = [*unreadable_tracing(specification)]
    for side in SIDES:
        lens = specification.lens(side)
        if lens.body is not None:
            continue
        value = lens.value("centre_thickness")
        names += value.missing if value is not None else (f"Lens, {SIDE_WORDS[side]}",)
    return tuple(dict.fromkeys(names))

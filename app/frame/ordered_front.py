"""The front as ordered: boxed lens sizes, distance between lenses, and the widths that follow from them."""

from app.catalogue.catalogue import MEASUREMENTS
from app.frame.ordered_dimension import (
    AS_CHOSEN,
    CHOICE_SOURCE,
    ON_THE_PAIR,
    READING_SOURCE,
    OrderedDimension,
)
from app.frame.ordered_geometry import joint_width
from app.frame.ordered_worksheet import Needed, Worksheet, missing, worked_out
from app.optics.boxed_system import boxed_centre_distance
from app.reference.bibliography import COMMON_PRACTICE

BOXED_SYSTEM = "boxed system of ISO 8624"


def front_dimensions(sheet: Worksheet) -> tuple[OrderedDimension, ...]:
    """The front: what was chosen for a frame to be made, what was measured on an existing one, and what follows."""
    sizes = (
        ("lens_width", sheet.lens_width),
        ("lens_height", sheet.lens_height),
        ("distance_between_lenses", sheet.between_lenses),
    )
    chosen = tuple(_chosen(key, needed, sheet) for key, needed in sizes)
    # the practice's lug allowance is for frames to be made, it says nothing about an existing one
    lugs_known = sheet.handmade or sheet.pair.lug_width_mm is not None
    return (*chosen, _boxed_centre_distance(sheet), *(_widths(sheet) if lugs_known else ()))


def joint_width_of(sheet: Worksheet) -> Needed:
    """Width between the joints, mm."""
    parts = (sheet.lens_width, sheet.between_lenses)
    value, absent = worked_out(
        lambda: joint_width(
            lens_width_mm=parts[0].known, distance_between_lenses_mm=parts[1].known, lug_mm=sheet.lug_mm
        ),
        *parts,
    )
    return Needed(name="Width between the joints", value=value, count=0, lacking=absent)


def _chosen(key: str, needed: Needed, sheet: Worksheet) -> OrderedDimension:
    declared = MEASUREMENTS[key]
    read = needed.count > 0
    return OrderedDimension(
        dimension=key,
        label=declared.label,
        group="front",
        unit=declared.unit,
        ordered=needed.value,
        basis=ON_THE_PAIR if read or not sheet.handmade else AS_CHOSEN,
        source=READING_SOURCE if read or not sheet.handmade else CHOICE_SOURCE,
        reference_line=declared.reference_line,
        missing=missing(needed),
    )


def _boxed_centre_distance(sheet: Worksheet) -> OrderedDimension:
    width, between = sheet.lens_width, sheet.between_lenses
    ordered, absent = worked_out(
        lambda: boxed_centre_distance(lens_width_mm=width.known, distance_between_lenses_mm=between.known),
        width,
        between,
    )
    return OrderedDimension(
        dimension="boxed_centre_distance",
        label="Distance between boxed centres",
        group="front",
        unit="mm",
        ordered=ordered,
        basis="lens width and distance between lenses",
        source=BOXED_SYSTEM,
        reference_line="From boxed centre to boxed centre, along the horizontal centre line",
        missing=absent,
    )


def _widths(sheet: Worksheet) -> tuple[OrderedDimension, ...]:
    """Joint width and front width. They are equal while the joints are taken to lie at the ends of the lugs."""
    needed = (sheet.lens_width, sheet.between_lenses)
    ordered = joint_width_of(sheet).value
    named = (
        ("joint_width", "Width between the joints", "From joint to joint, at the ends of the lugs"),
        (
            "front_width",
            "Width of the front",
            "Across the front from lug to lug, joints at the ends of the lugs",
        ),
    )
    return tuple(
        OrderedDimension(
            dimension=dimension,
            label=label,
            group="front",
            unit="mm",
            ordered=ordered,
            basis="two lens widths, distance between lenses and two lugs",
            source=f"{BOXED_SYSTEM}; the lug is {COMMON_PRACTICE}",
            reference_line=reference_line,
            missing=missing(*needed),
        )
        for dimension, label, reference_line in named
    )

"""The front as ordered: boxed lens sizes, distance between lenses, and the widths that follow from them."""

from app.frame.needed import Needed, derived
from app.frame.ordered_dimension import (
    AS_CHOSEN,
    CHOICE_SOURCE,
    ON_THE_PAIR,
    READING_SOURCE,
    OrderedDimension,
)
from app.frame.ordered_geometry import joint_width
from app.frame.ordered_line import declared_line, ordered_line
from app.frame.ordered_worksheet import Worksheet, once
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


@once
def boxed_centre_distance_of(sheet: Worksheet) -> Needed:
    """Distance between boxed centres, mm."""
    return derived(
        "Distance between boxed centres",
        lambda a, d: boxed_centre_distance(lens_width_mm=a, distance_between_lenses_mm=d),
        sheet.lens_width,
        sheet.between_lenses,
    )


@once
def joint_width_of(sheet: Worksheet) -> Needed:
    """Width between the joints, mm."""
    lug = sheet.lug_mm
    return derived(
        "Width between the joints",
        lambda a, d: joint_width(lens_width_mm=a, distance_between_lenses_mm=d, lug_mm=lug),
        sheet.lens_width,
        sheet.between_lenses,
    )


def _chosen(key: str, needed: Needed, sheet: Worksheet) -> OrderedDimension:
    measured = needed.count > 0 or not sheet.handmade
    return declared_line(
        needed,
        measurement=key,
        group="front",
        basis=ON_THE_PAIR if measured else AS_CHOSEN,
        source=READING_SOURCE if measured else CHOICE_SOURCE,
    )


def _boxed_centre_distance(sheet: Worksheet) -> OrderedDimension:
    return ordered_line(
        boxed_centre_distance_of(sheet),
        dimension="boxed_centre_distance",
        label="Distance between boxed centres",
        group="front",
        unit="mm",
        basis="lens width and distance between lenses",
        source=BOXED_SYSTEM,
        reference_line="From boxed centre to boxed centre, along the horizontal centre line",
    )


def _widths(sheet: Worksheet) -> tuple[OrderedDimension, ...]:
    """Joint width and front width. They are equal while the joints are taken to lie at the ends of the lugs."""
    needed = joint_width_of(sheet)
    named = (
        ("joint_width", "Width between the joints", "From joint to joint, at the ends of the lugs"),
        (
            "front_width",
            "Width of the front",
            "Across the front from lug to lug, joints at the ends of the lugs",
        ),
    )
    return tuple(
        ordered_line(
            needed,
            dimension=dimension,
            label=label,
            group="front",
            unit="mm",
            basis="two lens widths, distance between lenses and two lugs",
            source=f"{BOXED_SYSTEM}; the lug is {COMMON_PRACTICE}",
            reference_line=reference_line,
        )
        for dimension, label, reference_line in named
    )

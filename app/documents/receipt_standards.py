"""The tolerances by which received lenses are judged, one column for each standard, each with its edition.

ISO 21987 as far as known, and ANSI Z80.1-2015 as the alternative; the figures and their editions stand in
app.reference.lens_tolerances. Check the current edition.
"""

from collections.abc import Callable
from dataclasses import dataclass

from app.optics import lens_tolerance as iso
from app.optics import lens_tolerance_ansi as ansi
from app.optics.lens_tolerance import Design, Direction, Tolerance
from app.optics.prescription_algebra import Power, highest_principal_power
from app.reference import lens_tolerances as table


@dataclass(frozen=True, slots=True, kw_only=True)
class LensStandard:
    """How one standard judges mounted lenses. Powers in dioptres, prism in prism dioptres, lengths in mm."""

    key: str
    name: str
    meridian: Callable[[Power, Design], Tolerance]
    only_strongest_meridian: bool
    cylinder: Callable[[Power, Design], Tolerance]
    axis: Callable[[float], Tolerance]
    addition: Callable[[float], Tolerance]
    imbalance: Callable[[Direction, float, float, Design], Tolerance]
    """Direction, power of the weaker lens in it, prescribed prism, design."""
    position: Tolerance
    height: Tolerance
    height_difference: Tolerance
    tilt: Tolerance
    segment_size: Tolerance
    thickness: Tolerance
    near_centres: Tolerance | None


def _iso_meridian(power: Power, design: Design) -> Tolerance:
    found = iso.power_tolerance_for(power, design)
    return Tolerance(found.meridian_d, found.source)


def _iso_cylinder(power: Power, design: Design) -> Tolerance:
    found = iso.power_tolerance_for(power, design)
    return Tolerance(found.cylinder_d, found.source)


def _iso_imbalance(direction: Direction, power_d: float, prescribed: float, _: Design) -> Tolerance:
    return iso.prism_imbalance_tolerance(
        direction=direction, power_d=power_d, prescribed_prism_dioptres=prescribed
    )


def _ansi_imbalance(direction: Direction, power_d: float, _: float, design: Design) -> Tolerance:
    return ansi.imbalance_tolerance(direction=direction, power_d=power_d, design=design)


ISO = LensStandard(
    key="iso",
    name="ISO 21987",
    meridian=_iso_meridian,
    only_strongest_meridian=False,
    cylinder=_iso_cylinder,
    axis=iso.axis_tolerance,
    addition=iso.addition_tolerance,
    imbalance=_iso_imbalance,
    position=Tolerance(table.ISO_POSITION_MM, table.ISO_21987_NOTES),
    height=Tolerance(table.ISO_POSITION_MM, table.ISO_21987_NOTES),
    height_difference=Tolerance(table.ISO_HEIGHT_PAIR_DIFFERENCE_MM, table.ISO_21987_MEMORY),
    tilt=Tolerance(table.ISO_TILT_DEG, table.ISO_21987_NOTES),
    segment_size=Tolerance(table.ISO_SEGMENT_SIZE_MM, table.ISO_21987_MEMORY),
    thickness=Tolerance(table.ISO_THICKNESS_MM, table.ISO_8980_1_MEMORY),
    near_centres=Tolerance(table.ISO_NEAR_CENTRES_MM, table.ISO_21987_MEMORY),
)
ANSI = LensStandard(
    key="ansi",
    name="ANSI Z80.1-2015",
    meridian=lambda power, design: ansi.meridian_tolerance(highest_principal_power(power), design),
    only_strongest_meridian=True,
    cylinder=lambda power, design: ansi.cylinder_tolerance(power.cylinder_d, design),
    axis=ansi.axis_tolerance,
    addition=ansi.addition_tolerance,
    imbalance=_ansi_imbalance,
    position=Tolerance(table.ANSI_REFERENCE_POINT_MM, table.ANSI_2015_GUIDE),
    height=Tolerance(table.ANSI_HEIGHT_MM, table.ANSI_1999_PAGE),
    height_difference=Tolerance(table.ANSI_HEIGHT_MM, f"from memory. {table.CHECK_THE_EDITION}"),
    tilt=Tolerance(table.ANSI_SEGMENT_TILT_DEG, f"widely printed, from memory. {table.CHECK_THE_EDITION}"),
    segment_size=Tolerance(table.ANSI_SEGMENT_SIZE_MM, table.ANSI_1999_PAGE),
    thickness=Tolerance(table.ANSI_CENTRE_THICKNESS_MM, table.ANSI_1999_PAGE),
    near_centres=None,
)
STANDARDS: dict[str, LensStandard] = {one.key: one for one in (ISO, ANSI)}

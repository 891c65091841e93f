"""From prescription and choices to the lens that is to be made: power, prism, front curve, index, thicknesses."""

import re
from dataclasses import dataclass

from app.catalogue.measurement import Side
from app.fitting.prescription import EyePrescription
from app.frame.lens_sweep import LensOrder
from app.frame.ordered_worksheet import Worksheet, once
from app.optics.base_curve import starting_front_curve
from app.optics.eye import Eye
from app.optics.lens_edge import Minimum
from app.optics.prescription_algebra import Power
from app.optics.prism import NO_PRISM, Prism, combined_prism, prism_from_base
from app.reference.lens_materials import LENS_MATERIALS, LensMaterial

EYES: dict[Side, Eye] = {"R": "right", "L": "left"}
NO_AXIS_NEEDED = 180.0
"""A sphere has no axis; the notation then writes 180 (ISO 13666, from memory)."""
INDEX_OF_MATERIAL = {
    "hard_resin": 1.498,
    "tough_resin": 1.53,
    "polycarbonate": 1.586,
    "resin_160": 1.60,
    "resin_167": 1.67,
    "resin_174": 1.74,
    "crown_glass": 1.523,
}
"""Index by the catalogue's choice “Lens material”; the values and their sources are in reference.lens_materials."""
SAME_INDEX = 0.006
"""An index written as 1.50 means the material of 1.498. Ours: half the step to the nearest other material."""
GROOVED = "groove"
PLAUSIBLE_INDEX = (1.4, 2.0)
PLAUSIBLE_CURVE_D = (-2.0, 20.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedLens:
    """One lens to be made, or what is missing for it."""

    order: LensOrder | None
    density_g_per_cm3: float | None
    front_curve_chosen: bool
    missing: tuple[str, ...] = ()


def power_of(eye: EyePrescription) -> Power | None:
    """The power as written; None where a cylinder has no axis."""
    if not eye.cylinder:
        return Power(eye.sphere, 0.0, NO_AXIS_NEEDED)
    return None if eye.axis is None else Power(eye.sphere, eye.cylinder, eye.axis)


def prism_of(eye: EyePrescription, side: Side) -> Prism | None:
    """The prescribed prism, its components added; None where one has no base."""
    if any(part.base is None for part in eye.prism):
        return None
    degrees = {
        "up": 90.0,
        "down": 270.0,
        "in": 0.0 if side == "R" else 180.0,
        "out": 180.0 if side == "R" else 0.0,
    }
    return combined_prism(
        prism_from_base(amount_prism_dioptres=part.amount, base_deg=degrees[part.base])
        for part in eye.prism
        if part.base is not None
    )


@once
def planned_lens(sheet: Worksheet, side: Side) -> PlannedLens:
    """The lens of one side as it is to be made, or the names of what is missing.

    The near lens of a pair for reading has the addition in it. The front curve is the one chosen, else a usual
    starting value (Vogel's rule), and says so.
    """
    prescription = sheet.fitting.prescription_for(sheet.pair)
    eye = None if prescription is None else prescription.eye(side)
    index = index_of(sheet)
    absent = [] if index is not None else [f"Refractive index, pair {sheet.pair.pair}"]
    if eye is None:
        absent.append(f"Prescription, {'right' if side == 'R' else 'left'}")
        return _lacking(absent)
    power, prism = lens_power(sheet, eye), prism_of(eye, side)
    if power is None:
        absent.append(f"Axis of the cylinder, {'right' if side == 'R' else 'left'}")
    if prism is None:
        absent.append(f"Base of the prism, {'right' if side == 'R' else 'left'}")
    if power is None or prism is None or index is None:
        return _lacking(absent)
    chosen = chosen_front_curve(sheet)
    material = material_of(sheet)
    return PlannedLens(
        order=LensOrder(
            power=power,
            front_power_d=starting_front_curve(power) if chosen is None else chosen,
            index=index,
            minimum=least_thickness(sheet),
            worked_prism=prism if eye.prism else NO_PRISM,
        ),
        density_g_per_cm3=None if material is None else material.density_g_per_cm3,
        front_curve_chosen=chosen is not None,
    )


def lens_power(sheet: Worksheet, eye: EyePrescription) -> Power | None:
    """The power that the lens is surfaced to: for a near lens with the addition, else as written."""
    power = power_of(eye)
    if power is None or sheet.pair.lens_form != "single_vision_near" or not eye.add:
        return power
    return Power(power.sphere_d + eye.add, power.cylinder_d, power.axis_deg)


def index_of(sheet: Worksheet) -> float | None:
    """Refractive index chosen, else that of the material chosen; None where neither is, or where it is none."""
    low, high = PLAUSIBLE_INDEX
    if sheet.pair.index is not None:
        return sheet.pair.index if low <= sheet.pair.index <= high else None
    return INDEX_OF_MATERIAL.get(sheet.pair.choices.get("lens_material", ""))


def material_of(sheet: Worksheet) -> LensMaterial | None:
    """The material of the lenses: the one chosen, else the one that has the index; None where none is known."""
    index = INDEX_OF_MATERIAL.get(sheet.pair.choices.get("lens_material", ""), sheet.pair.index)
    if index is None:
        return None
    nearest = min(LENS_MATERIALS, key=lambda one: abs(one.index - index))
    return nearest if abs(nearest.index - index) < SAME_INDEX else None


def chosen_front_curve(sheet: Worksheet) -> float | None:
    """The front curve in dioptres that was asked for; None where none was, or where words say it otherwise."""
    found = re.search(r"[-+−]?\d+(?:[.,]\d+)?", sheet.pair.choices.get("base_curve", ""))
    if found is None:
        return None
    curve = float(found.group().replace("−", "-").replace(",", "."))
    low, high = PLAUSIBLE_CURVE_D
    return curve if low <= curve <= high else None


def least_thickness(sheet: Worksheet) -> Minimum:
    """Least centre and edge in mm, the practice's settings; an edge for a cord needs room for its groove."""
    grooved = sheet.pair.choices.get("edge_finish") == GROOVED
    settings = sheet.adjustments
    return Minimum(
        centre_mm=settings.centre_thickness_mm,
        edge_mm=settings.least_grooved_edge_mm if grooved else settings.least_edge_mm,
    )


def _lacking(absent: list[str]) -> PlannedLens:
    return PlannedLens(order=None, density_g_per_cm3=None, front_curve_chosen=False, missing=tuple(absent))

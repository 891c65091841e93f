"""Adapters for tolerances of lenses and frames."""

from typing import Any

from app.optics import lens_tolerance, lens_tolerance_ansi
from app.optics.lens_tolerance import Design, Direction
from app.reference.frame_tolerances import frame_tolerance
from tests.worked_examples.forms import Answer, form


def design_of(words: str) -> Design:
    """Single vision and multifocal, or progressive and degressive."""
    changing = ("pal", "progressive", "degressive", "variation")
    return "power variation" if any(word in words for word in changing) else "single vision or multifocal"


@form("tolerance_iso_21987", "lens", "max_meridian_power_D", "cyl_D")
def iso_power(lens: str, max_meridian_power_D: float, cyl_D: float) -> Answer:
    found = lens_tolerance.power_tolerance(
        highest_power_d=max_meridian_power_D, cylinder_d=cyl_D, design=design_of(lens)
    )
    return {"meridian_tol_D": found.meridian_d, "cyl_tol_D": found.cylinder_d}


@form("tolerance_iso_21987", "quantity", "cyl_D")
def iso_axis(quantity: str, cyl_D: float) -> Answer:
    assert quantity == "axis"
    return {"tolerance_deg": lens_tolerance.axis_tolerance(cyl_D).amount}


@form("tolerance_iso_21987", "direction", "power_D", "prescribed_prism_pd")
def iso_imbalance(direction: Direction, power_D: float, prescribed_prism_pd: float) -> Answer:
    found = lens_tolerance.prism_imbalance_tolerance(
        direction=direction, power_d=power_D, prescribed_prism_dioptres=prescribed_prism_pd
    )
    return {"imbalance_pd": found.amount}


@form("tolerance_iso_21987", "quantity")
def iso_position(quantity: str) -> Answer:
    assert "position" in quantity or "tilt" in quantity
    found = lens_tolerance.position_tolerance()
    return {"position_mm": found.position_mm, "tilt_deg": found.tilt_deg}


@form("tolerance_ansi_z80_1_2015", "quantity", "nominal")
def ansi(quantity: str, nominal: float) -> Answer:
    """The quantity is written as kind_design, for example cyl_pal, or direction_imbalance_..."""
    design = design_of(quantity)
    kind = quantity.split("_")[0]
    if kind in ("horizontal", "vertical"):
        found = lens_tolerance_ansi.imbalance_tolerance(direction=kind, power_d=nominal, design=design)
        return {"tolerance": found.amount}
    functions: dict[str, Any] = {
        "sphere": lambda: lens_tolerance_ansi.meridian_tolerance(nominal, design),
        "meridian": lambda: lens_tolerance_ansi.meridian_tolerance(nominal, design),
        "cyl": lambda: lens_tolerance_ansi.cylinder_tolerance(nominal, design),
        "axis": lambda: lens_tolerance_ansi.axis_tolerance(nominal),
        "add": lambda: lens_tolerance_ansi.addition_tolerance(nominal),
        "prism": lens_tolerance_ansi.reference_point_prism_tolerance,
    }
    return {"tolerance": functions[kind]().amount}


@form("axis_tolerance_derivation", "cyl_D", "allowed_error_cyl_D")
def axis_from_cylinder_error(cyl_D: float, allowed_error_cyl_D: float) -> Answer:
    found = lens_tolerance.axis_error_for_cylinder_error(
        allowed_error_d=allowed_error_cyl_D, cylinder_d=cyl_D
    )
    return {"axis_deg": found}


@form("tolerance_iso_12870", "quantity")
def iso_frame(quantity: str) -> Answer:
    return {"tolerance_mm": frame_tolerance(quantity).tolerance_mm}

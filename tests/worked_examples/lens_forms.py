"""Adapters for lens thickness and weight, and for tilt, wrap and vertical centration."""

from typing import Any, Literal

from app.optics.lens_form import back_sag, front_sag, sag_of_curvature
from app.optics.lens_thickness import (
    SphericalLens,
    lens_with_centre,
    lens_with_edge,
    rough_edge_thickness,
    rough_thickness_difference,
    thickness_at,
)
from app.optics.lens_weight import round_lens_volume, weight
from app.optics.prescription_algebra import Power
from app.optics.tilt_and_wrap import Wear, effective_tilt, martin_power, power_to_order, worn_power
from app.optics.tilt_centration import (
    height_to_order,
    optical_centre_drop,
    optical_centre_drop_by_rule,
    optical_centre_drop_from_perpendicular,
    tilt_for_drop_by_rule,
    wrap_for_decentration,
    wrap_for_decentration_by_rule,
)
from app.optics.vertex_distance import moved_prescription
from app.optics.wrap_prism import wrap_prism_base, wrap_prism_by_rule, wrap_prism_exactly
from tests.worked_examples.forms import Answer, form
from tests.worked_examples.power_forms import as_answer
from tests.worked_examples.prism_forms import eye_of


@form("lens_thickness", "F1_D", "F2_D", "n", "diameter_mm", "centre_mm")
def edge_from_surfaces(F1_D: float, F2_D: float, n: float, diameter_mm: float, centre_mm: float) -> Answer:
    height = diameter_mm / 2
    return {
        "z1_mm": front_sag(front_power_d=F1_D, index=n, height_mm=height),
        "z2_mm": back_sag(back_power_d=F2_D, index=n, height_mm=height),
        "edge_mm": thickness_at(SphericalLens(F1_D, F2_D, centre_mm, n), height),
    }


@form("lens_thickness", "bvp_D", "F1_D", "centre_mm", "n", "diameter_mm")
def edge_from_power(bvp_D: float, F1_D: float, centre_mm: float, n: float, diameter_mm: float) -> Answer:
    lens = lens_with_centre(back_vertex_d=bvp_D, front_power_d=F1_D, centre_thickness_mm=centre_mm, index=n)
    rough = rough_edge_thickness(
        centre_thickness_mm=centre_mm, power_d=bvp_D, index=n, height_mm=diameter_mm / 2
    )
    edge = thickness_at(lens, diameter_mm / 2)
    return {"back_surface_D": lens.back_power_d, "edge_mm": edge, "approx_edge_mm": rough}


@form("lens_thickness", "bvp_D", "F1_D", "n", "diameter_mm", "edge_mm")
def centre_from_power(bvp_D: float, F1_D: float, n: float, diameter_mm: float, edge_mm: float) -> Answer:
    height = diameter_mm / 2
    lens = lens_with_edge(
        back_vertex_d=bvp_D, front_power_d=F1_D, edge_thickness_mm=edge_mm, height_mm=height, index=n
    )
    rough = edge_mm + rough_thickness_difference(power_d=bvp_D, index=n, height_mm=height)
    return {
        "centre_mm": lens.centre_thickness_mm,
        "back_surface_D": lens.back_power_d,
        "approx_centre_mm": rough,
    }


@form("lens_thickness", "F_D", "n", "blank_diameter_mm", "edge_mm", "method")
def centre_by_rule(F_D: float, n: float, blank_diameter_mm: float, edge_mm: float, method: str) -> Answer:
    assert "approx" in method
    difference = rough_thickness_difference(power_d=F_D, index=n, height_mm=blank_diameter_mm / 2)
    return {"centre_mm": edge_mm + difference}


@form("lens_thickness", "form", "F_D", "n", "diameter_mm", "edge_mm")
def centre_of_plano_form(form: str, F_D: float, n: float, diameter_mm: float, edge_mm: float) -> Answer:
    """One surface is plane, so the other has the whole power, whichever way round the lens is."""
    assert form.startswith("plano-")
    sag = front_sag(front_power_d=F_D, index=n, height_mm=diameter_mm / 2)
    return {"sag_mm": abs(sag), "centre_mm": edge_mm + sag}


@form("lens_thickness", "c1_per_mm", "c2_per_mm", "semi_aperture_mm", "centre_mm")
def edge_from_curvatures(
    c1_per_mm: float, c2_per_mm: float, semi_aperture_mm: float, centre_mm: float
) -> Answer:
    front, back = (
        sag_of_curvature(curvature_per_mm=curvature, height_mm=semi_aperture_mm)
        for curvature in (c1_per_mm, c2_per_mm)
    )
    return {"edge_mm": centre_mm - front + back}


def weighed(lens: SphericalLens, *, diameter_mm: float, density_g_cm3: float) -> Answer:
    """Volume, mass and thicknesses of a round lens."""
    volume = round_lens_volume(lens, diameter_mm)
    return {
        "centre_mm": lens.centre_thickness_mm,
        "edge_mm": thickness_at(lens, diameter_mm / 2),
        "volume_mm3": volume,
        "mass_g": weight(volume_mm3=volume, density_g_per_cm3=density_g_cm3),
    }


@form("lens_weight", "bvp_D", "F1_D", "centre_mm", "n", "diameter_mm", "density_g_cm3")
def weight_from_centre(
    bvp_D: float, F1_D: float, centre_mm: float, n: float, diameter_mm: float, density_g_cm3: float
) -> Answer:
    lens = lens_with_centre(back_vertex_d=bvp_D, front_power_d=F1_D, centre_thickness_mm=centre_mm, index=n)
    return weighed(lens, diameter_mm=diameter_mm, density_g_cm3=density_g_cm3)


@form("lens_weight", "bvp_D", "F1_D", "edge_mm", "n", "diameter_mm", "density_g_cm3")
def weight_from_edge(
    bvp_D: float, F1_D: float, edge_mm: float, n: float, diameter_mm: float, density_g_cm3: float
) -> Answer:
    lens = lens_with_edge(
        back_vertex_d=bvp_D,
        front_power_d=F1_D,
        edge_thickness_mm=edge_mm,
        height_mm=diameter_mm / 2,
        index=n,
    )
    return weighed(lens, diameter_mm=diameter_mm, density_g_cm3=density_g_cm3)


@form("tilt_martin", "sphere_D", "tilt_deg", "n", "axis_of_rotation")
def tilt_by_martin(
    sphere_D: float, tilt_deg: float, n: float, axis_of_rotation: Literal["horizontal", "vertical"]
) -> Answer:
    return as_answer(
        martin_power(sphere_d=sphere_D, tilt_deg=tilt_deg, index=n, axis_of_rotation=axis_of_rotation)
    )


@form("tilt_effective", "pantoscopic_deg", "wrap_deg")
def tilt_effective(pantoscopic_deg: float, wrap_deg: float) -> Answer:
    return {"effective_tilt_deg": effective_tilt(pantoscopic_deg=pantoscopic_deg, wrap_deg=wrap_deg)}


def wear_of(case: dict[str, Any]) -> Wear:
    """How the lens of a case is worn."""
    return Wear(eye_of(case["eye"]), case["pantoscopic_deg"], case["wrap_deg"], case["n"])


@form("tilt_combined", "eye", "sphere_D", "cyl_D", "axis_deg", "pantoscopic_deg", "wrap_deg", "n")
def tilt_combined(**case: Any) -> Answer:
    ordered = Power(case["sphere_D"], case["cyl_D"], case["axis_deg"])
    tilt = tilt_effective(case["pantoscopic_deg"], case["wrap_deg"])
    return {**tilt, **as_answer(worn_power(ordered, wear_of(case)), "worn_")}


@form(
    "tilt_compensation",
    "eye",
    "sphere_D",
    "cyl_D",
    "axis_deg",
    "bvd_refraction_mm",
    "bvd_worn_mm",
    "pantoscopic_deg",
    "wrap_deg",
    "n",
)
def tilt_compensation(**case: Any) -> Answer:
    found = Power(case["sphere_D"], case["cyl_D"], case["axis_deg"])
    wanted = moved_prescription(
        found, tested_vertex_mm=case["bvd_refraction_mm"], worn_vertex_mm=case["bvd_worn_mm"]
    )
    return as_answer(power_to_order(wanted, wear_of(case)), "order_")


@form("vertical_centration", "pantoscopic_deg", "rule")
def drop_by_rule(pantoscopic_deg: float, rule: str) -> Answer:
    return {"drop_mm": optical_centre_drop_by_rule(pantoscopic_deg)}


@form("vertical_centration", "drop_mm", "rule")
def tilt_from_drop(drop_mm: float, rule: str) -> Answer:
    return {"pantoscopic_deg": tilt_for_drop_by_rule(drop_mm)}


@form("vertical_centration", "mrp_height_mm", "pantoscopic_deg", "b_mm", "rule")
def height_by_rule(mrp_height_mm: float, pantoscopic_deg: float, b_mm: float, rule: str) -> Answer:
    drop = optical_centre_drop_by_rule(pantoscopic_deg)
    return {"order_height_mm": height_to_order(pupil_height_mm=mrp_height_mm, drop_mm=drop)}


@form("vertical_centration", "pantoscopic_deg", "s_mm")
def drop_exactly(pantoscopic_deg: float, s_mm: float) -> Answer:
    return {
        "drop_in_lens_plane_mm": optical_centre_drop(pantoscopic_deg, s_mm),
        "drop_if_s_is_perpendicular_mm": optical_centre_drop_from_perpendicular(pantoscopic_deg, s_mm),
        "rule_mm": optical_centre_drop_by_rule(pantoscopic_deg),
    }


@form("face_form", "decentration_in_each_mm", "s_mm")
def face_form(decentration_in_each_mm: float, s_mm: float) -> Answer:
    return {
        "wrap_deg_exact": wrap_for_decentration(decentration_in_each_mm, s_mm),
        "wrap_deg_rule": wrap_for_decentration_by_rule(decentration_in_each_mm),
    }


@form("wrap_prism", "F1_D", "t_mm", "n", "wrap_deg", "bvp_D")
def wrap_prism(F1_D: float, t_mm: float, n: float, wrap_deg: float, bvp_D: float) -> Answer:
    rule = wrap_prism_by_rule(front_power_d=F1_D, centre_thickness_mm=t_mm, index=n, wrap_deg=wrap_deg)
    exact = wrap_prism_exactly(
        front_power_d=F1_D,
        back_vertex_d=bvp_D,
        centre_thickness_mm=t_mm,
        index=n,
        wrap_deg=wrap_deg,
    )
    return {"approx_pd": abs(rule), "exact_pd": abs(exact), "induced_base": wrap_prism_base(exact)}

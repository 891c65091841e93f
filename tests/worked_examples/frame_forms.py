"""Adapters for the bridge, the sides, the head, the vertex distance, prescription and trace."""

from typing import Any

from app.documents.trace_record import read_trace_header
from app.documents.vision_prescription import EyePrescription, read_prescription_text
from app.frame.bridge_section import (
    apical_radius_from_width,
    bridge_height_above_centre_line,
    bridge_width_at,
    flank_normal_to_midline,
    frontal_angle_from_widths,
    opening_difference_from_splay,
    widths_grow_downwards,
)
from app.frame.head_outline import head_circumference
from app.frame.side_geometry import (
    TEACHING_CLINIC_GRIP_MM,
    arc_start_before_bend,
    as_worn_tilt,
    curl_length_to_tangent,
    drop_components,
    head_width_to_order,
    joint_half_width,
    length_to_bend,
    side_angle,
    temple_width_fits_head,
)
from app.frame.vertex_geometry import lash_clearance, vertex_distance
from app.optics.lens_form import back_sag
from tests.worked_examples.forms import Answer, form

TEACHING_CLINIC_LINE_MM = -5.0  # "bridge height = crest height + 5": the centre line 5 mm below the lower lid


@form("bridge_geometry", "apical_radius_mm", "frontal_angle_deg")
def bridge_widths(apical_radius_mm: float, frontal_angle_deg: float) -> Answer:
    return {
        f"dbr{depth}_mm": bridge_width_at(
            depth_mm=depth, apical_radius_mm=apical_radius_mm, frontal_angle_deg=frontal_angle_deg
        )
        for depth in (5, 10, 15)
    }


@form("bridge_geometry", "rim_thickness_mm", "splay_angle_deg")
def splay_opening(rim_thickness_mm: float, splay_angle_deg: float) -> Answer:
    opening = opening_difference_from_splay(
        rim_thickness_mm=rim_thickness_mm, splay_angle_deg=splay_angle_deg
    )
    return {"front_to_back_opening_difference_mm": opening}


@form("bridge_geometry", "frontal_angle_deg", "splay_angle_deg")
def flank_plane(frontal_angle_deg: float, splay_angle_deg: float) -> Answer:
    angle = flank_normal_to_midline(frontal_angle_deg=frontal_angle_deg, splay_angle_deg=splay_angle_deg)
    return {"true_flank_normal_to_midline_deg": angle}


@form("bridge_geometry_inverse", "dbr10_mm", "dbr15_mm")
def bridge_from_widths(dbr10_mm: float, dbr15_mm: float) -> Answer:
    angle = frontal_angle_from_widths(upper_width_mm=dbr10_mm, lower_width_mm=dbr15_mm)
    radius = apical_radius_from_width(width_mm=dbr10_mm, depth_mm=10, frontal_angle_deg=angle)
    return {"frontal_angle_deg": angle, "implied_apical_radius_mm": radius}


@form("bridge_height", "crest_height_above_lower_lid_mm")
def bridge_height(crest_height_above_lower_lid_mm: float) -> Answer:
    height = bridge_height_above_centre_line(
        crest_height_mm=crest_height_above_lower_lid_mm,
        centre_line_above_lower_lid_mm=TEACHING_CLINIC_LINE_MM,
    )
    return {"bridge_height_above_hcl_mm": height}


@form("bvd_geometry", "F2_surface_D", "n", "semi_width_mm")
def sag_behind_rim(F2_surface_D: float, n: float, semi_width_mm: float) -> Answer:
    return {"back_surface_sag_mm": back_sag(back_power_d=F2_surface_D, index=n, height_mm=semi_width_mm)}


@form(
    "bvd_geometry",
    "crest_forward_of_cornea_mm",
    "bridge_projection_mm",
    "panto_deg",
    "crest_above_pupil_mm",
    "back_surface_sag_mm",
    "rim_plane_to_lens_edge_back_mm",
    "lash_projection_from_cornea_mm",
)
def vertex_and_clearance(**case: float) -> Answer:
    distance = vertex_distance(
        crest_forward_of_cornea_mm=case["crest_forward_of_cornea_mm"],
        bridge_projection_mm=case["bridge_projection_mm"],
        pantoscopic_deg=case["panto_deg"],
        crest_above_pupil_mm=case["crest_above_pupil_mm"],
        back_sag_at_rim_mm=case["back_surface_sag_mm"],
        rim_plane_to_lens_edge_mm=case["rim_plane_to_lens_edge_back_mm"],
    )
    clearance = lash_clearance(
        vertex_distance_mm=distance, lash_projection_mm=case["lash_projection_from_cornea_mm"]
    )
    return {"bvd_mm": distance, "lash_clearance_mm": clearance}


@form("head_ellipse", "head_breadth_mm", "head_length_mm")
def head(head_breadth_mm: float, head_length_mm: float) -> Answer:
    around = head_circumference(head_breadth_mm=head_breadth_mm, head_length_mm=head_length_mm)
    return {"circumference_mm": around}


@form("head_width_order", "measured_head_width_mm")
def head_width(measured_head_width_mm: float) -> Answer:
    ordered = head_width_to_order(measured_mm=measured_head_width_mm, grip_mm=TEACHING_CLINIC_GRIP_MM)
    return {"order_head_width_mm": ordered}


@form("plausibility", "dbr10_mm", "dbr15_mm")
def widths_plausible(dbr10_mm: float, dbr15_mm: float) -> Answer:
    return {"valid": widths_grow_downwards(upper_width_mm=dbr10_mm, lower_width_mm=dbr15_mm)}


@form("plausibility", "temple_width_mm", "head_width_mm")
def temple_plausible(temple_width_mm: float, head_width_mm: float) -> Answer:
    return {"valid": temple_width_fits_head(temple_width_mm=temple_width_mm, head_width_mm=head_width_mm)}


@form("side_geometry", "head_width_mm", "temple_width_mm", "front_to_ear_mm", "temple_width_level_mm")
def let_back(
    head_width_mm: float, temple_width_mm: float, front_to_ear_mm: float, temple_width_level_mm: float
) -> Answer:
    angle = side_angle(
        head_width_mm=head_width_mm,
        temple_width_mm=temple_width_mm,
        front_to_ear_mm=front_to_ear_mm,
        temple_level_mm=temple_width_level_mm,
    )
    half = joint_half_width(
        temple_width_mm=temple_width_mm, side_angle_deg=angle, temple_level_mm=temple_width_level_mm
    )
    return {"side_angle_from_front_normal_deg": angle, "joint_half_width_mm": half}


@form(
    "side_geometry",
    "joint_to_ear_lateral_mm",
    "joint_to_ear_vertical_mm",
    "joint_to_ear_depth_mm",
    "angle_of_side_deg",
)
def bend_and_tilt(**case: float) -> Answer:
    upward, rearward = case["joint_to_ear_vertical_mm"], case["joint_to_ear_depth_mm"]
    length = length_to_bend(
        outward_mm=case["joint_to_ear_lateral_mm"], upward_mm=upward, rearward_mm=rearward
    )
    tilt = as_worn_tilt(angle_of_side_deg=case["angle_of_side_deg"], upward_mm=upward, rearward_mm=rearward)
    return {"length_to_bend_mm": length, "as_worn_panto_deg": tilt}


@form("side_geometry", "drop_length_mm", "downward_angle_deg", "inward_angle_deg")
def drop(**case: float) -> Answer:
    end = drop_components(**case)
    return {"vertical_fall_mm": end.fall_mm, "rearward_mm": end.rearward_mm, "inward_mm": end.inward_mm}


@form("side_geometry", "bend_radius_mm", "drop_angle_deg")
def bend(**case: float) -> Answer:
    return {"arc_start_before_bend_point_mm": arc_start_before_bend(**case)}


@form("side_geometry", "bend_start_mm", "curl_inner_radius_mm")
def curl(bend_start_mm: float, curl_inner_radius_mm: float) -> Answer:
    length = curl_length_to_tangent(curl_start_mm=bend_start_mm, curl_inner_radius_mm=curl_inner_radius_mm)
    return {"length_to_tangent_mm": length}


@form("dcs_trcfmt", "record")
def trace_header(record: str) -> Answer:
    header = read_trace_header(record)
    return {
        "format": header.format,
        "radii": header.radii,
        "spacing": header.spacing,
        "side": header.side,
        "source": header.source,
    }


def eye_values(prefix: str, eye: EyePrescription) -> dict[str, Any]:
    """Plain values of one eye under the names of the worked examples; what is not written is left out."""
    values: dict[str, Any] = {
        "sphere": eye.sphere_d,
        "cylinder": eye.cylinder_d,
        "axis": eye.axis_deg,
        "add": eye.addition_d,
    }
    if eye.prisms:
        values["prism_amount"] = eye.prisms[0].amount_prism_dioptres
        values["prism_base"] = eye.prisms[0].base
    return {f"{prefix}_{name}": value for name, value in values.items() if value is not None}


@form("fhir_vision_prescription", "text")
def prescription(text: str) -> Answer:
    both = read_prescription_text(text)
    return {**eye_values("r", both.right), **eye_values("l", both.left)}

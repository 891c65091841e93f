"""Adapters for the boxed system, blanks, segments and near centration."""

import re

import numpy as np

from app.documents.trace_record import radii_from_hundredths
from app.optics.boxed_system import (
    binocular_decentration,
    boxed_centre_distance,
    geometric_inset,
    monocular_decentration,
    segment_inset,
    segment_top_above_centre_line,
    smallest_blank_by_rule,
    total_inset,
)
from app.optics.near_centration import (
    inset_by_three_quarter_rule,
    near_inset,
    near_pd,
    near_pd_from_rotation_centre,
    near_pd_with_power,
    pd_read_with_rule,
)
from app.optics.outline_size import Outline, outline_from_radii, outline_sizes, smallest_blank
from tests.worked_examples.forms import Answer, form

USUAL_PD_MM = 63.0  # mean adult PD, Dodgson (2004), Proc. SPIE 5291


@form("decentration", "a_mm", "dbl_mm", "pd_mm")
def decentration_from_boxes(a_mm: float, dbl_mm: float, pd_mm: float) -> Answer:
    centres = boxed_centre_distance(lens_width_mm=a_mm, distance_between_lenses_mm=dbl_mm)
    return decentration_from_pd(bcd_mm=centres, pd_mm=pd_mm)


@form("decentration", "bcd_mm", "pd_mm")
def decentration_from_pd(bcd_mm: float, pd_mm: float) -> Answer:
    each = binocular_decentration(boxed_centre_distance_mm=bcd_mm, centration_distance_mm=pd_mm)
    return {"decentration_in_each_mm": each}


@form("decentration", "bcd_mm", "cd_mm")
def decentration_from_centration_distance(bcd_mm: float, cd_mm: float) -> Answer:
    return decentration_from_pd(bcd_mm=bcd_mm, pd_mm=cd_mm)


@form("decentration", "bcd_mm", "mono_r_mm", "mono_l_mm")
def decentration_of_each_eye(bcd_mm: float, mono_r_mm: float, mono_l_mm: float) -> Answer:
    right, left = (
        monocular_decentration(boxed_centre_distance_mm=bcd_mm, single_eye_centration_distance_mm=distance)
        for distance in (mono_r_mm, mono_l_mm)
    )
    return {"dec_in_r_mm": right, "dec_in_l_mm": left}


def shape_outline(shape: str, *, a_mm: float, b_mm: float) -> Outline:
    """A rectangle or an ellipse of the given boxed size."""
    if "rectangle" in shape:
        corners = np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]])
        return corners * np.array([a_mm / 2, b_mm / 2])
    turn = np.arange(3600) * np.pi / 1800
    return np.column_stack((a_mm / 2 * np.cos(turn), b_mm / 2 * np.sin(turn)))


@form("minimum_blank", "a_mm", "b_mm", "shape", "decentration_in_mm", "allowance_mm")
def blank_of_shape(
    a_mm: float, b_mm: float, shape: str, decentration_in_mm: float, allowance_mm: float
) -> Answer:
    outline = shape_outline(shape, a_mm=a_mm, b_mm=b_mm)
    diameter = outline_sizes(outline).effective_diameter_mm
    rule = smallest_blank_by_rule(
        effective_diameter_mm=diameter, decentration_mm=decentration_in_mm, allowance_mm=allowance_mm
    )
    exact = smallest_blank(outline, (decentration_in_mm, 0.0), allowance_mm)
    return {"ed_mm": diameter, "mbs_rule_mm": rule, "mbs_exact_mm": exact}


@form("minimum_blank", "ed_mm", "decentration_each_mm", "allowance_mm")
def blank_by_rule(ed_mm: float, decentration_each_mm: float, allowance_mm: float) -> Answer:
    blank = smallest_blank_by_rule(
        effective_diameter_mm=ed_mm, decentration_mm=decentration_each_mm, allowance_mm=allowance_mm
    )
    return {"mbs_mm": blank}


@form("minimum_blank", "ed_mm", "decentration_each_mm", "allowance_mm", "shape")
def blank_of_round_shape(
    ed_mm: float, decentration_each_mm: float, allowance_mm: float, shape: str
) -> Answer:
    if "round" not in shape:
        return blank_by_rule(ed_mm, decentration_each_mm, allowance_mm)
    outline = shape_outline(shape, a_mm=ed_mm, b_mm=ed_mm)
    return {"mbs_mm": smallest_blank(outline, (decentration_each_mm, 0.0), allowance_mm)}


@form("minimum_blank", "a_mm", "dbl_mm", "pd_mm", "ed_mm", "allowance_mm")
def blank_from_boxes(a_mm: float, dbl_mm: float, pd_mm: float, ed_mm: float, allowance_mm: float) -> Answer:
    each = decentration_from_boxes(a_mm, dbl_mm, pd_mm)["decentration_in_each_mm"]
    return blank_by_rule(ed_mm, each, allowance_mm)


@form("segment_inset", "a_mm", "dbl_mm", "dpd_mm", "npd_mm")
def insets(a_mm: float, dbl_mm: float, dpd_mm: float, npd_mm: float) -> Answer:
    centres = boxed_centre_distance(lens_width_mm=a_mm, distance_between_lenses_mm=dbl_mm)
    return {
        "geometric_inset_mm": geometric_inset(boxed_centre_distance_mm=centres, distance_pd_mm=dpd_mm),
        "seg_inset_mm": segment_inset(distance_pd_mm=dpd_mm, near_pd_mm=npd_mm),
        "total_inset_mm": total_inset(boxed_centre_distance_mm=centres, near_pd_mm=npd_mm),
    }


@form("segment_vertical", "b_mm", "seg_height_mm")
def segment_level(b_mm: float, seg_height_mm: float) -> Answer:
    above = segment_top_above_centre_line(segment_height_mm=seg_height_mm, lens_depth_mm=b_mm)
    return {"seg_top_above_hcl_mm": above}


@form("tracing", "shape", "radii_first_5_hundredths_mm")
def tracing(shape: str, radii_first_5_hundredths_mm: list[int]) -> Answer:
    """The shape sampled as the record would hold it; its first radii must be those that the case shows."""
    count = int(re.search(r"(\d+)\s+equi", shape)[1])
    half = [float(value) for value in re.findall(r"=\s*([\d.]+)", shape)]
    half_width, half_depth = half[0], half[-1]
    turn = np.arange(count) * 2 * np.pi / count
    exact = half_width * half_depth / np.hypot(half_depth * np.cos(turn), half_width * np.sin(turn))
    record = [round(100 * float(radius)) for radius in exact]
    assert record[:5] == radii_first_5_hundredths_mm
    sizes = outline_sizes(outline_from_radii(radii_from_hundredths(record)))
    return {
        "hbox_mm": sizes.width_mm,
        "vbox_mm": sizes.depth_mm,
        "fed_mm": sizes.effective_diameter_mm,
        "circ_polygon_mm": sizes.circumference_mm,
    }


@form("near_inset", "working_distance_cm", "rule")
def inset_by_rule(working_distance_cm: float, rule: str) -> Answer:
    assert "quarter" in rule
    return {"inset_each_mm": inset_by_three_quarter_rule(10 * working_distance_cm)}


@form("near_inset_rx", "mono_dpd_mm", "working_distance_from_lens_mm", "s_mm", "F_horizontal_D")
def inset_with_power(
    mono_dpd_mm: float, working_distance_from_lens_mm: float, s_mm: float, F_horizontal_D: float
) -> Answer:
    inset = near_inset(
        single_eye_pd_mm=mono_dpd_mm,
        object_from_lens_mm=working_distance_from_lens_mm,
        horizontal_power_d=F_horizontal_D,
        lens_to_rotation_centre_mm=s_mm,
    )
    return {"inset_mm": inset}


@form("near_pd", "dpd_mm", "working_distance_from_lens_mm", "s_mm", "F_D")
def near_distance(dpd_mm: float, working_distance_from_lens_mm: float, s_mm: float, F_D: float) -> Answer:
    found = near_pd_with_power(
        distance_pd_mm=dpd_mm,
        object_from_lens_mm=working_distance_from_lens_mm,
        power_d=F_D,
        lens_to_rotation_centre_mm=s_mm,
    )
    return {"npd_mm": found}


@form("near_pd", "dpd_mm", "fixation_from_centre_of_rotation_mm", "s_mm")
def near_distance_from_rotation_centre(
    dpd_mm: float, fixation_from_centre_of_rotation_mm: float, s_mm: float
) -> Answer:
    found = near_pd_from_rotation_centre(
        distance_pd_mm=dpd_mm,
        fixation_from_rotation_centre_mm=fixation_from_centre_of_rotation_mm,
        lens_to_rotation_centre_mm=s_mm,
    )
    return {"npd_mm": found}


@form("near_pd", "working_distance_cm", "note")
def near_difference_for_usual_pds(working_distance_cm: float, note: str) -> Answer:
    assert "normal" in note
    near = near_pd(distance_pd_mm=USUAL_PD_MM, object_from_lens_mm=10 * working_distance_cm)
    inset = segment_inset(distance_pd_mm=USUAL_PD_MM, near_pd_mm=near)
    return {"dpd_minus_npd_mm": 2 * inset, "seg_inset_each_mm": inset}


@form("pd_rule_error", "true_pd_mm", "examiner_pd_mm", "pupil_to_rule_mm", "pupil_to_examiner_eye_mm")
def rule_parallax(**inputs: float) -> Answer:
    return {"read_pd_mm": pd_read_with_rule(**inputs)}

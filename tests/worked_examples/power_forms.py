"""Adapters for powers: vertex distance, transposition, crossed cylinders, curves, magnification, pupils."""

from app.optics.base_curve import (
    boddy_base_curve_minus,
    boddy_base_curve_plus,
    vogel_base_curve_minus,
    vogel_base_curve_plus,
)
from app.optics.lens_form import (
    curve_variation_factor,
    nominal_back_surface,
    surface_power_from_lens_measure,
    vertex_powers,
)
from app.optics.power_matrix import blur_strength, power_vector, sum_in_contact
from app.optics.prescription_algebra import (
    Power,
    difference_of_powers,
    spherical_equivalent,
    toric_transposition,
    transposed,
)
from app.optics.pupil_size import anisocoria_class, expected_pupil_diameter, winn_diameter, winn_slope
from app.optics.spectacle_magnification import spectacle_magnification
from app.optics.vertex_distance import moved_power, moved_prescription
from tests.worked_examples.forms import Answer, form


def as_answer(power: Power, prefix: str = "") -> Answer:
    """Sphere, cylinder and axis under the names of the worked examples."""
    return {
        f"{prefix}sphere_D": power.sphere_d,
        f"{prefix}cyl_D": power.cylinder_d,
        f"{prefix}axis_deg": power.axis_deg,
    }


@form("addition", "distance_D", "near_D")
def addition(distance_D: float, near_D: float) -> Answer:
    return {"add_D": difference_of_powers(distance_D, near_D)}


@form("vertex", "F_D", "bvd_from_mm", "bvd_to_mm")
def vertex_sphere(F_D: float, bvd_from_mm: float, bvd_to_mm: float) -> Answer:
    return {"F_new_D": moved_power(F_D, tested_vertex_mm=bvd_from_mm, worn_vertex_mm=bvd_to_mm)}


@form("vertex", "sphere_D", "cyl_D", "axis_deg", "bvd_from_mm", "bvd_to_mm")
def vertex_toric(
    sphere_D: float, cyl_D: float, axis_deg: float, bvd_from_mm: float, bvd_to_mm: float
) -> Answer:
    power = Power(sphere_D, cyl_D, axis_deg)
    return as_answer(moved_prescription(power, tested_vertex_mm=bvd_from_mm, worn_vertex_mm=bvd_to_mm))


@form("transposition", "sphere_D", "cyl_D", "axis_deg")
def transposition(sphere_D: float, cyl_D: float, axis_deg: float) -> Answer:
    return as_answer(transposed(Power(sphere_D, cyl_D, axis_deg)))


@form("toric_transposition", "sphere_D", "cyl_D", "axis_deg", "base_curve_D")
def toric(sphere_D: float, cyl_D: float, axis_deg: float, base_curve_D: float) -> Answer:
    found = toric_transposition(Power(sphere_D, cyl_D, axis_deg), base_curve_D)
    return {
        "spherical_surface_D": found.sphere_curve_d,
        "base_D": found.base_curve_d,
        "base_axis_deg": found.base_axis_deg,
        "cross_D": found.cross_curve_d,
        "cross_axis_deg": found.cross_axis_deg,
    }


@form("crossed_cylinders", "lenses")
def crossed(lenses: list[list[float]]) -> Answer:
    return as_answer(sum_in_contact(Power(*lens) for lens in lenses))


@form("power_vector", "sphere_D", "cyl_D", "axis_deg")
def vector(sphere_D: float, cyl_D: float, axis_deg: float) -> Answer:
    power = Power(sphere_D, cyl_D, axis_deg)
    found = power_vector(power)
    return {
        "M_D": found.mean_d,
        "J0_D": found.straight_d,
        "J45_D": found.oblique_d,
        "blur_D": blur_strength(power),
    }


@form("vertex_powers", "F1_D", "F2_D", "t_mm", "n")
def thick_lens(F1_D: float, F2_D: float, t_mm: float, n: float) -> Answer:
    found = vertex_powers(front_power_d=F1_D, back_power_d=F2_D, thickness_mm=t_mm, index=n)
    return {
        "nominal_D": found.nominal_d,
        "fvp_D": found.front_vertex_d,
        "bvp_D": found.back_vertex_d,
        "equivalent_D": found.equivalent_d,
    }


@form("nominal_curves", "sphere_D", "cyl_D", "axis_deg", "front_D")
def nominal(sphere_D: float, cyl_D: float, axis_deg: float, front_D: float) -> Answer:
    return as_answer(nominal_back_surface(Power(sphere_D, cyl_D, axis_deg), front_D), "back_")


@form("curve_variation_factor", "n", "reference_n")
def curve_factor(n: float, reference_n: float) -> Answer:
    return {"cvf": curve_variation_factor(index=n, reference_index=reference_n)}


@form("lens_clock", "clock_D", "clock_index", "n")
def lens_measure(clock_D: float, clock_index: float, n: float) -> Answer:
    surface = surface_power_from_lens_measure(reading_d=clock_D, index=n, measure_index=clock_index)
    return {"surface_D": surface}


@form("base_curve", "sphere_D", "cyl_D", "rule")
def base_curve_vogel(sphere_D: float, cyl_D: float, rule: str) -> Answer:
    mean = spherical_equivalent(Power(sphere_D, cyl_D))
    return {"base_D": vogel_base_curve_minus(mean) if "minus" in rule else vogel_base_curve_plus(mean)}


@form("base_curve", "spherical_equivalent_D", "add_D", "rule")
def base_curve_boddy(spherical_equivalent_D: float, add_D: float, rule: str) -> Answer:
    curve = boddy_base_curve_minus if "minus" in rule else boddy_base_curve_plus
    return {"base_D": curve(spherical_equivalent_D, add_D)}


@form("spectacle_magnification", "bvp_D", "F1_D", "t_mm", "n", "d_mm")
def magnification(bvp_D: float, F1_D: float, t_mm: float, n: float, d_mm: float) -> Answer:
    found = spectacle_magnification(
        front_power_d=F1_D,
        back_vertex_d=bvp_D,
        centre_thickness_mm=t_mm,
        index=n,
        lens_to_entrance_pupil_mm=d_mm,
    )
    return {"shape": found.shape, "power": found.power, "sm": found.total}


@form("pupil_watson_yellott", "luminance_cd_m2", "field_area_deg2", "age_y", "eyes")
def pupil_unified(luminance_cd_m2: float, field_area_deg2: float, age_y: float, eyes: int) -> Answer:
    diameter = expected_pupil_diameter(
        luminance_cd_per_m2=luminance_cd_m2, field_area_deg2=field_area_deg2, age_y=age_y, eyes=eyes
    )
    return {"diameter_mm": diameter}


@form("pupil_winn", "luminance_cd_m2", "age_y")
def pupil_winn(luminance_cd_m2: float, age_y: float) -> Answer:
    return {"diameter_mm": winn_diameter(luminance_cd_per_m2=luminance_cd_m2, age_y=age_y)}


@form("pupil_winn", "luminance_cd_m2")
def pupil_winn_slope(luminance_cd_m2: float) -> Answer:
    return {"slope_mm_per_year": winn_slope(luminance_cd_m2)}


@form("anisocoria", "pupil_difference_mm")
def anisocoria(pupil_difference_mm: float) -> Answer:
    return {"cls": anisocoria_class(pupil_difference_mm)}

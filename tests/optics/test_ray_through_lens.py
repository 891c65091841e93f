"""Our own ray tracing: Snell's law at each surface, and cases with a closed answer."""

from math import atan, degrees, hypot, pi, radians, sin, sqrt, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.optics.lens_form import vertex_powers
from app.optics.lens_thickness import SphericalLens
from app.optics.ray_through_lens import (
    Ray,
    Vector,
    back_vertex_power_at,
    dot,
    met_surface,
    ray_behind_lens,
    refracted,
    surface_curvatures,
    unit,
)
from app.optics.refusal import NotPossible

PARALLEL = (0.0, 0.0, 1.0)
angles = st.floats(-35, 35)


def cross(first: Vector, second: Vector) -> Vector:
    """Vector product; of unit vectors its length is the sine of the angle between them."""
    return (
        first[1] * second[2] - first[2] * second[1],
        first[2] * second[0] - first[0] * second[2],
        first[0] * second[1] - first[1] * second[0],
    )


@given(angles, angles, st.floats(1.4, 1.8))
def test_every_refraction_obeys_snell_and_stays_in_the_plane_of_incidence(
    tilt: float, turn: float, n: float
) -> None:
    normal = unit((tan(radians(tilt)), tan(radians(turn)), 1.0))
    into = refracted(PARALLEL, normal, 1 / n)

    across = cross(normal, PARALLEL)
    # Sines from the cross product: an arc cosine near one loses half of its digits.
    before, after = hypot(*across), hypot(*cross(normal, into))
    assert before == pytest.approx(n * after, abs=1e-9)
    assert dot(across, into) == pytest.approx(0, abs=1e-9)


@given(st.floats(-15, 15), st.floats(-15, 15), st.floats(-0.02, 0.02))
def test_the_point_met_lies_on_the_sphere(x: float, y: float, curvature: float) -> None:
    point, normal = met_surface(Ray((x, y, -40.0), PARALLEL), vertex_z_mm=2.0, curvature_per_mm=curvature)

    depth = point[2] - 2.0
    off_sphere = curvature * (point[0] ** 2 + point[1] ** 2 + depth**2) - 2 * depth
    assert off_sphere == pytest.approx(0, abs=1e-9)
    assert hypot(*normal) == pytest.approx(1)


@given(angles, st.floats(1, 10), st.floats(1.45, 1.8))
def test_a_plane_plate_lets_a_ray_go_on_parallel_and_shifted(tilt: float, thickness: float, n: float) -> None:
    """Closed answer: shift d sin i (1 - cos i / sqrt(n^2 - sin^2 i)), any textbook of geometrical optics."""
    plate = SphericalLens(0.0, 0.0, thickness, n)
    incidence = radians(tilt)
    ray = Ray((0.0, 0.0, 0.0), (sin(incidence), 0.0, sqrt(1 - sin(incidence) ** 2)))

    behind = ray_behind_lens(plate, ray)

    assert behind.direction == pytest.approx(ray.direction, abs=1e-12)
    straight_on = thickness * tan(incidence)
    shift = (straight_on - behind.point_mm[0]) * ray.direction[2]
    cosine = ray.direction[2]
    wanted = thickness * sin(incidence) * (1 - cosine / sqrt(n**2 - sin(incidence) ** 2))
    assert shift == pytest.approx(wanted, abs=1e-9)


@given(st.floats(5, 30), st.floats(1.45, 1.8))
def test_rays_to_the_aplanatic_point_of_a_sphere_meet_again_without_aberration(
    height: float, n: float
) -> None:
    """Young's points: light aimed n r behind the centre of a convex surface meets r / n behind it."""
    radius = 100.0
    ray_to_mm = radius + n * radius
    aim = unit((0.0, -height, ray_to_mm))
    point, normal = met_surface(Ray((0.0, height, 0.0), aim), vertex_z_mm=0.0, curvature_per_mm=1 / radius)

    into = refracted(aim, normal, 1 / n)

    crosses_axis_mm = point[2] - point[1] * into[2] / into[1]
    assert crosses_axis_mm == pytest.approx(radius + radius / n, rel=1e-9)


@given(st.floats(0.5, 12), st.floats(-15, 0), st.floats(1, 8), st.sampled_from((1.5, 1.6, 1.74)))
def test_near_the_axis_the_traced_power_is_the_back_vertex_power(
    front: float, back: float, thickness: float, n: float
) -> None:
    lens = SphericalLens(front, back, thickness, n)
    formula = vertex_powers(front_power_d=front, back_power_d=back, thickness_mm=thickness, index=n)

    assert back_vertex_power_at(lens, 0.05) == pytest.approx(formula.back_vertex_d, abs=1e-3)


def test_surface_curvatures_are_positive_towards_the_eye() -> None:
    assert surface_curvatures(SphericalLens(5.0, -10.0, 2.0, 1.5)) == pytest.approx((0.01, 0.02))


def test_rays_that_miss_or_cannot_leave_are_refused_in_words() -> None:
    with pytest.raises(NotPossible, match="misses"):
        met_surface(Ray((0.0, 60.0, -10.0), PARALLEL), vertex_z_mm=0.0, curvature_per_mm=0.02)
    critical = degrees(atan(1 / sqrt(1.5**2 - 1)))
    too_steep = unit((tan(radians(critical) + pi / 90), 0.0, 1.0))
    with pytest.raises(NotPossible, match="totally reflected"):
        refracted(too_steep, PARALLEL, 1.5)

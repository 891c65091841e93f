"""Exact refraction of one ray by a lens with two spherical surfaces (Snell's law in vector form).

Lens coordinates in mm: x to the observer's right, y up, and here z along the light, towards the eye, so
that the front vertex lies at z = 0 and the back vertex at z = t. Directions are unit vectors. Textbook
geometrical optics; each refraction is checked against Snell's law in
`tests/optics/test_ray_through_lens.py` and the whole against an independent ray tracer.
"""

from dataclasses import dataclass
from math import sqrt

from app.optics.lens_thickness import SphericalLens
from app.optics.refusal import NotPossible

Vector = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Ray:
    """A point in mm and a unit direction, lens coordinates."""

    point_mm: Vector
    direction: Vector


def dot(first: Vector, second: Vector) -> float:
    """Scalar product of two vectors."""
    return first[0] * second[0] + first[1] * second[1] + first[2] * second[2]


def moved_along(ray: Ray, distance_mm: float) -> Vector:
    """The point (mm) of a ray after a distance in mm."""
    point, way = ray.point_mm, ray.direction
    return (
        point[0] + distance_mm * way[0],
        point[1] + distance_mm * way[1],
        point[2] + distance_mm * way[2],
    )


def unit(vector: Vector) -> Vector:
    """The vector scaled to length one."""
    length = sqrt(dot(vector, vector))
    return vector[0] / length, vector[1] / length, vector[2] / length


def refracted(direction: Vector, normal: Vector, index_ratio: float) -> Vector:
    """Unit direction after refraction.

    It is k d + (sqrt(1 - k^2 (1 - c^2)) - k c) N, k = n before / n after, c = d.N.
    `normal` is a unit vector on the far side of the surface (c > 0). Raises NotPossible at total reflection.

    >>> down = refracted((0.6, 0.0, 0.8), (0.0, 0.0, 1.0), 1 / 1.5)
    >>> round(down[0], 6)
    0.4
    """
    cosine = dot(direction, normal)
    inside = 1 - index_ratio**2 * (1 - cosine**2)
    if inside < 0:
        raise NotPossible("This ray is totally reflected inside the lens.")
    along = sqrt(inside) - index_ratio * cosine
    return unit(
        (
            index_ratio * direction[0] + along * normal[0],
            index_ratio * direction[1] + along * normal[1],
            index_ratio * direction[2] + along * normal[2],
        )
    )


def met_surface(ray: Ray, *, vertex_z_mm: float, curvature_per_mm: float) -> tuple[Vector, Vector]:
    """Point (mm) where a ray meets a spherical surface near its vertex, and the unit normal there, eye side.

    Curvature in 1/mm, + with the centre on the eye's side; 0 for a plane. Raises NotPossible when the ray
    misses.
    """
    distance_to_vertex_plane = (vertex_z_mm - ray.point_mm[2]) / ray.direction[2]
    start = moved_along(ray, distance_to_vertex_plane)
    relative = (start[0], start[1], 0.0)
    quadratic = curvature_per_mm * dot(relative, relative)
    half_linear = ray.direction[2] - curvature_per_mm * dot(relative, ray.direction)
    inside = half_linear**2 - curvature_per_mm * quadratic
    if inside < 0:
        raise NotPossible("This ray misses the surface: it is too steep a curve for a lens this large.")
    point = moved_along(Ray(start, ray.direction), quadratic / (half_linear + sqrt(inside)))
    normal = (
        -curvature_per_mm * point[0],
        -curvature_per_mm * point[1],
        1 - curvature_per_mm * (point[2] - vertex_z_mm),
    )
    return point, unit(normal)


def surface_curvatures(lens: SphericalLens) -> tuple[float, float]:
    """Curvatures in 1/mm of front and back, + with the centre on the eye's side.

    F1 / (n - 1), F2 / (1 - n).
    """
    per_dioptre = 1 / (1000 * (lens.index - 1))
    return lens.front_power_d * per_dioptre, -lens.back_power_d * per_dioptre


def ray_behind_lens(lens: SphericalLens, ray: Ray) -> Ray:
    """The ray (mm, unit direction) that leaves the back surface of a lens in air."""
    front_curvature, back_curvature = surface_curvatures(lens)
    point, normal = met_surface(ray, vertex_z_mm=0.0, curvature_per_mm=front_curvature)
    inside = Ray(point, refracted(ray.direction, normal, 1 / lens.index))
    point, normal = met_surface(inside, vertex_z_mm=lens.centre_thickness_mm, curvature_per_mm=back_curvature)
    return Ray(point, refracted(inside.direction, normal, lens.index))


def back_vertex_power_at(lens: SphericalLens, height_mm: float) -> float:
    """Power in dioptres that a ray parallel to the axis meets at a height in mm.

    1000 / (way in mm from the back vertex to where it crosses the axis).
    Near the axis this is the back vertex power; farther out the spherical aberration shows.
    """
    leaving = ray_behind_lens(lens, Ray((0.0, height_mm, -50.0), (0.0, 0.0, 1.0)))
    if abs(leaving.direction[1]) < 1e-15:
        return 0.0
    to_axis_mm = -leaving.point_mm[1] * leaving.direction[2] / leaving.direction[1]
    return 1000 / (leaving.point_mm[2] - lens.centre_thickness_mm + to_axis_mm)

"""Write `ray_reference.csv`: lenses traced by a general-purpose ray tracer that knows nothing of spectacles.

Run by hand, in an environment of its own, when a case is added; the tests only read the CSV:

    python3 -m venv ray-tracer && ray-tracer/bin/pip install "optiland==0.6.3"
    ray-tracer/bin/python tests/reference/make_ray_reference.py

Nothing of the application is imported. Lenses are given to the tracer by radii, thickness and index; light
runs along +z towards the eye, x to the observer's right, y up (front view). The front is spherical, the
back spherical or a torus whose flatter or steeper curve runs along the axis. A tilted lens is traced by
turning the rays into the lens's frame with explicit basis vectors. Powers are measured, not computed: a
chief ray and neighbours 0.02 mm away are traced, and the change of direction over the change of place in
the plane square to the leaving chief ray, through the point where it leaves the back surface, is the power
matrix.
"""

import csv
import importlib.metadata
import math
from itertools import product
from pathlib import Path

import numpy as np
from optiland.materials import IdealMaterial
from optiland.optic import Optic
from optiland.rays import RealRays

FILE = Path(__file__).with_name("ray_reference.csv")
STEP_MM = 0.02
START_MM = -60.0
COLUMNS = [
    "kind",
    "eye",
    "index",
    "thickness_mm",
    "front_radius_mm",
    "back_radius_along_axis_mm",
    "back_radius_across_mm",
    "axis_deg",
    "pantoscopic_deg",
    "wrap_deg",
    "point_right_mm",
    "point_up_mm",
    "flat_xx_d",
    "flat_xy_d",
    "flat_yy_d",
    "worn_xx_d",
    "worn_xy_d",
    "worn_yy_d",
    "prism_right",
    "prism_up",
    "back_right_mm",
    "back_up_mm",
]


def radius(power_d: float, index_step: float) -> float:
    """Radius in mm of a surface of a power; infinite for a plane."""
    return math.inf if power_d == 0 else 1000 * index_step / power_d


def lens_radii(sphere, cylinder, front, thickness, index):
    """Radii of a lens of about the wanted back vertex power: the tracer then measures what it really has."""
    after = front / (1 - thickness / 1000 / index * front)
    along, across = sphere - after, sphere + cylinder - after
    return radius(front, index - 1), radius(along, 1 - index), radius(across, 1 - index)


def traced(lens, points, directions):
    """Points and directions (n, 3) behind the lens, in its own frame, with its cylinder axis along x."""
    front, along, across, thickness, index = lens
    system = Optic()
    system.surfaces.add(index=0, thickness=np.inf)
    system.surfaces.add(
        index=1, radius=front, thickness=thickness, material=IdealMaterial(n=index), is_stop=True
    )
    if along == across:
        system.surfaces.add(index=2, radius=along, thickness=50)
    else:
        system.surfaces.add(
            index=2,
            surface_type="toroidal",
            radius_x=along,
            radius_y=across,
            conic=0,
            coeffs_poly_y=[],
            thickness=50,
        )
    system.surfaces.add(index=3)
    ones = np.ones(len(points))
    rays = RealRays(*points.T, *directions.T, ones, 0.5876 * ones)
    for surface in list(system.surfaces)[1:3]:
        surface.trace(rays)
    return np.column_stack((rays.x, rays.y, rays.z)), np.column_stack((rays.L, rays.M, rays.N))


def lens_basis(eye, axis, pantoscopic, wrap):
    """Rows: unit vectors of the lens's axis, across it, and its normal, written in the wearer's frame."""
    pantoscopic, wrap = math.radians(pantoscopic), math.radians(wrap) * (1 if eye == "right" else -1)
    lower_rim_to_face = np.array(
        [
            [1, 0, 0],
            [0, math.cos(pantoscopic), -math.sin(pantoscopic)],
            [0, math.sin(pantoscopic), math.cos(pantoscopic)],
        ]
    )
    temple_to_face = np.array(
        [[math.cos(wrap), 0, -math.sin(wrap)], [0, 1, 0], [math.sin(wrap), 0, math.cos(wrap)]]
    )
    cosine, sine = math.cos(math.radians(axis)), math.sin(math.radians(axis))
    axis_to_right = np.array([[cosine, sine, 0], [-sine, cosine, 0], [0, 0, 1]])
    return axis_to_right @ lower_rim_to_face @ temple_to_face


def measured(lens, basis, aim=(0.0, 0.0)):
    """Power matrix, deviation in prism dioptres and leaving point of light along z through a lens point."""
    steps = STEP_MM * np.array([[0, 0], [1, 0], [-1, 0], [0, 1], [0, -1]])
    points = np.column_stack((steps + np.asarray(aim), np.full(5, START_MM)))
    directions = np.tile([0.0, 0.0, 1.0], (5, 1))
    points, directions = traced(lens, points @ basis.T, directions @ basis.T)
    points, directions = points @ basis, directions @ basis
    chief_point, chief = points[0], directions[0]
    to_plane = ((chief_point - points) @ chief) / (directions @ chief)
    places = points + to_plane[:, None] * directions
    right = np.cross([0.0, 1.0, 0.0], chief)
    right /= np.linalg.norm(right)
    plane = np.vstack((right, np.cross(chief, right)))
    place, turn = places @ plane.T, directions @ plane.T
    moved = np.column_stack(((place[1] - place[2]) / 2, (place[3] - place[4]) / 2))
    turned = np.column_stack(((turn[1] - turn[2]) / 2, (turn[3] - turn[4]) / 2))
    power = -1000 * turned @ np.linalg.inv(moved)
    return power, 100 * chief[:2] / chief[2], chief_point


def row(
    kind, radii, *, index, thickness, axis=180.0, eye="right", pantoscopic=0.0, wrap=0.0, point=(0.0, 0.0)
):
    """One line of the reference."""
    lens = (*radii, thickness, index)
    flat, _, _ = measured(lens, lens_basis(eye, axis, 0, 0))
    worn, prism, leaving = measured(lens, lens_basis(eye, axis, pantoscopic, wrap), point)
    given = (kind, eye, index, thickness, *radii, axis, pantoscopic, wrap, *point)
    powers = (matrix[at] for matrix in (flat, worn) for at in ((0, 0), (0, 1), (1, 1)))
    return [*given, *(f"{value:.6f}" for value in (*powers, *prism, leaving[0], leaving[1]))]


def usual_form(sphere, number):
    """Front curve, thickness and index that such a lens could have; the index goes round with the number."""
    index = (1.498, 1.6, 1.67, 1.74, 1.523)[number % 5]
    return max(0.5, 6 + sphere / 2), 1.8 + max(0.0, 0.35 * sphere), index


def rows():
    """Vertex power, prism by decentration, power as worn, and prism by wrap."""
    for number, sphere in enumerate(range(-15, 16)):
        front, thickness, index = usual_form(sphere, number)
        radii = lens_radii(sphere, 0, front, thickness, index)
        yield row("vertex power", radii, index=index, thickness=thickness)
        for height in (2.0, 5.0, 10.0):
            yield row("prism", radii, index=index, thickness=thickness, point=(0.0, -height))
    torics = (
        (6, -3, 140),
        (3, 2, 60),
        (-4, -2, 30),
        (-8, -3, 180),
        (-12, -1.5, 90),
        (2.5, -1.25, 105),
        (9, -2.25, 35),
    )
    for number, (sphere, cylinder, axis) in enumerate(torics):
        front, thickness, index = usual_form(sphere, number)
        radii = lens_radii(sphere, cylinder, front, thickness, index)
        for point in ((2.5, -11.0), (-4.0, -6.0), (5.0, 3.0)):
            yield row("prism", radii, index=index, thickness=thickness, axis=axis, point=point)
    spheres = tuple((sphere, 0.0, 180.0) for sphere in (-15, -10, -6, -3, 3, 6, 10, 15))
    wears = ((10, 0, "right"), (0, 8, "right"), (9, 6, "right"), (9, 6, "left"), (12, 15, "right"))
    for number, ((sphere, cylinder, axis), (pantoscopic, wrap, eye)) in enumerate(
        product(spheres + torics, wears)
    ):
        front, thickness, index = usual_form(sphere, number)
        radii = lens_radii(sphere, cylinder, front, thickness, index)
        wear = {"axis": axis, "eye": eye, "pantoscopic": pantoscopic, "wrap": wrap}
        yield row("as worn", radii, index=index, thickness=thickness, **wear)
    for front, thickness, index, wrap in product(
        (4.0, 6.0, 8.0), (2.0, 3.0), (1.5, 1.6), (5, 10, 15, 20, 25)
    ):
        radii = lens_radii(0, 0, front, thickness, index)
        yield row("wrap prism", radii, index=index, thickness=thickness, wrap=wrap)


if __name__ == "__main__":
    version = importlib.metadata.version("optiland")
    with FILE.open("w", newline="", encoding="utf-8") as file:
        file.write(f"# Traced with optiland {version} by make_ray_reference.py, which names the units.\n")
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(COLUMNS)
        writer.writerows(rows())

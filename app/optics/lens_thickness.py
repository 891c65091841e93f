"""Centre and edge thickness of a spherical lens at a height from its centre: exactly and by the rough rule.
e = t - z1 + z2, t centre, e edge, z1 and z2 the sags of front and back (+ towards the eye), all in mm.
Source of the identity: M. Jalie, Lens Design,
https://www.tionet.in/Mags/2023/May-June%202023/files/basic-html/page112.html.
"""

from dataclasses import dataclass

from app.optics.lens_form import approximate_sag, back_sag, back_surface_for, front_sag
from app.optics.refusal import NotPossible

PASSES = 50  # the fixed point gains more than a digit with each pass; 3 to 5 are enough for 0.01 mm
SETTLED_MM = 1e-10


@dataclass(frozen=True, slots=True)
class SphericalLens:
    """A lens with two spherical surfaces: powers in dioptres, centre thickness in mm, index."""

    front_power_d: float
    back_power_d: float
    centre_thickness_mm: float
    index: float


def rough_thickness_difference(*, power_d: float, index: float, height_mm: float) -> float:
    """Centre minus edge thickness in mm by the rough rule: y^2 F / (2000 (n - 1)); + for plus lenses.

    Source: method of the ABDO worked problems, quoted in "Accurate calculation of thickness" (optiboard,
    2005): +4.00, n 1.5, blank 60, edge 1.0: centre 4.6.

    >>> 1.0 + rough_thickness_difference(power_d=4, index=1.5, height_mm=30)
    4.6
    """
    return approximate_sag(surface_power_d=power_d, index=index, height_mm=height_mm)


def rough_edge_thickness(
    *, centre_thickness_mm: float, power_d: float, index: float, height_mm: float
) -> float:
    """Edge thickness in mm by the rough rule: centre - y^2 F / (2000 (n - 1)), y from the optical centre.

    >>> rough_edge_thickness(centre_thickness_mm=1.5, power_d=-6, index=1.6, height_mm=25)
    4.625
    """
    return centre_thickness_mm - rough_thickness_difference(power_d=power_d, index=index, height_mm=height_mm)


def thickness_at(lens: SphericalLens, height_mm: float) -> float:
    """Thickness in mm of the lens at a height from its optical centre, exactly: t - z1 + z2.

    Negative when the surfaces have crossed. Example with inputs of Jalie (tionet.in, as above): 6.301.

    >>> round(thickness_at(SphericalLens(4.00, -14.00, 1.0, 1.523), 22), 3)
    6.301
    """
    return (
        lens.centre_thickness_mm
        - front_sag(front_power_d=lens.front_power_d, index=lens.index, height_mm=height_mm)
        + back_sag(back_power_d=lens.back_power_d, index=lens.index, height_mm=height_mm)
    )


def lens_with_centre(
    *, back_vertex_d: float, front_power_d: float, centre_thickness_mm: float, index: float
) -> SphericalLens:
    """The lens (dioptres, mm) of a back vertex power with a given front and centre.

    This is the usual case of a minus lens.

    >>> lens = lens_with_centre(back_vertex_d=-6, front_power_d=2, centre_thickness_mm=1.5, index=1.6)
    >>> round(lens.back_power_d, 3), round(thickness_at(lens, 25), 3)
    (-8.004, 4.748)
    """
    back = back_surface_for(
        back_vertex_d=back_vertex_d,
        front_power_d=front_power_d,
        thickness_mm=centre_thickness_mm,
        index=index,
    )
    return SphericalLens(front_power_d, back, centre_thickness_mm, index)


def lens_with_edge(
    *, back_vertex_d: float, front_power_d: float, edge_thickness_mm: float, height_mm: float, index: float
) -> SphericalLens:
    """The lens of a back vertex power that is `edge_thickness_mm` thick at `height_mm`.

    This is the usual case of a plus lens.
    Centre thickness and back surface depend on each other: repeat t = e + z1 - z2(F2(t)) until t stands
    still.

    >>> lens = lens_with_edge(
    ...     back_vertex_d=4, front_power_d=8, edge_thickness_mm=1, height_mm=30, index=1.498)
    >>> round(lens.centre_thickness_mm, 3), round(lens.back_power_d, 3)
    (4.836, -4.212)
    """
    centre = edge_thickness_mm
    for _ in range(PASSES):
        lens = lens_with_centre(
            back_vertex_d=back_vertex_d,
            front_power_d=front_power_d,
            centre_thickness_mm=centre,
            index=index,
        )
        step = edge_thickness_mm - thickness_at(lens, height_mm)
        centre += step
        if centre <= 0:
            raise NotPossible(
                f"An edge of {edge_thickness_mm:g} mm leaves no centre: the lens is minus, give a centre."
            )
        if abs(step) < SETTLED_MM:
            return lens
    raise NotPossible(
        f"No centre thickness settles for {back_vertex_d:+.2f} D on a front of {front_power_d:+.2f} D."
    )

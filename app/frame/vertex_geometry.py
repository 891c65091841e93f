"""Where the lens sits before the eye: vertex distance and lash clearance from bridge, tilt and lens form.

Distances in mm forwards from the corneal apex; plane geometry, derived here. 1 mm of projection moves the
lens 1 mm; 1 degree of tilt with the crest 9 mm above the pupil moves it 0.16 mm.
"""

from math import radians, tan

from app.optics.lens_form import back_sag


def vertex_distance(
    *,
    crest_forward_of_cornea_mm: float,
    bridge_projection_mm: float,
    pantoscopic_deg: float,
    crest_above_pupil_mm: float,
    back_sag_at_rim_mm: float,
    rim_plane_to_lens_edge_mm: float,
) -> float:
    """Back vertex distance in mm: (z_c - P) - dv tan p + z2 - g.

    z_c bearing point of the crest, P bridge projection (+ crest in front of the lens plane), p pantoscopic
    tilt in degrees, dv height of the bearing point above the pupil, z2 sag of the back surface over the
    half-width that rests in the groove, g from the rim's reference plane back to the lens edge.

    >>> distance = vertex_distance(
    ...     crest_forward_of_cornea_mm=11,
    ...     bridge_projection_mm=-2,
    ...     pantoscopic_deg=10,
    ...     crest_above_pupil_mm=11,
    ...     back_sag_at_rim_mm=1.6,
    ...     rim_plane_to_lens_edge_mm=0.5,
    ... )
    >>> round(distance, 2)
    12.16
    """
    plane_at_crest_mm = crest_forward_of_cornea_mm - bridge_projection_mm
    plane_at_pupil_mm = plane_at_crest_mm - crest_above_pupil_mm * tan(radians(pantoscopic_deg))
    return plane_at_pupil_mm + back_sag_at_rim_mm - rim_plane_to_lens_edge_mm


def lash_clearance(*, vertex_distance_mm: float, lash_projection_mm: float) -> float:
    """Room in mm between lens and lashes on the axis.

    It is the vertex distance - the projection of the lashes from the cornea.

    >>> round(lash_clearance(vertex_distance_mm=12.16, lash_projection_mm=9), 2)
    3.16
    """
    return vertex_distance_mm - lash_projection_mm


def lash_clearance_at(
    *,
    vertex_distance_mm: float,
    lash_projection_mm: float,
    back_power_d: float,
    index: float,
    height_from_centre_mm: float,
) -> float:
    """Room in mm where the lash tips are.

    The hollow back comes nearer by its sag at that height from the centre.
    Vertex distance - sag of the back (power in dioptres) at the height - lash projection.

    >>> round(lash_clearance_at(vertex_distance_mm=13, lash_projection_mm=9, back_power_d=-6, index=1.498,
    ...                         height_from_centre_mm=8), 2)
    3.61
    """
    nearer_mm = back_sag(back_power_d=back_power_d, index=index, height_mm=height_from_centre_mm)
    return vertex_distance_mm - nearer_mm - lash_projection_mm

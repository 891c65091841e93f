"""Where the checks on what a choice leads to speak, and where they are silent."""

from typing import Any

from app.plausibility.finding import Severity
from tests.plausibility.case import Case, case, eye, handmade, prescribed

ASK, NOTE = Severity.ASK, Severity.NOTE
NOSE = {"bridge_width_10": 19.5, "bridge_width_15": 23.5, "frontal_angle": (22, 22), "apical_radius": 8.5}
LASHES = {"lash_projection": (9, 9), "lid_aperture": (10, 10), "pd_monocular": (31.5, 31.5)}
STANDS = {"bridge_projection": 3, "crest_height": 6, "side_angle": (8, 8)}


def box(width: float, height: float, **more: Any) -> Case:
    """A pair of one box."""
    return case(pairs=(handmade(lens_width=width, lens_height=height, **more),))


def worn(power: float, vertex: float, width: float = 46, **more: Any) -> Case:
    """A round pair of one power, planned at a vertex distance."""
    pair = handmade(
        lens_width=width,
        lens_height=width,
        distance_between_lenses=63 - width if width < 55 else 10,
        outline="round",
        index=1.6,
        vertex_mm=vertex,
        lens_form="single_vision_distance",
        **more,
    )
    return case(pairs=(pair,), prescription=prescribed(eye(power), eye(power)), **LASHES, **STANDS)


def between(millimetres: float, **face: Any) -> Case:
    """An oblong front on a nose, with so much between its lenses."""
    pair = handmade(lens_width=48, lens_height=36, distance_between_lenses=millimetres, outline="rectangle")
    return case(pairs=(pair,), **{**NOSE, "crest_height": 6, **face})


FIRES = {
    # a box 48 × 36 is 60 across its corners (3 : 4 : 5)
    "longest-diameter": (
        (ASK, box(48, 36, longest_diameter_mm=47)),
        (ASK, box(48, 36, longest_diameter_mm=60.5)),
    ),
    # a round shape in a square box has its width for its longest diameter
    "shape-longest-diameter": ((NOTE, box(46, 46, outline="round", longest_diameter_mm=53)),),
    # a back of −30.5 D has a radius of 1000 × 0.6 / 30.5 = 19.7 mm: it does not reach an edge 23 mm away
    "lens-not-possible": ((ASK, worn(-30, 12)),),
    "lens-over-nose": ((NOTE, between(12)),),
    # back of about −14 D in 1.6: a sag of 1.6 mm where the outer lashes stand, 12.5 mm from the centre
    "lash-room-all-round": ((NOTE, worn(-12, 11.5)), (ASK, worn(-20, 11.2))),
    "vertex-planned": ((NOTE, worn(-8, 20)),),
}
QUIET = {
    "longest-diameter": (
        box(48, 36, longest_diameter_mm=48),
        box(48, 36, longest_diameter_mm=60),
        box(48, 36),
    ),
    "shape-longest-diameter": (
        box(46, 46, outline="round", longest_diameter_mm=51.9),
        box(46, 46, outline="as_traced", longest_diameter_mm=58),
        box(46, 46, longest_diameter_mm=58),
    ),
    "lens-not-possible": (worn(4, 12), worn(-12, 12), box(46, 46, outline="round")),
    "lens-over-nose": (between(24), between(12, crest_height=None), case(**NOSE)),
    "lash-room-all-round": (worn(-2, 13), worn(-12, 14), case(**LASHES)),
    "vertex-planned": (worn(-8, 13), worn(-1, 20), case(**LASHES)),
}

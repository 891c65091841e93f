"""An ordinary invented adult as a fitting, with any reading changed or left out."""

from collections.abc import Mapping

from app.catalogue.measurement import Side
from app.fitting.cover_test import CoverTest
from app.fitting.fitting import Fitting, Person, Taken
from app.fitting.reading import Reading
from app.plausibility.finding import Subject

Box = tuple[str, Side | None, int | None, str | None]
ONE_VALUE: dict[str, float] = {
    "bridge_width_10": 18.5,
    "bridge_width_15": 23,
    "bridge_projection": 2,
    "apical_radius": 8,
    "crest_height": 6,
    "pd_near": 58.5,
    "working_distance": 40,
    "head_width": 143,
    "temple_width": 133,
    "head_height": 128,
    "head_circumference": 565,
}
EACH_SIDE: dict[str, tuple[float, float]] = {
    "frontal_angle": (24, 25),
    "splay_angle": (28, 29),
    "lash_projection": (9, 9),
    "pd_monocular": (31, 31.5),
    "side_angle": (9, 10),
    "length_to_tangent": (102, 101),
    "drop_angle": (45, 40),
    "drop_length": (38, 37),
    "head_diagonal": (157.5, 158),
    "pupil_horizontal": (3.5, 3.5),
    "pupil_vertical": (3.5, 3.5),
    "lid_aperture": (9.5, 9),
    "iris_diameter": (11.5, 11.5),
}
PAIR_ONE: dict[str, float] = {
    "lens_width": 49,
    "lens_height": 36,
    "distance_between_lenses": 18,
    "pd_worn": 62.5,
    "pd_near_worn": 58.5,
    "vertex_distance": 13,
    "pantoscopic_angle": 8,
    "face_form_angle": 4,
}
PAIR_EACH: dict[str, tuple[float, float]] = {
    "length_to_bend": (92, 91),
    "let_back_angle": (92, 92),
    "joint_height": (7, 7),
    "segment_height": (16, 16),
    "fitting_height": (21, 21.5),
    "centre_height": (17, 17.5),
}


def every_box() -> dict[Box, float]:
    """Each box and its value: 62 readings with the second pair."""
    boxes: dict[Box, float] = {(key, None, None, None): value for key, value in ONE_VALUE.items()}
    boxes[("pd_distance", None, None, "rule")] = 63
    boxes[("pd_distance", None, None, "pupil_gauge")] = 62.5
    boxes |= {(key, None, 2, None): value for key, value in PAIR_ONE.items()}
    for pair, values in ((None, EACH_SIDE), (2, PAIR_EACH)):
        for key, (right, left) in values.items():
            boxes[(key, "R", pair, None)] = right
            boxes[(key, "L", pair, None)] = left
    return boxes


def ordinary_fitting(
    changed: Mapping[Box, float | None] | None = None,
    *,
    only: tuple[str, ...] | None = None,
    sex: str | None = None,
    born: str | None = "1976-03-01",
    cover_test: CoverTest | None = None,
) -> Fitting:
    """The ordinary adult; `changed` values by box (None leaves the box out), `only` these measurements."""
    boxes: dict[Box, float | None] = {**every_box(), **(changed or {})}
    readings = tuple(
        Reading(measurement=key, value=float(value), text=f"{value:g}", side=side, pair=pair, method=method)
        for (key, side, pair, method), value in boxes.items()
        if value is not None and (only is None or key in only)
    )
    return Fitting(
        person=Person(reference="ordinary", born=born, sex=sex),  # type: ignore[arg-type]
        taken=Taken(on="2026-06-01"),
        readings=readings,
        cover_test=cover_test or CoverTest(),
    )


def box(key: str, side: Side | None = None, pair: int | None = None, method: str | None = None) -> Box:
    """A box by its name."""
    return key, side, pair, method


def subject(
    key: str, side: Side | None = None, pair: int | None = None, method: str | None = None
) -> Subject:
    """The same as the subject of a finding."""
    return Subject(measurement=key, side=side, pair=pair, method=method)

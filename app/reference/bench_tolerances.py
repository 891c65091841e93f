"""Agreed bench tolerances of handmade frames, as data: what a received frame may differ by from its order.

A handmade frame is made to what practice and maker agree: write it on the order. Boxed sizes and side lengths
follow ISO 12870 (see app.reference.frame_tolerances); the others are common practice. Check the current
edition.
"""

from dataclasses import dataclass

from app.reference.frame_tolerances import DISTANCE_BETWEEN_LENSES, ISO_12870_MEMORY, LENS_WIDTH, SIDE_LENGTH

AGREED = "common practice: an agreed bench tolerance for handmade frames. Agree it with the maker."


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchTolerance:
    """Allowed difference, more or less, of one ordered dimension, in its own unit (mm or degrees).

    `pair_difference`: how much right and left may differ beyond what was ordered; None: nothing agreed.
    """

    dimension: str
    amount: float
    source: str = AGREED
    pair_difference: float | None = None


BENCH_TOLERANCES: dict[str, BenchTolerance] = {
    one.dimension: one
    for one in (
        BenchTolerance(
            dimension="lens_width",
            amount=LENS_WIDTH.tolerance_mm,
            source=ISO_12870_MEMORY,
            pair_difference=0.5,
        ),
        BenchTolerance(
            dimension="lens_height",
            amount=LENS_WIDTH.tolerance_mm,
            source=ISO_12870_MEMORY,
            pair_difference=0.5,
        ),
        BenchTolerance(
            dimension="distance_between_lenses",
            amount=DISTANCE_BETWEEN_LENSES.tolerance_mm,
            source=ISO_12870_MEMORY,
        ),
        BenchTolerance(
            dimension="overall_length",
            amount=SIDE_LENGTH.tolerance_mm,
            source=ISO_12870_MEMORY,
            pair_difference=1.0,
        ),
        BenchTolerance(dimension="length_to_bend", amount=2.0),
        BenchTolerance(dimension="bridge_width_10", amount=0.5),
        BenchTolerance(dimension="bridge_width_15", amount=0.5),
        BenchTolerance(dimension="apical_radius", amount=0.5),
        BenchTolerance(dimension="bridge_projection", amount=0.5),
        BenchTolerance(dimension="crest_height", amount=0.5),
        BenchTolerance(dimension="frontal_angle", amount=2.0),
        BenchTolerance(dimension="splay_angle", amount=2.0),
        BenchTolerance(dimension="head_width", amount=3.0),
        BenchTolerance(dimension="temple_width", amount=2.0),
        BenchTolerance(dimension="drop_angle", amount=5.0),
        BenchTolerance(dimension="side_angle", amount=1.0, pair_difference=1.0),
    )
}
"""By the dimension of the order. What is not here has no agreed tolerance: a person decides."""

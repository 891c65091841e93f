"""Where the checks of the pair and its heights speak, and where they are silent."""

from app.plausibility.finding import Severity
from app.practice.settings import Adjustments, PracticeSettings
from tests.plausibility.case import case, handmade, own_frame

ASK, NOTE, STOP = Severity.ASK, Severity.NOTE, Severity.STOP
SMALL = handmade(lens_width=43, distance_between_lenses=18, lug_width_mm=8)
OWN = (own_frame(),)


def heights(lens: float, right: float, left: float) -> dict[str, object]:
    """Lens and segment heights of pair 2."""
    return {"lens_height": lens, "segment_height": (right, left)}


def fitted(lens: float, right: float, left: float) -> dict[str, object]:
    """Lens and fitting heights of pair 2."""
    return {"lens_height": lens, "fitting_height": (right, left)}


FIRES = {
    "segment-height-lens": (
        (ASK, case(pairs=OWN, on_pair_2=heights(36, 16, 21.5))),
        (STOP, case(pairs=OWN, on_pair_2=heights(22, 22, 14))),
    ),
    "fitting-height-lens": (
        (STOP, case(pairs=OWN, on_pair_2=fitted(28, 28, 20))),
        (STOP, case(pairs=(handmade(lens_height=28),), on_pair_1={"fitting_height": (20, 30)})),
    ),
    # The lid lies 36 / 2 − 2 = 16 up: bifocal tops at the lower lid (Brooks and Borish).
    "segment-height-lid": (
        (NOTE, case(pairs=(own_frame(centre_line_above_lid_mm=2),), on_pair_2=heights(36, 16, 18.5))),
        (ASK, case(pairs=(own_frame(centre_line_above_lid_mm=2),), on_pair_2=heights(36, 16, 11.5))),
    ),
    "segment-heights-differ": (
        (NOTE, case(pairs=OWN, on_pair_2=heights(36, 16, 17))),
        (ASK, case(pairs=OWN, on_pair_2=heights(36, 16, 18))),
    ),
    "fitting-heights-differ": (
        (NOTE, case(pairs=OWN, on_pair_2=fitted(40, 20, 22.5))),
        (ASK, case(pairs=OWN, on_pair_2=fitted(40, 20, 23.5))),
        (STOP, case(pairs=OWN, on_pair_2=fitted(40, 18, 23.5))),
    ),
    "lens-height-near": (
        (
            ASK,
            case(
                pairs=(own_frame(lens_form="bifocal"),),
                lid_aperture=(10, 10),
                on_pair_2={"lens_height": 23.5},
            ),
        ),
        (ASK, case(pairs=(own_frame(lens_form="progressive"),), on_pair_2=fitted(36, 13.5, 18))),
        (ASK, case(pairs=(own_frame(lens_form="progressive"),), on_pair_2=fitted(27, 17.5, 17))),
    ),
    "low-lens": ((NOTE, case(lid_aperture=(11, 12), pairs=OWN, on_pair_2={"lens_height": 23.5})),),
    "pupil-off-centre-line": (
        (NOTE, case(pairs=OWN, on_pair_2={"lens_height": 36, "centre_height": (22.5, 20)})),
    ),
    # 2 × 43 + 18 + 16 = 120 between the joints: boxed system of ISO 8624, lugs common practice.
    "front-temple-width": (
        (NOTE, case(temple_width=134, pairs=(SMALL,))),
        (ASK, case(temple_width=141, pairs=(SMALL,))),
    ),
    # 90 + arctan((139 − 120) / 2 / 90) = 96.03: plane geometry, recomputed by hand.
    "let-back": (
        (NOTE, case(head_width=144, length_to_tangent=(100, 100), pairs=(SMALL,))),
        (ASK, case(head_width=158, length_to_tangent=(100, 100), pairs=(SMALL,))),
        (ASK, case(head_width=110, length_to_tangent=(100, 100), pairs=(SMALL,))),
    ),
    "ordered-widths": (
        (ASK, case(head_width=140, temple_width=134, pairs=(SMALL,))),
        (
            ASK,
            case(
                head_width=148,
                temple_width=137,
                pairs=(SMALL,),
                settings=PracticeSettings(adjustments=Adjustments(temple_width_ease_mm=-1)),
            ),
        ),
        (
            ASK,
            case(
                head_width=148,
                temple_width=137,
                pairs=(SMALL,),
                settings=PracticeSettings(adjustments=Adjustments(head_width_grip_mm=-1)),
            ),
        ),
    ),
    # (70 / 2) − 31 = 4 in, − 30.5 out beyond: boxed centres 70, perret-optic.ch and jeopardylabs.com questions.
    "decentration": (
        (NOTE, case(pd_monocular=(33, 31), pairs=(handmade(lens_width=50, distance_between_lenses=20),))),
        (ASK, case(pd_monocular=(33, 29.5), pairs=(handmade(lens_width=50, distance_between_lenses=20),))),
        (ASK, case(pd_monocular=(33, 36.5), pairs=(handmade(lens_width=50, distance_between_lenses=20),))),
    ),
    # Longest diameter + 2 × decentration + 2, as in askinglot.com's rule of the smallest blank.
    "smallest-blank": (
        (
            NOTE,
            case(
                pd_monocular=(30, 30),
                pairs=(handmade(lens_width=50, distance_between_lenses=18, longest_diameter_mm=56),),
            ),
        ),
        (
            ASK,
            case(
                pd_monocular=(30, 30),
                pairs=(handmade(lens_width=54, distance_between_lenses=18, longest_diameter_mm=58),),
            ),
        ),
        (
            STOP,
            case(
                pd_monocular=(28, 30),
                pairs=(handmade(lens_width=58, distance_between_lenses=20, longest_diameter_mm=62),),
            ),
        ),
    ),
}

QUIET = {
    "segment-height-lens": (case(pairs=OWN, on_pair_2=heights(36, 16, 21)),),
    "fitting-height-lens": (case(pairs=OWN, on_pair_2=fitted(28, 27.5, 20)),),
    "segment-height-lid": (
        case(pairs=(own_frame(centre_line_above_lid_mm=2),), on_pair_2=heights(36, 14, 18)),
        # without a plan of its own the practice's centre line counts, 2 above the lid
        case(pairs=OWN, on_pair_2=heights(36, 14, 18)),
    ),
    "segment-heights-differ": (case(pairs=OWN, on_pair_2=heights(36, 16, 16.9)),),
    "fitting-heights-differ": (case(pairs=OWN, on_pair_2=fitted(40, 20, 22)),),
    "lens-height-near": (
        case(pairs=(own_frame(lens_form="bifocal"),), lid_aperture=(10, 10), on_pair_2={"lens_height": 24}),
        case(pairs=(own_frame(lens_form="progressive"),), on_pair_2=fitted(28, 18, 14)),
        case(pairs=(own_frame(lens_form="single_vision_distance"),), on_pair_2={"lens_height": 20}),
    ),
    "low-lens": (case(lid_aperture=(11, 12), pairs=OWN, on_pair_2={"lens_height": 24}),),
    "pupil-off-centre-line": (case(pairs=OWN, on_pair_2={"lens_height": 36, "centre_height": (22, 14)}),),
    "front-temple-width": (
        case(temple_width=132, pairs=(SMALL,)),
        case(temple_width=141, pairs=(own_frame(lens_width=43, distance_between_lenses=18),)),
    ),
    "let-back": (
        case(head_width=143, length_to_tangent=(100, 100), pairs=(SMALL,)),
        case(head_width=122, length_to_tangent=(100, 100), pairs=(SMALL,)),
        case(head_width=158, pairs=(SMALL,)),
    ),
    "ordered-widths": (
        case(head_width=141, temple_width=134, pairs=(SMALL,)),
        case(head_width=140, temple_width=134, pairs=OWN),
    ),
    "decentration": (
        case(pd_monocular=(32, 36), pairs=(handmade(lens_width=50, distance_between_lenses=20),)),
        case(pairs=(handmade(lens_width=50, distance_between_lenses=20),)),
    ),
    "smallest-blank": (
        case(
            pd_monocular=(30, 30),
            pairs=(handmade(lens_width=50, distance_between_lenses=18, longest_diameter_mm=55),),
        ),
        case(pairs=(handmade(lens_width=50, distance_between_lenses=18, longest_diameter_mm=80),)),
    ),
}

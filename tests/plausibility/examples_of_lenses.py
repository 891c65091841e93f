"""Where the checks of lenses and prescriptions speak, and where they are silent."""

from app.plausibility.finding import Severity
from tests.plausibility.case import (
    LATENT_OUT,
    NO_MOVEMENT,
    SQUINT_KNOWN,
    case,
    covered,
    eye,
    handmade,
    own_frame,
    prescribed,
)

ASK, NOTE, STOP = Severity.ASK, Severity.NOTE, Severity.STOP
PLANO = eye(0.0)
LOW = prescribed(eye(-1.0), eye(-1.0))
NEAR = prescribed(eye(1.0, add=2.0), eye(1.0, add=2.0))
HIGH = prescribed(eye(-11.5, -1.25, 175), eye(-12.75, -0.75, 10))
BIFOCAL = own_frame(lens_form="bifocal")
NO_SQUINT = covered(NO_MOVEMENT, NO_MOVEMENT)

FIRES = {
    # ±5.00 in any meridian, by practice after BS 2738-3 (from memory).
    "vertex-strong-lens": (
        (NOTE, case(prescription=prescribed(eye(-4.5, -0.5, 90), PLANO), pairs=(handmade(vertex_mm=12),))),
        (ASK, case(prescription=HIGH, pairs=(handmade(vertex_mm=13),))),
        (ASK, case(prescription=HIGH, pairs=(handmade(),))),
        (
            ASK,
            case(
                prescription=prescribed(eye(-6.0), PLANO, tested_at_mm=None), pairs=(handmade(vertex_mm=12),)
            ),
        ),
        (ASK, case(prescription=HIGH, pairs=(own_frame(),), on_pair_2={"vertex_distance": 14})),
    ),
    # +2.00 −1.75 × 180 against +2.75 −1.00 × 135: 0.25 and 2.25 upright, 2.0 at 10 mm (McCarthy, CET, b2b).
    "reading-level-prism": (
        (
            ASK,
            case(prescription=prescribed(eye(2.0, -1.75, 180), eye(2.75, -1.0, 135)), pairs=(BIFOCAL,)),
        ),
        # +1.00 against +3.00 is 2.0, +1.00 against +2.00 is 1.0: Prentice, same source
        (ASK, case(prescription=prescribed(eye(1.0), eye(3.0)), pairs=(BIFOCAL,))),
        (NOTE, case(prescription=prescribed(eye(1.0), eye(2.0)), pairs=(BIFOCAL,))),
    ),
    # 1.2 + 22.5² × 12.75 / (2000 × 0.67) = 6.02: approximate sag (Jalie), recomputed by hand.
    "edge-thickness": (
        (
            NOTE,
            case(
                prescription=prescribed(eye(-11.5, -1.25, 175), PLANO),
                pd_monocular=(30.5, 30.5),
                pairs=(
                    handmade(lens_width=43, distance_between_lenses=18, longest_diameter_mm=45, index=1.67),
                ),
            ),
        ),
        (
            ASK,
            case(
                prescription=prescribed(eye(-12.0), PLANO),
                pd_monocular=(30.5, 30.5),
                pairs=(
                    handmade(lens_width=50, distance_between_lenses=18, longest_diameter_mm=52, index=1.6),
                ),
            ),
        ),
    ),
    # Prentice: 6.75 × 0.1 = 0.675.
    "one-millimetre-prism": (
        (NOTE, case(prescription=prescribed(eye(-6.0, -0.75, 90), PLANO), pairs=(handmade(),))),
        (NOTE, case(prescription=HIGH, pairs=(handmade(),))),
    ),
    "add-and-height": (
        (ASK, case(prescription=LOW, pairs=(handmade(lens_form="bifocal"),))),
        (ASK, case(prescription=NEAR, pairs=(BIFOCAL,))),
        (ASK, case(prescription=NEAR, pairs=(own_frame(lens_form="progressive"),))),
        (ASK, case(prescription=NEAR, pairs=(BIFOCAL,), on_pair_2={"segment_height": (16, None)})),
        (
            ASK,
            case(
                prescription=NEAR,
                pairs=(handmade(lens_form="progressive"),),
                on_pair_1={"fitting_height": (None, 20)},
            ),
        ),
        (ASK, case(prescription=NEAR, pairs=(handmade(lens_form="bifocal", route="straight_through"),))),
        (
            ASK,
            case(
                prescription=NEAR,
                pairs=(own_frame(lens_form="single_vision_distance"),),
                on_pair_2={"segment_height": (16, 16)},
            ),
        ),
    ),
    "heavy-lenses": (
        (NOTE, case(prescription=prescribed(eye(-6.0), PLANO), pairs=(handmade(lens_width=54.5),))),
    ),
    # Two years: Sale of Optical Appliances Order 1984 (United Kingdom).
    "prescription-age": (
        (STOP, case(prescription=prescribed(PLANO, PLANO, written=None))),
        (ASK, case(prescription=prescribed(PLANO, PLANO, written="2024-10-01"))),
        (ASK, case(prescription=prescribed(PLANO, PLANO, written="2026-10-03"), today="2026-10-02")),
        (NOTE, case(age=8, prescription=prescribed(PLANO, PLANO, written="2025-10-01"))),
    ),
    "one-eye-prescribed": (
        (ASK, case(prescription=prescribed(eye(-1.0), None))),
        (ASK, case(pairs=(own_frame(prescription=prescribed(None, PLANO)),))),
    ),
    "prism-bases": (
        (STOP, case(prescription=prescribed(eye(0.0, prism=((2, None),)), PLANO))),
        (ASK, case(prescription=prescribed(eye(0.0, prism=((2, "up"),)), eye(0.0, prism=((1, "up"),))))),
        (ASK, case(prescription=prescribed(eye(0.0, prism=((2, "in"),)), eye(0.0, prism=((2, "out"),))))),
    ),
    # Axes run from 0 to 180: ISO 8429.
    "cylinder-axis": (
        (ASK, case(prescription=prescribed(eye(-1.0, -0.5), PLANO))),
        (ASK, case(prescription=prescribed(eye(-1.0, -0.5, 181), PLANO))),
        (ASK, case(prescription=prescribed(eye(-1.0, None, 90), PLANO))),
    ),
    "strong-cylinder": ((ASK, case(prescription=prescribed(eye(-1.0, -6.25, 90), PLANO))),),
    "spheres-differ": (
        (ASK, case(prescription=prescribed(eye(1.0), eye(-3.25)))),
        # −3.25 +1.00 × 90 is −2.25 −1.00 × 180, so these lie 4.25 apart
        (ASK, case(prescription=prescribed(eye(2.0), eye(-3.25, 1.0, 90)))),
    ),
    "power-steps": (
        (ASK, case(prescription=prescribed(eye(-2.3), PLANO))),
        (ASK, case(prescription=prescribed(eye(-2.0, -0.6, 90), PLANO))),
        (ASK, case(prescription=prescribed(eye(1.0, add=2.1), PLANO))),
    ),
    "addition": (
        (ASK, case(prescription=prescribed(eye(1.0, add=0.5), eye(1.0, add=0.5)))),
        (ASK, case(prescription=prescribed(eye(1.0, add=3.75), eye(1.0, add=3.75)))),
        (ASK, case(prescription=prescribed(eye(1.0, add=2.0), eye(1.0, add=2.25)))),
        (ASK, case(age=10, prescription=NEAR)),
        (ASK, case(prescription=prescribed(eye(1.0, add=2.0), eye(1.0)))),
    ),
    "prism-without-deviation": (
        (
            ASK,
            case(
                cover=NO_SQUINT,
                prescription=prescribed(eye(0.0, prism=((3, "in"),)), eye(0.0, prism=((2, "in"),))),
            ),
        ),
    ),
    "two-prescriptions": (
        (
            ASK,
            case(
                prescription=LOW,
                pairs=(handmade(use="distance"), own_frame(use="distance", prescription=NEAR)),
            ),
        ),
    ),
}

QUIET = {
    "vertex-strong-lens": (
        case(prescription=prescribed(eye(-4.25, -0.5, 90), PLANO), pairs=(handmade(),)),
        case(prescription=None, pairs=(handmade(),)),
    ),
    "reading-level-prism": (
        case(prescription=prescribed(eye(1.0), eye(1.75)), pairs=(BIFOCAL,)),
        case(prescription=prescribed(eye(1.0), eye(-4.0)), pairs=(handmade(),)),
        # a cylinder without an axis has no vertical power
        case(prescription=prescribed(eye(1.0, -3.0), eye(1.0)), pairs=(BIFOCAL,)),
    ),
    "edge-thickness": (
        case(
            prescription=prescribed(eye(-6.0), eye(6.0)),
            pd_monocular=(31, 31),
            pairs=(handmade(lens_width=44, distance_between_lenses=18, longest_diameter_mm=46, index=1.67),),
        ),
        case(
            prescription=prescribed(eye(9.0), eye(9.0)),
            pd_monocular=(31, 31),
            pairs=(handmade(lens_width=54, distance_between_lenses=18),),
        ),
    ),
    "one-millimetre-prism": (
        case(prescription=prescribed(eye(-6.5), PLANO), pairs=(handmade(),)),
        case(prescription=prescribed(eye(-6.0, -0.7, 90), PLANO), pairs=(handmade(),)),
    ),
    "add-and-height": (
        case(prescription=NEAR, pairs=(BIFOCAL,), on_pair_2={"segment_height": (16, 16)}),
        case(prescription=NEAR, pairs=(handmade(lens_form="bifocal", route="fit_up"),)),
        # an eye that is a prosthesis needs no height
        case(
            prescription=NEAR,
            pairs=(BIFOCAL,),
            on_pair_2={"segment_height": (16, None)},
            history={"prosthetic_eye": "L"},
        ),
        case(
            prescription=NEAR,
            pairs=(handmade(lens_form="bifocal", route="straight_through", centre_line_above_lid_mm=2),),
        ),
        case(prescription=NEAR, pairs=(own_frame(lens_form="single_vision_near"),)),
        case(prescription=LOW, pairs=(own_frame(lens_form="single_vision_distance"),)),
    ),
    "heavy-lenses": (
        case(prescription=prescribed(eye(-6.0), PLANO), pairs=(handmade(lens_width=54),)),
        case(prescription=prescribed(eye(-5.75), PLANO), pairs=(handmade(lens_width=58),)),
    ),
    "prescription-age": (
        case(prescription=prescribed(PLANO, PLANO, written="2024-10-02")),
        case(age=8, prescription=prescribed(PLANO, PLANO, written="2025-10-02")),
        case(prescription=prescribed(PLANO, PLANO, written="2026-10-02"), today="2026-10-02"),
        case(),
    ),
    "one-eye-prescribed": (
        case(prescription=prescribed(PLANO, PLANO)),
        case(prescription=prescribed(eye(-1.0), None), history={"prosthetic_eye": "L"}),
        case(),
    ),
    "prism-bases": (
        case(prescription=prescribed(eye(0.0, prism=((2, "down"),)), eye(0.0, prism=((2, "up"),)))),
        case(prescription=prescribed(eye(0.0, prism=((2, "in"),)), eye(0.0, prism=((1, "in"),)))),
        case(prescription=prescribed(eye(0.0, prism=((2, "in"),)), eye(0.0, prism=((1, "out"),)))),
        case(prescription=prescribed(eye(0.0, prism=((2, "up"),)), PLANO)),
    ),
    "cylinder-axis": (
        case(prescription=prescribed(eye(-1.0, -0.5, 180), eye(-1.0, 0.5, 0))),
        case(prescription=LOW),
    ),
    "strong-cylinder": (case(prescription=prescribed(eye(-1.0, -6.0, 90), PLANO)),),
    "spheres-differ": (
        case(prescription=prescribed(eye(1.0), eye(-3.0))),
        # −2.00 −3.00 × 90 written with a plus cylinder is −5.00 +3.00 × 180: the same lens, not 5 apart
        case(prescription=prescribed(eye(-1.0, -3.0, 90), eye(-5.0, 3.0, 180))),
        case(prescription=prescribed(eye(1.0), None)),
    ),
    "power-steps": (
        case(prescription=prescribed(eye(-2.25, -0.5, 90, add=2.0), eye(-0.12))),
        case(prescription=prescribed(eye(-2.37), eye(0.125))),
    ),
    "addition": (
        case(prescription=prescribed(eye(1.0, add=0.75), eye(1.0, add=0.75))),
        case(prescription=prescribed(eye(1.0, add=3.5), eye(1.0, add=3.5))),
        case(age=10, prescription=LOW),
        case(prescription=prescribed(eye(1.0, add=2.0), None)),
    ),
    "prism-without-deviation": (
        case(
            cover=NO_SQUINT,
            prescription=prescribed(eye(0.0, prism=((2.5, "in"),)), eye(0.0, prism=((2, "in"),))),
        ),
        case(
            cover=covered(NO_MOVEMENT, LATENT_OUT),
            prescription=prescribed(eye(0.0, prism=((6, "in"),)), PLANO),
        ),
        case(cover=covered(SQUINT_KNOWN), prescription=prescribed(eye(0.0, prism=((6, "in"),)), PLANO)),
        case(prescription=prescribed(eye(0.0, prism=((6, "in"),)), PLANO)),
    ),
    "two-prescriptions": (
        case(prescription=LOW, pairs=(handmade(use="distance"), own_frame(use="near", prescription=NEAR))),
        case(prescription=LOW, pairs=(handmade(use="distance"), own_frame(use="distance", prescription=LOW))),
        case(prescription=LOW, pairs=(handmade(), own_frame(prescription=NEAR))),
    ),
}

"""Where the checks of sides, head, pupils and lids speak, and where they are silent."""

from app.plausibility.finding import Severity
from tests.plausibility.case import case, handmade, own_frame

ASK, NOTE, STOP, REFER = Severity.ASK, Severity.NOTE, Severity.STOP, Severity.REFER
SQUARE = {"temple_width": 137, "head_width": 148, "length_to_tangent": (102, 102)}

FIRES = {
    # “Temple width must be less than head width”: teaching notes, knowt.com 9b6d31fb; 152 and 148 in their set.
    "head-temple-width": (
        (STOP, case(head_width=148, temple_width=152)),
        (STOP, case(head_width=148, temple_width=148)),
        (ASK, case(head_width=148, temple_width=145)),
        (ASK, case(head_width=160, temple_width=134)),
    ),
    # 3.45 to 4.07 times the greatest breadth in 6,068 adults (ANSUR II); the ear points lie inside that.
    "circumference-head-width": (
        (ASK, case(head_circumference=509, head_width=150)),
        (ASK, case(head_circumference=698, head_width=150)),
    ),
    "head-diagonals": (
        (NOTE, case(head_diagonal=(160, 164))),
        (ASK, case(head_diagonal=(160, 167))),
    ),
    # √(142.5² + 77²) = 161.97: trapezium of widths 137 and 148 and a length of 102, recomputed by hand.
    "diagonal-widths-length": (
        (NOTE, case(head_diagonal=(167, 166), **SQUARE)),
        (NOTE, case(head_diagonal=(171, 162), **SQUARE)),
        (ASK, case(head_diagonal=(171, 171), **SQUARE)),
        (ASK, case(head_diagonal=(171, None), **SQUARE)),
    ),
    "length-to-tangent-sides": (
        (NOTE, case(length_to_tangent=(101, 98))),
        (ASK, case(length_to_tangent=(102, 108))),
        (ASK, case(length_to_tangent={"hearing_aid_in": (102, 110), "hearing_aid_out": (102, 102)})),
    ),
    "side-angle-sides": (
        (NOTE, case(side_angle=(9, 11.5), length_to_tangent=(101, 98))),
        (ASK, case(side_angle=(9, 14))),
    ),
    "drop-angle-sides": (
        (NOTE, case(drop_angle=(40, 46))),
        (ASK, case(drop_angle=(40, 55))),
    ),
    # About 10 mm from front to joint: ISO 8624 takes off 10 for a side without a joint.
    "tangent-bend": (
        (
            NOTE,
            case(length_to_tangent=(102, 102), pairs=(own_frame(),), on_pair_2={"length_to_bend": (97, 92)}),
        ),
        (
            NOTE,
            case(length_to_tangent=(102, 102), pairs=(own_frame(),), on_pair_2={"length_to_bend": (92, 88)}),
        ),
        (
            ASK,
            case(length_to_tangent=(102, 102), pairs=(own_frame(),), on_pair_2={"length_to_bend": (99, 92)}),
        ),
        (
            ASK,
            case(length_to_tangent=(102, 102), pairs=(own_frame(),), on_pair_2={"length_to_bend": (92, 85)}),
        ),
    ),
    "hearing-aid-lengths": (
        (NOTE, case(history={"hearing_aids": "both"}, length_to_tangent=(102, 102))),
        (NOTE, case(history={"hearing_aids": "L"}, length_to_tangent={"hearing_aid_out": (102, 102)})),
    ),
    "pupil-iris": (
        (ASK, case(pupil_horizontal=(7, 7), iris_diameter=(11.5, 11.5))),
        (STOP, case(pupil_horizontal=(11.5, 4), iris_diameter=(11.5, 11.5))),
    ),
    # 19 % of healthy people differ by 0.4 mm or more at one look (Lam and others 1987, AJO 104:69).
    "pupils-unequal": (
        (NOTE, case(pupil_horizontal=(3.5, 4))),
        (REFER, case(pupil_horizontal=(3.5, 4.5))),
        (REFER, case(pupil_horizontal=(3.5, 4), lid_aperture=(9.5, 8.5))),
    ),
    # Right and left irises are alike (Rüfer and others 2005, doi 10.1097/01.ico.0000148312.01805.53).
    "irises-unequal": (
        (NOTE, case(iris_diameter=(11.5, 12.5))),
        (REFER, case(iris_diameter=(11, 12.5))),
        (REFER, case(age=6, iris_diameter=(11.5, 12.5))),
    ),
    # 1 mm or more in 5.7 %, at most 2.1 (Lam and others 1995, AJO 120:518).
    "lids-unequal": (
        (NOTE, case(lid_aperture=(9.5, 8.5))),
        (REFER, case(lid_aperture=(10, 8))),
    ),
    "lids-iris": (
        (NOTE, case(lid_aperture=(6.5, 9), iris_diameter=(11.5, 11.5))),
        (ASK, case(lid_aperture=(12, 9), iris_diameter=(11.5, 11.5))),
    ),
    "lids-pupil": ((NOTE, case(lid_aperture=(5.5, 9), pupil_horizontal=(5, 5))),),
    # A circle seen askew narrows with the cosine: 0.8 is 37° (Mathur and others 2013, doi 10.1167/13.6.3).
    "pupil-shape": ((ASK, case(pupil_horizontal=(3, 4), pupil_vertical=(4, 4))),),
}

QUIET = {
    "head-temple-width": (
        case(head_width=148, temple_width=144),
        case(head_width=160, temple_width=135),
        case(head_width=148),
    ),
    "circumference-head-width": (
        case(head_circumference=510, head_width=150),
        case(head_circumference=697.5, head_width=150),
        case(head_circumference=560),
    ),
    "head-diagonals": (case(head_diagonal=(160, 163)),),
    "diagonal-widths-length": (
        case(head_diagonal=(165.9, 165.9), **SQUARE),
        # one 5 too long, the other right: 2.5 in the mean, and the two diagonals speak for themselves
        case(head_diagonal=(167, 162), **SQUARE),
        case(head_diagonal=(171, 162), temple_width=137, head_width=148),
        # each diagonal goes with the ear that it ends at
        case(head_diagonal=(162, 158), temple_width=137, head_width=148, length_to_tangent=(97, 102)),
    ),
    "length-to-tangent-sides": (
        case(length_to_tangent=(102, 100)),
        case(length_to_tangent={"hearing_aid_in": (102, 102), "hearing_aid_out": (102, 110)}),
    ),
    "side-angle-sides": (case(side_angle=(9, 10.5)),),
    "drop-angle-sides": (case(drop_angle=(40, 45)),),
    "tangent-bend": (
        case(length_to_tangent=(102, 102), pairs=(own_frame(),), on_pair_2={"length_to_bend": (96, 89)}),
        case(length_to_tangent=(102, 102), pairs=(handmade(),), on_pair_1={"length_to_bend": (80, 80)}),
    ),
    "hearing-aid-lengths": (
        case(
            history={"hearing_aids": "R"},
            length_to_tangent={"hearing_aid_in": (102, None), None: (None, 102)},
        ),
        case(history={"hearing_aids": "none"}, length_to_tangent=(102, 102)),
    ),
    "pupil-iris": (case(pupil_horizontal=(6.9, 4), iris_diameter=(11.5, 11.5)),),
    "pupils-unequal": (
        # 0.3 mm is within the limit of Lam and others 1987
        case(pupil_horizontal=(3.5, 3.8)),
        case(pupil_horizontal=(3.5, 6), history={"prosthetic_eye": "L"}),
        case(pupil_horizontal=(3.5, 3.5), lid_aperture=(9.5, 8.5)),
    ),
    "irises-unequal": (
        case(iris_diameter=(11.5, 12)),
        case(age=6, iris_diameter=(11.5, 12)),
        case(iris_diameter=(11, 13), history={"prosthetic_eye": "R"}),
    ),
    "lids-unequal": (
        case(lid_aperture=(9.5, 9)),
        case(lid_aperture=(9.5, 6), history={"prosthetic_eye": "L"}),
    ),
    "lids-iris": (
        case(lid_aperture=(7, 11.5), iris_diameter=(11.5, 11.5)),
        case(lid_aperture=(6.9, 9), iris_diameter=(11.5, 11.5)),
    ),
    "lids-pupil": (case(lid_aperture=(6, 9), pupil_horizontal=(5, 5)),),
    "pupil-shape": (case(pupil_horizontal=(4, 4), pupil_vertical=(5, 4.5)),),
}

"""Step 13, second part: what is measured with the pair on, sitting where it will be worn."""

from app.catalogue import cautions, conditions
from app.catalogue.limits import limits
from app.catalogue.measurement import Measurement
from app.catalogue.pair_off_face import PAIR_OFF_FACE
from app.catalogue.pupil_distances import CHILD_NEAR_PD_LIMITS, CHILD_PD_LIMITS, NEAR_PD_LIMITS, PD_LIMITS
from app.catalogue.pupil_distances import REPEAT_SOURCE as PD_REPEAT_SOURCE
from app.reference.bibliography import COMMON_PRACTICE, ISO_13666

HEIGHT_REPEAT = f"{COMMON_PRACTICE}: heights repeat to about 1 mm"
MARKED_ON_LENS = "Use a marker, not a sharp point; mark the lens, never towards the eye."
ON_LENS = (
    "Patient upright and relaxed, looking at your eye at the same height, pair sitting where it will be worn."
)

PD_WORN = Measurement(
    key="pd_worn",
    label="PD with the pair on",
    unit="mm",
    scale_step=0.5,
    sides="one",
    definition="Distance between the pupil centres as marked on the lenses, looking far with the pair on.",
    reference_line="Dot to dot on the lenses, looking far",
    how=(
        f"{ON_LENS} Dot each lens in front of the pupil, or hold the rule to the front; take the pair off"
        " and measure."
    ),
    instruments=("rule", "pupil_gauge"),
    becomes="Centration in this frame, checked against the single-eye PDs.",
    adult=PD_LIMITS,
    child=CHILD_PD_LIMITS,
    repeat_tolerance=1.0,
    repeat_source=PD_REPEAT_SOURCE,
    conditions=conditions.EYES,
    cautions=(MARKED_ON_LENS,),
    errors="Frame sitting sideways on uneven pads. The rule held away from the lenses.",
    cannot="One eye, or a squint: use the single-eye PDs, each with the other eye covered.",
    off_pair=True,
)

PD_NEAR_WORN = Measurement(
    key="pd_near_worn",
    label="Near PD with the pair on",
    unit="mm",
    scale_step=0.5,
    sides="one",
    definition="Distance between the lines of sight as marked on the lenses, looking at the working distance.",
    reference_line="Dot to dot on the lenses, looking near",
    how="As the far one, your better eye at the patient's working distance, opposite their nose.",
    instruments=("rule", "pupil_gauge"),
    becomes="Near centration and segment inset in this frame.",
    adult=NEAR_PD_LIMITS,
    child=CHILD_NEAR_PD_LIMITS,
    repeat_tolerance=1.0,
    repeat_source=PD_REPEAT_SOURCE,
    conditions=conditions.EYES,
    cautions=(MARKED_ON_LENS,),
    errors="Exchanged with the far one. Another working distance.",
    cannot="No near portion and no near use: leave it blank.",
    off_pair=True,
    optional=True,
)

SEGMENT_HEIGHT = Measurement(
    key="segment_height",
    label="Segment height",
    unit="mm",
    scale_step=0.5,
    sides="each",
    definition=(
        f"From the bottom of the box round the lens straight up to the top of the segment ({ISO_13666})."
    ),
    reference_line="From the bottom of the lens box up to the segment top",
    how=(
        f"{ON_LENS} Mark the lower lid margin on each lens and measure straight down to the bottom of the box."
        " Lower for little near use, higher for much; respect what the patient wears now."
    ),
    instruments=("rule",),
    becomes="Segment height, each side; better ordered as millimetres above or below the centre line.",
    adult=limits(
        usual=(13, 22),
        ask=(12, 25),
        stop=(6, 70),
        source=f"{COMMON_PRACTICE}; above the lens itself is a check of its own",
    ),
    repeat_tolerance=1.0,
    repeat_source=HEIGHT_REPEAT,
    conditions=conditions.WORN,
    cautions=(MARKED_ON_LENS, "No rule upright in front of an open eye: mark, take off, then measure."),
    errors="Down to the rim instead of the box. You taller than the patient. Chin up. Frame not trued first.",
    cannot="A frame that does not exist yet: plan it from the face, or take it at the fit-up.",
    off_pair=True,
    optional=True,
)

FITTING_HEIGHT = Measurement(
    key="fitting_height",
    label="Fitting height",
    unit="mm",
    scale_step=0.5,
    sides="each",
    definition="From the bottom of the box straight up to the fitting cross, in front of the pupil centre.",
    reference_line="From the bottom of the lens box up to the pupil centre",
    how=(
        f"{ON_LENS} Mark the pupil centre on each lens, take the pair off, and measure down to the bottom"
        " of the box."
    ),
    instruments=("rule",),
    becomes="Fitting-cross height, each side; the lens maker gives the least that the design needs.",
    adult=limits(usual=(18, 26), ask=(14, 32), stop=(8, 70), source=COMMON_PRACTICE),
    repeat_tolerance=1.0,
    repeat_source=HEIGHT_REPEAT,
    conditions=conditions.WORN,
    cautions=(MARKED_ON_LENS,),
    errors="Marked while the patient looked up at you. Measured to the rim.",
    cannot="Take it at the fit-up.",
    off_pair=True,
    optional=True,
)

CENTRE_HEIGHT = Measurement(
    key="centre_height",
    label="Optical centre height",
    unit="mm",
    scale_step=0.5,
    sides="each",
    definition=(
        "From the bottom of the box straight up to where the optical centre of a single-vision lens is"
        " wanted."
    ),
    reference_line="From the bottom of the lens box up to the optical centre",
    how=(
        f"{ON_LENS} Mark the pupil centre, then lower the mark by half a millimetre for every degree of tilt,"
        " so that the axis of the lens passes through the eye's centre of rotation."
    ),
    instruments=("rule",),
    becomes="Vertical centration, each side.",
    adult=limits(usual=(15, 26), ask=(11, 32), stop=(6, 70), source=COMMON_PRACTICE),
    repeat_tolerance=1.0,
    repeat_source=HEIGHT_REPEAT,
    conditions=conditions.WORN,
    cautions=(MARKED_ON_LENS,),
    errors="The pupil height written without the allowance for tilt. One side copied to the other.",
    cannot="Leave it blank where the centre is to lie on the centre line.",
    off_pair=True,
    optional=True,
)

VERTEX_DISTANCE = Measurement(
    key="vertex_distance",
    label="Vertex distance",
    unit="mm",
    scale_step=1,
    sides="one",
    definition=(
        "From the back of the lens to the front of the cornea, along the line of sight, with the pair on."
    ),
    reference_line="From the back of the lens to the cornea",
    how="Closed-lid gauge with its allowance for the lid, or a side rule read from 30 to 40 cm away.",
    instruments=("vertex_gauge", "rule"),
    becomes="Vertex distance as worn; needed from 5.00 D up in any meridian.",
    adult=limits(
        usual=(11, 15), ask=(9, 17), stop=(5, 25), source=f"{COMMON_PRACTICE}; 12 to 15 is ordinary"
    ),
    repeat_tolerance=1,
    repeat_source=f"Judgement, {COMMON_PRACTICE}",
    conditions=conditions.WORN,
    cautions=(cautions.CLOSED_LID, cautions.RULE_NEAR_EYE),
    errors="Lid allowance left off or added twice. Measured to the front of the lens.",
    cannot="Planned vertex distance, marked estimated.",
    near_eye=True,
    off_pair=True,
    optional=True,
    drawing="pair_position",
)

PANTOSCOPIC_ANGLE = Measurement(
    key="pantoscopic_angle",
    label="Tilt as worn",
    unit="deg",
    scale_step=1,
    sides="one",
    definition=(
        "As-worn pantoscopic angle: how far the lens plane leans from the vertical, bottom towards the"
        " cheeks plus."
    ),
    reference_line="From the vertical to the lens plane, seen from the side",
    how=(
        "Patient looking straight ahead in their usual posture; scale at the side, zero upright, arm"
        " along the rims."
    ),
    instruments=("protractor",),
    becomes="Tilt for lenses worked to the position of wear, and for lowering the optical centres.",
    adult=limits(usual=(4, 12), ask=(0, 16), stop=(-10, 25), source=COMMON_PRACTICE),
    repeat_tolerance=2,
    repeat_source=f"Judgement, {COMMON_PRACTICE}: protractors repeat to about 2°",
    conditions=conditions.WORN,
    errors="The frame's own angle of side written for it. Chin up or down.",
    cannot="Angle of side less the downward slope of the side, marked estimated.",
    off_pair=True,
    optional=True,
    drawing="pair_position",
)

FACE_FORM_ANGLE = Measurement(
    key="face_form_angle",
    label="Face-form angle",
    unit="deg",
    scale_step=1,
    sides="one",
    definition="Seen from above, the angle between the plane of the front and the plane of the lens, the wrap.",
    reference_line="From the plane of the front to the plane of the lens",
    how="From above, zero along the line through the middle of the front, arm along one lens.",
    instruments=("protractor",),
    becomes="Wrap for lenses worked to the position of wear.",
    adult=limits(usual=(0, 8), ask=(0, 15), stop=(-5, 35), source=COMMON_PRACTICE),
    repeat_tolerance=2,
    repeat_source=f"Judgement, {COMMON_PRACTICE}: protractors repeat to about 2°",
    conditions=conditions.WORN,
    errors="The angle between the two lenses, which is double.",
    cannot="Leave it blank on a flat front.",
    off_pair=True,
    optional=True,
    drawing="pair_position",
)

ON_FACE: tuple[Measurement, ...] = (
    PD_WORN,
    PD_NEAR_WORN,
    SEGMENT_HEIGHT,
    FITTING_HEIGHT,
    CENTRE_HEIGHT,
    VERTEX_DISTANCE,
    PANTOSCOPIC_ANGLE,
    FACE_FORM_ANGLE,
)
WORN_PAIR: tuple[Measurement, ...] = (*PAIR_OFF_FACE, *ON_FACE)

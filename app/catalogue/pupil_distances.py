"""Step 7: how far apart the eyes are, by two methods, each eye on its own, and at the working distance."""

from app.catalogue import cautions, conditions
from app.catalogue.limits import limits
from app.catalogue.measurement import Measurement, Method
from app.reference.bibliography import (
    ANSUR_2,
    COMMON_PRACTICE,
    DODGSON_2004,
    GANTZ_2021,
    MCMAHON_2012,
)

PD_LIMITS = limits(
    usual=(56, 70),
    ask=(52, 75),
    stop=(45, 80),
    source=f"Usual: {COMMON_PRACTICE}. Ask: {ANSUR_2}, of whom 0.2 % lie outside. Stop: {DODGSON_2004}",
)
CHILD_PD_LIMITS = limits(
    usual=(44, 62),
    ask=(40, 66),
    stop=(35, 75),
    source=f"{COMMON_PRACTICE}; from five years up rarely below 40 ({DODGSON_2004})",
)
NEAR_PD_LIMITS = limits(
    usual=(52, 67),
    ask=(48, 70),
    stop=(40, 78),
    source=f"{COMMON_PRACTICE}; about 3 below the distance PD ({GANTZ_2021})",
)
CHILD_NEAR_PD_LIMITS = limits(usual=(41, 58), ask=(38, 62), stop=(32, 72), source=COMMON_PRACTICE)

RULE = Method(
    key="rule",
    label="Rule, two eyes",
    repeat_tolerance=1.0,
    repeat_source=f"{MCMAHON_2012}: 95 % of repeats by rule within −1.0 to +1.2 mm",
)
PUPIL_GAUGE = Method(
    key="pupil_gauge",
    label="Pupil gauge",
    repeat_tolerance=0.5,
    repeat_source=f"{MCMAHON_2012}: standard error of measurement 0.27 mm; one step of the scale",
)
REPEAT_SOURCE = f"{MCMAHON_2012}, as for the rule"

PD_DISTANCE = Measurement(
    key="pd_distance",
    label="PD, distance",
    unit="mm",
    scale_step=0.5,
    sides="one",
    definition="Distance between the centres of the two pupils when both eyes look far away.",
    reference_line="Pupil centre to pupil centre, looking far",
    how=(
        "Rule: 40 cm away, eyes level. The patient looks at your open left eye with zero set at their right pupil,"
        " then at your open right eye; read at their left pupil; go back and see that zero has not moved."
        " Gauge: set to far, forehead bar in even contact, read to the light reflex. Take it by both."
    ),
    instruments=("rule", "pupil_gauge"),
    becomes="A check on the single-eye PDs, which are what is ordered.",
    adult=PD_LIMITS,
    child=CHILD_PD_LIMITS,
    repeat_tolerance=1.0,
    repeat_source=REPEAT_SOURCE,
    methods=(RULE, PUPIL_GAUGE),
    each_method=True,
    conditions=conditions.EYES,
    cautions=(cautions.RULE_NEAR_EYE,),
    errors=(
        "36 for 63. The near PD in this box. The observer's wrong eye open. Head turned. Patient looking"
        " at your nose."
        " Unequal pupils: go from the outer edge of one iris to the inner edge of the other."
        " In a squint the rule with both eyes open is wrong by design: the single-eye PDs count."
    ),
    cannot=(
        "Dark irises or tiny pupils: use the edges of the irises. Eyes not steady: middle of the swing,"
        " three times."
    ),
    near_eye=True,
)

PD_MONOCULAR = Measurement(
    key="pd_monocular",
    label="Single-eye PD",
    unit="mm",
    scale_step=0.5,
    sides="each",
    definition=(
        "From the middle of the bridge, which is the crest mark and not the tip of the nose, to the centre of one"
        " pupil; ordered as that eye's centration distance (ISO 13666)."
    ),
    reference_line="From the crest mark to the pupil centre of that eye",
    how=(
        "Each eye looks straight at your eye opposite, or into the gauge. After a squint in the cover test, with"
        " eyes that are not steady, or with a prosthesis: cover the other eye and take each on its own."
    ),
    instruments=("pupil_gauge", "rule", "cover_paddle"),
    becomes="Horizontal centration distance of the lens of that eye.",
    adult=limits(
        usual=(27, 36),
        ask=(25, 38),
        stop=(20, 42),
        source=f"{COMMON_PRACTICE}: about half of the PD, with room for a nose that is off centre",
    ),
    child=limits(usual=(21, 31), ask=(19, 34), stop=(16, 38), source=COMMON_PRACTICE),
    repeat_tolerance=1.0,
    repeat_source=REPEAT_SOURCE,
    methods=(
        Method(key="both_eyes_open", label="Both eyes open"),
        Method(key="fellow_eye_covered", label="Other eye covered"),
    ),
    conditions=conditions.EYES,
    cautions=(cautions.RULE_NEAR_EYE,),
    errors=(
        "From the tip of the nose. Gauge held askew, so that one side gains what the other loses. R and L"
        " exchanged."
    ),
    cannot=(
        "Prosthesis: the seeing eye's value for the lens, the centre of the painted iris for looks, marked so."
        " A child: the gauge as a game for two eyes."
    ),
    near_eye=True,
)

PD_NEAR = Measurement(
    key="pd_near",
    label="Near PD",
    unit="mm",
    scale_step=0.5,
    sides="one",
    definition=(
        "Distance between the lines of sight in the spectacle plane when both eyes look at the working"
        " distance."
    ),
    reference_line="Pupil centre to pupil centre, looking at the near point",
    how=(
        "Put your better eye opposite the patient's nose at their own working distance, close the other,"
        " and read both"
        " pupils without moving. Or set the gauge to that distance. Write the working distance too."
    ),
    instruments=("rule", "pupil_gauge"),
    becomes="Near centration, and the inset of a segment.",
    adult=NEAR_PD_LIMITS,
    child=CHILD_NEAR_PD_LIMITS,
    repeat_tolerance=1.0,
    repeat_source=REPEAT_SOURCE,
    methods=(RULE, PUPIL_GAUGE),
    conditions=conditions.EYES,
    cautions=(cautions.RULE_NEAR_EYE,),
    errors="The distance PD in this box. A working distance other than the one written.",
    cannot=(
        "No near use, or one eye: not applicable. Else it can be worked out from the distance PD; mark it"
        " estimated."
    ),
    near_eye=True,
)

WORKING_DISTANCE = Measurement(
    key="working_distance",
    label="Working distance",
    unit="cm",
    scale_step=1,
    sides="one",
    definition="From the spectacle plane to what the patient reads or works on.",
    reference_line="From the spectacle plane to the page or the work",
    how="Ask the patient to hold or place the work where they really do, sitting as they do, and measure it.",
    instruments=("tape", "rule"),
    becomes="The near PD that is expected, and the near focus.",
    adult=limits(usual=(33, 50), ask=(20, 80), stop=(10, 150), source=COMMON_PRACTICE),
    repeat_tolerance=2,
    repeat_source=COMMON_PRACTICE,
    conditions=("habitual_posture", "estimated"),
    errors="A round 40 written without asking. Millimetres typed for centimetres.",
    cannot="Ask what the work is and how far away, and mark it estimated.",
)

PUPIL_DISTANCES: tuple[Measurement, ...] = (PD_DISTANCE, PD_MONOCULAR, PD_NEAR, WORKING_DISTANCE)

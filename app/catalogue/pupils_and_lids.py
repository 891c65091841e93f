"""Step 10: sizes of pupil, lid opening and iris. Recorded, never interpreted."""

from app.catalogue import cautions, conditions
from app.catalogue.limits import limits
from app.catalogue.measurement import Limits, Measurement
from app.reference.bibliography import (
    COMMON_PRACTICE,
    HASHEMI_2015,
    LAM_1987,
    READ_2006,
    RUFER_2005,
    WINN_1994,
)

PUPIL_LIMITS: Limits = limits(
    usual=(2.5, 6),
    ask=(2, 7.5),
    stop=(1, 10),
    source=f"{COMMON_PRACTICE}, room light; falls with age and light ({WINN_1994})",
)
BESIDE_EYE = ("The scale is held beside the eye at the temple, never in front of it.", cautions.TELL_FIRST)
PUPIL_REPEAT = f"{COMMON_PRACTICE}: one step of the scale"

PUPIL_HORIZONTAL = Measurement(
    key="pupil_horizontal",
    label="Pupil, across",
    unit="mm",
    scale_step=0.5,
    sides="each",
    definition=(
        "Horizontal diameter of the pupil in the room light that is written down, the patient looking far."
    ),
    reference_line="Edge to edge of the pupil, across",
    how=(
        "Patient looks past you at the far wall. Scale of half circles beside the eye; both eyes in the"
        " same light."
    ),
    instruments=("pupil_scale", "rule"),
    becomes="A choice of lens, and where to sight for every PD and height.",
    adult=PUPIL_LIMITS,
    repeat_tolerance=0.5,
    repeat_source=PUPIL_REPEAT,
    conditions=conditions.LIGHT,
    cautions=BESIDE_EYE,
    errors=(
        "Looking at you, not far, which makes it smaller. Light from one side. Drops."
        f" About one person in five has a small difference that means nothing ({LAM_1987})."
    ),
    cannot="Dark iris: light from below and to the side, not into the eye. Prosthesis: not applicable.",
    near_eye=True,
)

PUPIL_VERTICAL = Measurement(
    key="pupil_vertical",
    label="Pupil, upright",
    unit="mm",
    scale_step=0.5,
    sides="each",
    definition="Vertical diameter of the pupil under the same conditions; worth taking where it is not round.",
    reference_line="Edge to edge of the pupil, upright",
    how="As across, with the scale turned upright at the temple.",
    instruments=("pupil_scale", "rule"),
    becomes="Where to sight for heights when the pupil is not round.",
    adult=PUPIL_LIMITS,
    repeat_tolerance=0.5,
    repeat_source=PUPIL_REPEAT,
    conditions=(*conditions.LIGHT, "lid_lifted"),
    cautions=BESIDE_EYE,
    errors="Cut off by a low lid: lift the lid or leave it blank. Head tilted.",
    cannot="Leave it blank where the pupil looks round.",
    near_eye=True,
    optional=True,
)

LID_APERTURE = Measurement(
    key="lid_aperture",
    label="Lid opening",
    unit="mm",
    scale_step=0.5,
    sides="each",
    definition=(
        "From lower lid margin to upper lid margin through the centre of the pupil, looking straight ahead."
    ),
    reference_line="Lower lid margin to upper lid margin through the pupil",
    how=(
        "Brow relaxed, patient looking at your eye at the same height. Rule upright at the outer corner,"
        " sight across."
    ),
    instruments=("rule", "pupil_scale"),
    becomes="Lens height and segment height; a check on the crest height.",
    adult=limits(
        usual=(8, 11),
        ask=(7, 12),
        stop=(0, 18),
        source=f"{COMMON_PRACTICE}; {READ_2006}: 9.7 ± 1.2 in young adults",
    ),
    repeat_tolerance=1.0,
    repeat_source=f"Judgement, {COMMON_PRACTICE}",
    conditions=("lid_lifted", "estimated"),
    cautions=(cautions.RULE_NEAR_EYE, cautions.TELL_FIRST),
    errors="Brow raised. Screwed up against the light. Not through the pupil.",
    cannot=(
        "A lid that needs a prop: take it at rest, again lifted, and say whether the frame is to carry a"
        " lid crutch."
    ),
    near_eye=True,
)

IRIS_DIAMETER = Measurement(
    key="iris_diameter",
    label="Iris, visible",
    unit="mm",
    scale_step=0.5,
    sides="each",
    definition="Horizontal diameter of the visible iris from edge to edge.",
    reference_line="Edge to edge of the iris, across",
    how="Patient looks straight ahead. Scale or rule just below the eye, held to the cheek; sight straight on.",
    instruments=("pupil_scale", "rule"),
    becomes="PDs by the iris edges; a rough check of the scale of a photograph.",
    adult=limits(
        usual=(11, 12.5),
        ask=(10.5, 13),
        stop=(8, 15),
        source=f"{RUFER_2005}: 11.7 ± 0.4; {HASHEMI_2015}: 10.8 to 12.8; stop: {COMMON_PRACTICE}",
    ),
    repeat_tolerance=0.5,
    repeat_source=f"{COMMON_PRACTICE}: one step of the scale",
    conditions=("cosmetic_centre", "estimated"),
    cautions=(cautions.RULE_NEAR_EYE, cautions.TELL_FIRST),
    errors="A decimal slip: 1.15 for 11.5. Exchanged with the pupil.",
    cannot=(
        "Edges hidden by the lids or not clear: mark it estimated. Prosthesis: its own iris, marked cosmetic."
    ),
    near_eye=True,
)

PUPILS_AND_LIDS: tuple[Measurement, ...] = (PUPIL_HORIZONTAL, PUPIL_VERTICAL, LID_APERTURE, IRIS_DIAMETER)

"""Step 8: how the side runs from the front to the ear and down behind it."""

from app.catalogue import cautions, conditions
from app.catalogue.limits import limits
from app.catalogue.measurement import Measurement
from app.reference.bibliography import ABRAHAM_2019, COMMON_PRACTICE, ISO_8624

AT_THE_EAR = (cautions.EAR, cautions.NO_PRESSURE)

SIDE_ANGLE = Measurement(
    key="side_angle",
    label="Angle of side",
    unit="deg",
    scale_step=1,
    sides="each",
    definition=(
        "Seen from the side, the angle between the line from joint level to the ear point and the perpendicular to"
        " the spectacle plane. A lower ear needs a larger angle on that side."
    ),
    reference_line="From square to the spectacle plane to the ear point",
    how=(
        "Scale at the temple, zero line square to the spectacle plane at the tilt the front will have,"
        " arm to the ear"
        " point. Or read it off a pair that fits. Take each side; a half degree only as a mean."
    ),
    instruments=("protractor", "worn_pair"),
    becomes="Angle of side, each side. One degree is about 1.75 mm of ear height at 100 mm.",
    adult=limits(usual=(4, 14), ask=(0, 18), stop=(-10, 30), source=COMMON_PRACTICE),
    child=limits(usual=(0, 8), ask=(-2, 14), stop=(-10, 30), source=COMMON_PRACTICE),
    repeat_tolerance=2,
    repeat_source=f"Judgement, {COMMON_PRACTICE}: protractors repeat to about 2°",
    conditions=conditions.EARS,
    cautions=AT_THE_EAR,
    errors="Read off a bent pair. The sign. Taken from the horizontal, which leaves out the tilt of the front.",
    cannot="Read it off the worn pair once that has been trued, and mark it estimated.",
)

LENGTH_TO_TANGENT = Measurement(
    key="length_to_tangent",
    label="Length to tangent",
    unit="mm",
    scale_step=1,
    sides="each",
    definition=(
        "Here: from the spectacle plane (back of the front) along the head to the upright line that"
        " touches the front"
        " of the ear root at the ear point. On a frame the words belong to curl sides; drop-end sides are"
        " ordered by"
        " length to bend."
    ),
    reference_line="From the back of the front to the front of the ear root",
    how=(
        "Rule along the temple at the slope of the side, one end in the spectacle plane at the planned"
        " vertex distance,"
        " hair moved aside; read from straight above the ear. With a hearing aid: once with it in, once"
        " with it out."
    ),
    instruments=("rule", "worn_pair"),
    becomes="Length to bend: this less the distance from front to joint.",
    adult=limits(usual=(92, 112), ask=(85, 118), stop=(60, 140), source=COMMON_PRACTICE),
    child=limits(usual=(68, 95), ask=(60, 102), stop=(45, 125), source=COMMON_PRACTICE),
    repeat_tolerance=2,
    repeat_source=f"Judgement, {COMMON_PRACTICE}",
    conditions=conditions.EARS,
    cautions=(
        (
            "Come in along the temple from behind the eye; the end of the rule stays beside the orbit, not in"
            " front of it."
        ),
        *AT_THE_EAR,
    ),
    errors=(
        "Started at the rim of the orbit. Measured to the ear canal. Hair under the rule. One side taken,"
        " both written."
    ),
    cannot="No ear or a sore one: measure to a landmark, draw it, and plan a strap, loop or bow.",
)

DROP_ANGLE = Measurement(
    key="drop_angle",
    label="Angle behind the ear, down",
    unit="deg",
    scale_step=5,
    sides="each",
    definition="Angle through which the side turns down behind the ear, away from its own straight line.",
    reference_line="From the straight line of the side, downwards",
    how=(
        "Scale at the ear root, zero along the side; or soft wire laid over the ear root, then traced and"
        " read."
    ),
    instruments=("protractor", "soft_wire", "worn_pair"),
    becomes=(
        "Downward angle of drop, each side, one to one. Where it bends matters more for comfort than how"
        " much."
    ),
    adult=limits(
        usual=(30, 55),
        ask=(15, 70),
        stop=(0, 90),
        source=(
            f"{COMMON_PRACTICE}; gauges and schools differ: {ABRAHAM_2019} found a mean of 60°, others"
            " read near 20°"
        ),
        provisional=True,
    ),
    repeat_tolerance=5,
    repeat_source=f"{COMMON_PRACTICE}: one step of the scale",
    conditions=conditions.EARS,
    cautions=(*AT_THE_EAR, cautions.MAGNET),
    errors="The supplement written: 135 for 45. The ear's own lean taken for that of the head behind it.",
    cannot=(
        "Hearing aid, dressing or surgery: ask that the drop be left long for fitting, and write which side."
    ),
)

INWARD_DROP_ANGLE = Measurement(
    key="inward_drop_angle",
    label="Angle behind the ear, inwards",
    unit="deg",
    scale_step=5,
    sides="each",
    definition="Angle through which the drop turns inwards behind the ear to follow the skull.",
    reference_line="From straight back, inwards to the skull",
    how="From behind, scale along the side, arm along the skull behind the ear; or from a soft-wire trace.",
    instruments=("protractor", "soft_wire", "worn_pair"),
    becomes="Inward angle of drop, each side, one to one.",
    adult=limits(usual=(5, 20), ask=(0, 30), stop=(-10, 45), source=COMMON_PRACTICE, provisional=True),
    repeat_tolerance=5,
    repeat_source=f"{COMMON_PRACTICE}: one step of the scale",
    conditions=conditions.EARS,
    cautions=(*AT_THE_EAR, cautions.MAGNET),
    errors="Hair. The lean of the ear taken for the skull.",
    cannot="Leave it to the fitting and have the drop left long.",
    optional=True,
)

DROP_LENGTH = Measurement(
    key="drop_length",
    label="Drop length",
    unit="mm",
    scale_step=1,
    sides="each",
    definition="From the middle of the bend over the ear root to where the tip should end behind the ear.",
    reference_line="From the middle of the bend to the tip",
    how=(
        "Rule or soft wire behind the ear, from the top of the ear root down along the skull to the end"
        " of the bearing."
    ),
    instruments=("rule", "soft_wire", "worn_pair"),
    becomes=(
        f"Drop length, one to one; with the length to bend it makes the overall length of side ({ISO_8624})."
    ),
    adult=limits(usual=(30, 45), ask=(22, 52), stop=(10, 70), source=COMMON_PRACTICE),
    child=limits(usual=(22, 36), ask=(16, 42), stop=(8, 60), source=COMMON_PRACTICE),
    repeat_tolerance=2,
    repeat_source=f"Judgement, {COMMON_PRACTICE}",
    conditions=conditions.EARS,
    cautions=(*AT_THE_EAR, cautions.MAGNET),
    errors="The whole length from the joint. Measured round the ear lobe.",
    cannot="Hearing aid or surgery: slim drop, left long, finished at the fitting.",
)

SIDES_OF_HEAD: tuple[Measurement, ...] = (
    SIDE_ANGLE,
    LENGTH_TO_TANGENT,
    DROP_ANGLE,
    INWARD_DROP_ANGLE,
    DROP_LENGTH,
)

"""Step 4: how the sides of the nose slope, seen from the front and from above."""

from app.catalogue import cautions, conditions
from app.catalogue.limits import limits
from app.catalogue.measurement import Measurement
from app.reference.bibliography import (
    ABRAHAM_2019,
    COMMON_PRACTICE,
    FACE_MODEL_SIMULATION,
    RAO_2023,
    THOMPSON_CHILDREN,
)

ADULT_SOURCE = f"{COMMON_PRACTICE}, widened by a {FACE_MODEL_SIMULATION}; means near those of {ABRAHAM_2019}"
CHILD_SOURCE = f"{COMMON_PRACTICE}; larger than in adults, as in {THOMPSON_CHILDREN}"
REPEAT_SOURCE = f"Judgement from {RAO_2023}: gauge and photograph differ by less than 2° on average"

FRONTAL_ANGLE = Measurement(
    key="frontal_angle",
    label="Frontal angle",
    unit="deg",
    scale_step=1,
    sides="each",
    definition=(
        "Seen from the front, the angle between the side of the nose and the vertical, each side on its own."
        " The more the nose flares downwards, the larger it is."
    ),
    reference_line="From the vertical, one side, 5 to 15 mm below the crest",
    how=(
        "Head upright. Lay the scale against one flank where the rim or pad will bear and read from the vertical;"
        " then the other flank. Read to 1°, trust it to 2° or 3°."
    ),
    instruments=("protractor", "bridge_gauge", "worn_pair"),
    becomes="Frontal angle of the nasal rim or pad of that side, one to one.",
    adult=limits(usual=(15, 35), ask=(8, 43), stop=(0, 60), source=ADULT_SOURCE, provisional=True),
    child=limits(usual=(22, 40), ask=(15, 45), stop=(0, 60), source=CHILD_SOURCE, provisional=True),
    repeat_tolerance=3,
    repeat_source=REPEAT_SOURCE,
    conditions=conditions.NOSE,
    cautions=(cautions.GAUGE_NEAR_EYE, cautions.NO_PRESSURE),
    errors=(
        "The whole angle between the flanks, which is double. The angle from the horizontal, which is 90°"
        " less this."
        " One side copied to the other out of habit."
    ),
    cannot="Work it out from the two widths: arctan of their difference over 10, and mark it estimated.",
    near_eye=True,
)

SPLAY_ANGLE = Measurement(
    key="splay_angle",
    label="Splay angle",
    unit="deg",
    scale_step=1,
    sides="each",
    definition=(
        "Seen from above, the angle between the side of the nose and a line straight back, each side on its own."
        " The broader the nose gets towards the cheeks, the larger it is."
    ),
    reference_line="From straight back, one side, at rim or pad level",
    how=(
        "Tip the chair, not the neck, a little back. Look along the flank at the level where rim or pad will bear,"
        " scale against the skin, zero line pointing straight back; then the other side."
    ),
    instruments=("protractor", "soft_wire", "worn_pair"),
    becomes="Splay of the pad, or the bevel at the back of a regular bridge, of that side, one to one.",
    adult=limits(usual=(17, 40), ask=(10, 50), stop=(0, 65), source=ADULT_SOURCE, provisional=True),
    child=limits(usual=(25, 42), ask=(15, 50), stop=(0, 60), source=CHILD_SOURCE, provisional=True),
    repeat_tolerance=3,
    repeat_source=REPEAT_SOURCE,
    conditions=conditions.NOSE,
    cautions=(cautions.GAUGE_NEAR_EYE, cautions.NO_PRESSURE),
    errors=(
        "Mixed up with the frontal angle. Taken too high, where the bone is narrow. Both sides given the"
        " same figure"
        " without looking."
    ),
    cannot=(
        "Press soft wire across the nose at pad level, trace it, read the angles on paper, and mark it"
        " estimated."
    ),
    near_eye=True,
)

ANGLES: tuple[Measurement, ...] = (FRONTAL_ANGLE, SPLAY_ANGLE)

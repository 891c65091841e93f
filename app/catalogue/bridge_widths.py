"""Step 3: how wide the nose is at two levels below the crest."""

from app.catalogue import cautions, conditions
from app.catalogue.limits import limits
from app.catalogue.measurement import Measurement
from app.reference.bibliography import COMMON_PRACTICE, FACE_MODEL_SIMULATION, RAO_2023, THOMPSON_CHILDREN

NASAL_SOURCE = (
    f"{COMMON_PRACTICE}, widened by a {FACE_MODEL_SIMULATION}; no published adult percentiles found"
)
CHILD_NASAL_SOURCE = f"{COMMON_PRACTICE}; direction as in {THOMPSON_CHILDREN}"
GAUGE_LENGTH_SOURCE = f"Judgement from {RAO_2023}: gauge and photograph differ by less than 2 mm on average"

BRIDGE_WIDTH_10 = Measurement(
    key="bridge_width_10",
    label="Bridge width, 10 below crest",
    unit="mm",
    scale_step=0.5,
    sides="one",
    definition=(
        "Width of the nose in the spectacle plane 10 mm below the crest, where rims or pads will bear;"
        " the frame's distance between rims at that level."
    ),
    reference_line="Flank to flank, 10 mm straight down from the crest mark",
    how=(
        "Mark the crest. Stand straight in front with your eyes level with the patient's, hold the caliper at the"
        " tilt the front will have, 10 mm below the mark measured vertically, and close it until it just touches."
        " Take this level before the lower one."
    ),
    instruments=("caliper", "bridge_gauge", "worn_pair"),
    becomes="Distance between rims at 10 mm, one to one; with pads on arms, the separation of the pads.",
    adult=limits(usual=(12, 22), ask=(9, 26), stop=(6, 34), source=NASAL_SOURCE, provisional=True),
    child=limits(usual=(15, 25), ask=(12, 28), stop=(8, 34), source=CHILD_NASAL_SOURCE, provisional=True),
    repeat_tolerance=1.0,
    repeat_source=GAUGE_LENGTH_SOURCE,
    conditions=conditions.NOSE,
    cautions=(cautions.CALIPER_AT_NOSE, cautions.NO_PRESSURE),
    errors=(
        "Squeezing soft skin reads 1 to 2 mm narrow. The level measured along the nose instead of straight down."
        " Sliding off the crest mark. Reading the caliper's inside scale for its outside one. The two"
        " levels exchanged."
    ),
    cannot=(
        "Sore, dressed or recently broken: do not press; read the worn pair and mark it estimated."
        " A child who will not keep still: try fronts of known width and write which one sat right."
    ),
    near_eye=True,
)

BRIDGE_WIDTH_15 = Measurement(
    key="bridge_width_15",
    label="Bridge width, 15 below crest",
    unit="mm",
    scale_step=0.5,
    sides="one",
    definition=(
        "Width of the nose in the spectacle plane 15 mm below the crest. On any ordinary nose it is the larger of"
        " the two widths."
    ),
    reference_line="Flank to flank, 15 mm straight down from the crest mark",
    how=(
        "As the upper width, 5 mm further down from the same crest mark, caliper at the same tilt."
        " The two widths together give the frontal angle, so keep the crest mark between them."
    ),
    instruments=("caliper", "bridge_gauge", "worn_pair"),
    becomes="Distance between rims at 15 mm, one to one.",
    adult=limits(usual=(16, 27), ask=(12, 32), stop=(9, 40), source=NASAL_SOURCE, provisional=True),
    child=limits(usual=(19, 31), ask=(15, 34), stop=(10, 42), source=CHILD_NASAL_SOURCE, provisional=True),
    repeat_tolerance=1.0,
    repeat_source=GAUGE_LENGTH_SOURCE,
    conditions=conditions.NOSE,
    cautions=(cautions.CALIPER_AT_NOSE, cautions.NO_PRESSURE),
    errors=(
        "Squeezing, most of all on older, softer skin. A level of 15 mm along the nose. A new crest mark for the"
        " second width. Typed into the box of the upper level."
    ),
    cannot="As for the upper width: the worn pair or trial fronts, marked estimated.",
    near_eye=True,
)

BRIDGE_WIDTHS: tuple[Measurement, ...] = (BRIDGE_WIDTH_10, BRIDGE_WIDTH_15)

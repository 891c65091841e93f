"""Step 5: how the crest lies to the lashes, and how far the lashes reach."""

from app.catalogue import cautions, conditions
from app.catalogue.bridge_widths import CHILD_NASAL_SOURCE, GAUGE_LENGTH_SOURCE, NASAL_SOURCE
from app.catalogue.limits import limits
from app.catalogue.measurement import Measurement, SignWords
from app.reference.bibliography import COMMON_PRACTICE

BRIDGE_PROJECTION = Measurement(
    key="bridge_projection",
    label="Bridge projection",
    unit="mm",
    scale_step=0.5,
    sides="one",
    definition=(
        "How far the crest of the nose lies in front of, or behind, the plane that just clears the lash tips."
        " In front is plus; behind is minus, and the frame will need an inset bridge."
    ),
    reference_line="From the plane of the lash tips to the crest",
    how=(
        "From the side, rule or depth gauge at the crest mark, patient blinking as usual: read where the longest"
        " lash comes. Look from both sides. Say the answer in words first: in front, level or behind."
    ),
    instruments=("rule", "depth_gauge", "worn_pair"),
    becomes=(
        "Projection of the frame: this less the room wanted at the lashes. Ordered in words as well as by"
        " sign."
    ),
    adult=limits(usual=(-3, 6), ask=(-6, 8), stop=(-12, 15), source=NASAL_SOURCE, provisional=True),
    child=limits(usual=(-4, 3), ask=(-7, 6), stop=(-12, 12), source=CHILD_NASAL_SOURCE, provisional=True),
    repeat_tolerance=1.0,
    repeat_source=GAUGE_LENGTH_SOURCE,
    conditions=conditions.NOSE,
    cautions=(cautions.RULE_NEAR_EYE, cautions.TELL_FIRST),
    errors=(
        "The sign. Measured to the lid instead of the lashes. Mascara or false lashes. The head turned."
        " Some books start from the spectacle plane instead: here it is always the lash tips."
    ),
    cannot="Read it from the worn pair: its own projection, and whether the lashes touch; mark it estimated.",
    sign_words=SignWords(
        plus="in front",
        level="level",
        minus="behind",
        plus_also=("outset", "projecting", "forward", "ahead"),
        level_also=("flush",),
        minus_also=("inset", "back"),
    ),
    near_eye=True,
)

LASH_PROJECTION = Measurement(
    key="lash_projection",
    label="Lash projection",
    unit="mm",
    scale_step=0.5,
    sides="each",
    definition=(
        "From the front of the cornea to the tip of the longest lash, eyes open and looking straight ahead."
    ),
    reference_line="From the front of the cornea to the furthest lash tip",
    how=(
        "Stand to the side, 30 to 40 cm away so that the scale does not shift against the eye."
        " Hold the rule flat along the temple or cheek, line up cornea and lash tip, and read."
    ),
    instruments=("rule", "vertex_gauge"),
    becomes="The least vertex distance: the lens must stand about 2 mm or more clear of it.",
    adult=limits(usual=(7, 11), ask=(5, 13), stop=(2, 18), source=COMMON_PRACTICE, provisional=True),
    repeat_tolerance=1.0,
    repeat_source=GAUGE_LENGTH_SOURCE,
    conditions=conditions.NOSE,
    cautions=(
        "The rule lies against temple or cheek, parallel to the face, and never points at the eye.",
        cautions.TELL_FIRST,
    ),
    errors="Looking from too near. Lids half closed. Mascara or false lashes. Measured from the lid.",
    cannot="No lashes: mark it not applicable and use the room at the lid instead.",
    near_eye=True,
    definition_is_ours=True,
)

LASH_CLEARANCE: tuple[Measurement, ...] = (BRIDGE_PROJECTION, LASH_PROJECTION)

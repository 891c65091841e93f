"""Step 6: the shape, height and slope of the crest on which the bridge bears."""

from app.catalogue import cautions, conditions
from app.catalogue.bridge_widths import CHILD_NASAL_SOURCE, GAUGE_LENGTH_SOURCE, NASAL_SOURCE
from app.catalogue.limits import limits
from app.catalogue.measurement import Measurement
from app.reference.bibliography import COMMON_PRACTICE

APICAL_RADIUS = Measurement(
    key="apical_radius",
    label="Apical radius",
    unit="mm",
    scale_step=0.5,
    sides="one",
    definition="Radius of the arc of the crest, seen from the front in the plane of the bridge.",
    reference_line="Radius, not diameter, of the crest at bridge tilt",
    how=(
        "Lay discs of known radius on the crest at the tilt of the bridge. The right one is the largest"
        " that touches"
        " without daylight in the middle and without rocking."
    ),
    instruments=("trial_disc", "soft_wire", "worn_pair"),
    becomes=(
        "Apical radius of a regular or saddle bridge, one to one. A keyhole or pad bridge does not bear"
        " on it."
    ),
    adult=limits(usual=(5, 12), ask=(4, 16), stop=(3, 25), source=NASAL_SOURCE, provisional=True),
    repeat_tolerance=0.5,
    repeat_source="Judgement: one step of the discs",
    conditions=conditions.NOSE,
    cautions=(cautions.GAUGE_NEAR_EYE, cautions.NO_PRESSURE),
    errors=(
        "The diameter written for the radius, which doubles it. The disc held level instead of at bridge"
        " tilt."
    ),
    cannot=(
        "A broken or ridged nose: press soft wire over the crest, trace it on the form, send it to the maker."
    ),
    near_eye=True,
)

CREST_HEIGHT = Measurement(
    key="crest_height",
    label="Crest height",
    unit="mm",
    scale_step=0.5,
    sides="either",
    definition=(
        "Vertical distance from the lower lid margin up to the crest. Above the lid is plus; it may be nought or"
        " minus on a small child or a flat bridge. One value, or one for each side where the lids differ."
    ),
    reference_line="From the lower lid margin straight up to the crest",
    how=(
        "Patient looks straight ahead at your eye, held at the same height as theirs. Rule upright beside the nose,"
        " zero at the lower lid margin, read at the crest mark. Ask for eyes closed and open again, then repeat."
    ),
    instruments=("rule", "depth_gauge", "worn_pair"),
    becomes=(
        "Height of the bridge above the frame's centre line: this less the planned height of that line"
        " above the lid."
    ),
    adult=limits(usual=(2, 9), ask=(0, 14), stop=(-5, 18), source=NASAL_SOURCE, provisional=True),
    child=limits(usual=(-1, 5), ask=(-3, 8), stop=(-6, 14), source=CHILD_NASAL_SOURCE, provisional=True),
    repeat_tolerance=1.0,
    repeat_source=GAUGE_LENGTH_SOURCE,
    conditions=(*conditions.NOSE, "habitual_posture", "lid_lifted"),
    cautions=(cautions.RULE_NEAR_EYE, cautions.TELL_FIRST),
    errors=(
        "Chin up or down: about 1 mm for every 6°. Lids screwed up in a smile. Measured from the pupil."
        " The minus sign left off on a flat bridge."
    ),
    cannot="Read it from the worn pair against the lower lid and mark it estimated.",
    near_eye=True,
)

CREST_ANGLE = Measurement(
    key="crest_angle",
    label="Angle of crest",
    unit="deg",
    scale_step=5,
    sides="one",
    definition=(
        "Slope of the line of the nose where the bridge bears, seen from the side, against the spectacle plane at"
        " the tilt the front will have."
    ),
    reference_line="From the spectacle plane to the line of the nose",
    how=(
        "From the side, one arm of the scale in the spectacle plane, the other along the nose at the"
        " crest mark."
    ),
    instruments=("protractor", "soft_wire", "worn_pair"),
    becomes=(
        "The bevel at the back of the bridge. A bench needs it for every handmade bridge that bears on"
        " the crest."
    ),
    adult=limits(usual=(10, 45), ask=(0, 60), stop=(-15, 80), source=COMMON_PRACTICE, provisional=True),
    repeat_tolerance=5,
    repeat_source=f"{COMMON_PRACTICE}: one step of the scale",
    conditions=conditions.NOSE,
    cautions=(cautions.GAUGE_NEAR_EYE,),
    errors="Taken against the vertical instead of the spectacle plane, which leaves out the tilt of the front.",
    cannot="A wire trace of the nose from the side with the spectacle plane drawn on it.",
    near_eye=True,
    optional=True,
)

BRIDGE_CREST: tuple[Measurement, ...] = (APICAL_RADIUS, CREST_HEIGHT, CREST_ANGLE)

"""Step 13, first part: sizes read off a pair that lies on the bench, trued up."""

from app.catalogue.limits import limits
from app.catalogue.measurement import Measurement
from app.reference.bibliography import COMMON_PRACTICE, ISO_8624

BOX_REPEAT = f"{COMMON_PRACTICE}: one step of the scale"

LENS_WIDTH = Measurement(
    key="lens_width",
    label="Lens width",
    unit="mm",
    scale_step=0.5,
    sides="one",
    definition=f"Width a of the box round the lens shape, at the bottom of the groove ({ISO_8624}).",
    reference_line="Box round the lens, groove included, across",
    how=(
        "Measure the opening at its widest and add the depth of the groove on both sides, or measure the"
        " lens itself."
    ),
    instruments=("rule", "caliper", "trace_board"),
    becomes="Lens width a; with the distance between lenses it makes the boxed centre distance.",
    adult=limits(usual=(42, 58), ask=(38, 62), stop=(25, 72), source=COMMON_PRACTICE),
    child=limits(usual=(36, 50), ask=(32, 54), stop=(25, 72), source=COMMON_PRACTICE),
    repeat_tolerance=0.5,
    repeat_source=BOX_REPEAT,
    errors="The opening of the rim, about 1 mm small. The stamped size copied without measuring.",
    cannot="A frame that cannot be unglazed: opening plus 1 mm in plastics, marked in the note.",
    assistant_may=True,
    off_pair=True,
    drawing="pair_off_face",
)

LENS_HEIGHT = Measurement(
    key="lens_height",
    label="Lens height",
    unit="mm",
    scale_step=0.5,
    sides="one",
    definition=f"Height b of the box round the lens shape, at the bottom of the groove ({ISO_8624}).",
    reference_line="Box round the lens, groove included, upright",
    how="Measure the opening at its tallest and add the groove, half a millimetre above and below in plastics.",
    instruments=("rule", "caliper", "trace_board"),
    becomes="Lens height b; every height on the lens is checked against it.",
    adult=limits(usual=(28, 48), ask=(24, 56), stop=(15, 70), source=COMMON_PRACTICE),
    child=limits(usual=(24, 40), ask=(20, 46), stop=(14, 60), source=COMMON_PRACTICE),
    repeat_tolerance=0.5,
    repeat_source=BOX_REPEAT,
    errors="The opening of the rim instead of the box.",
    cannot="From a tracing of the lens with the centre line drawn on it.",
    assistant_may=True,
    off_pair=True,
    drawing="pair_off_face",
)

DISTANCE_BETWEEN_LENSES = Measurement(
    key="distance_between_lenses",
    label="Distance between lenses",
    unit="mm",
    scale_step=0.5,
    sides="one",
    definition=f"Shortest horizontal distance between the boxes of the two lenses ({ISO_8624}).",
    reference_line="Between the two boxes at their nearest",
    how="Measure the bridge between the two openings at their nearest and take off the groove on both sides.",
    instruments=("caliper", "rule"),
    becomes="Distance between lenses; with the lens width it makes the boxed centre distance.",
    adult=limits(usual=(14, 22), ask=(12, 25), stop=(6, 34), source=COMMON_PRACTICE),
    child=limits(usual=(12, 19), ask=(10, 22), stop=(5, 30), source=COMMON_PRACTICE),
    repeat_tolerance=0.5,
    repeat_source=BOX_REPEAT,
    errors="The stamp copied: it can be wrong. Taken at the level of the crest instead of the nearest point.",
    cannot="From the tracing.",
    assistant_may=True,
    off_pair=True,
    drawing="pair_off_face",
)

LENGTH_TO_BEND = Measurement(
    key="length_to_bend",
    label="Length to bend",
    unit="mm",
    scale_step=1,
    sides="each",
    definition=(
        "Along the side from the dowel point, where the screw crosses the middle of the joint, to the"
        " middle of the bend."
    ),
    reference_line="From the middle of the joint to the middle of the bend",
    how="Lay the rule along the side, zero at the screw, and read at the middle of the bend.",
    instruments=("rule",),
    becomes="Length to bend of that side; the facial length less it is the distance from front to joint.",
    adult=limits(usual=(85, 105), ask=(78, 110), stop=(50, 125), source=COMMON_PRACTICE),
    child=limits(usual=(62, 88), ask=(56, 96), stop=(40, 115), source=COMMON_PRACTICE),
    repeat_tolerance=2,
    repeat_source=f"Judgement, {COMMON_PRACTICE}",
    errors="From the front instead of the joint: about 10 mm long. To the end of the side.",
    cannot="Curl or straight sides have no bend: not applicable.",
    assistant_may=True,
    off_pair=True,
    drawing="pair_off_face",
)

LET_BACK_ANGLE = Measurement(
    key="let_back_angle",
    label="Angle of let-back",
    unit="deg",
    scale_step=1,
    sides="each",
    definition="Seen from above, the angle between the opened side and the back of the front.",
    reference_line="From the back of the front to the opened side",
    how=(
        "Open the side fully, lay the scale along the back of the front, and read along the inside of the"
        " side."
    ),
    instruments=("protractor",),
    becomes="A starting value for the let-back of the new front.",
    adult=limits(usual=(89, 96), ask=(86, 100), stop=(80, 115), source=COMMON_PRACTICE),
    repeat_tolerance=2,
    repeat_source=f"Judgement, {COMMON_PRACTICE}: protractors repeat to about 2°",
    errors="Side not fully open, or splayed by a loose joint. Read as the angle from straight back.",
    cannot="A sprung joint: read where it rests before the spring is felt.",
    assistant_may=True,
    off_pair=True,
    drawing="pair_off_face",
    optional=True,
)

JOINT_HEIGHT = Measurement(
    key="joint_height",
    label="Joint height",
    unit="mm",
    scale_step=0.5,
    sides="each",
    definition=(
        "Height of the middle of the joint above the horizontal centre line of the front; below it is minus."
    ),
    reference_line="From the horizontal centre line up to the joint",
    how=(
        "Front flat on a card with the centre line drawn; rule upright beside the lug, read at the middle"
        " of the joint."
    ),
    instruments=("rule", "trace_board"),
    becomes="A starting value for the height of the joint on the new front.",
    adult=limits(usual=(0, 14), ask=(-5, 20), stop=(-20, 35), source=COMMON_PRACTICE, provisional=True),
    repeat_tolerance=1.0,
    repeat_source=COMMON_PRACTICE,
    errors="From the top of the rim. The minus sign left off for a low joint.",
    cannot="Rimless fronts: from the centre line of the lens.",
    assistant_may=True,
    off_pair=True,
    drawing="pair_off_face",
    optional=True,
)

PAIR_OFF_FACE: tuple[Measurement, ...] = (
    LENS_WIDTH,
    LENS_HEIGHT,
    DISTANCE_BETWEEN_LENSES,
    LENGTH_TO_BEND,
    LET_BACK_ANGLE,
    JOINT_HEIGHT,
)

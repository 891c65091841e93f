"""Step 9: widths, height, diagonals and circumference of the head."""

from app.catalogue import cautions, conditions
from app.catalogue.limits import limits
from app.catalogue.measurement import Measurement
from app.reference.bibliography import (
    ANSUR_2,
    BUSHBY_1992,
    COMMON_PRACTICE,
    ISO_20685,
    MASEEDUPALLI_2023,
    USAF_1967,
)

BONE_REPEAT = f"Judgement from the allowances of {ISO_20685}: 2 mm where hair does not count"
HAIR_REPEAT = f"Judgement from the allowances of {ISO_20685}: 3 mm over hair"
WITH_CALIPER = (cautions.CALIPER_AT_HEAD, cautions.TEMPLE_TENDER)

HEAD_WIDTH = Measurement(
    key="head_width",
    label="Head width",
    unit="mm",
    scale_step=1,
    sides="one",
    definition=(
        "Width of the head between the two ear points, where the tops of the ear roots meet the head and the sides"
        " rest. It lies inside the widest part of the skull."
    ),
    reference_line="From ear point to ear point",
    how=(
        "Wide caliper, rounded ends just touching the skin at both ear points, hair pressed flat; from"
        " above or from"
        " the front. Read before taking it off."
    ),
    instruments=("wide_caliper", "worn_pair"),
    becomes="Head width of the frame at the bend: this less a few millimetres for a gentle grip.",
    adult=limits(
        usual=(122, 160),
        ask=(110, 165),
        stop=(95, 195),
        source=(
            f"{COMMON_PRACTICE}, widened by {USAF_1967} (between the ear notches); {ANSUR_2} head breadth less 8 mm"
            f" lies within; {MASEEDUPALLI_2023} found means of 154 (men) and 145 (women)"
        ),
        provisional=True,
    ),
    child=limits(usual=(115, 142), ask=(108, 150), stop=(90, 175), source=COMMON_PRACTICE),
    repeat_tolerance=2,
    repeat_source=BONE_REPEAT,
    conditions=conditions.HAIR,
    cautions=(cautions.CALIPER_AT_HEAD, cautions.MAGNET),
    errors="Exchanged with the temple width. Hair. Taken too high, at the widest part of the skull.",
    cannot="Wig or covering: ask in private, measure over it with a note, or take the worn pair's width.",
    assistant_may=True,
)

TEMPLE_WIDTH = Measurement(
    key="temple_width",
    label="Temple width",
    unit="mm",
    scale_step=1,
    sides="one",
    definition=(
        "Width of the head between the temples, 25 mm behind the back of the front. Less than the head width."
    ),
    reference_line="Temple to temple, 25 mm behind the back of the front",
    how=(
        "Find the level of the sides 25 mm behind the spectacle plane, caliper just touching the skin on"
        " both sides."
    ),
    instruments=("wide_caliper", "worn_pair"),
    becomes="Temple width of the frame: this with a little ease, so that the sides do not press.",
    adult=limits(usual=(122, 148), ask=(115, 152), stop=(90, 185), source=COMMON_PRACTICE),
    child=limits(usual=(105, 132), ask=(98, 140), stop=(80, 165), source=COMMON_PRACTICE),
    repeat_tolerance=2,
    repeat_source=BONE_REPEAT,
    conditions=conditions.HAIR,
    cautions=WITH_CALIPER,
    errors="Exchanged with the head width. Pressed in. Taken at the rim of the orbit, too far forward.",
    cannot="Take the worn pair's width 25 mm behind its front, and mark it estimated.",
    assistant_may=True,
)

HEAD_HEIGHT = Measurement(
    key="head_height",
    label="Head height",
    unit="mm",
    scale_step=1,
    sides="one",
    definition=(
        "Here: upright distance from the level of the ear points to the crown. Chin to crown is another"
        " thing."
    ),
    reference_line="From ear-point level straight up to the crown",
    how=(
        "Head level. A flat bar or rule laid level on the crown, rule upright beside the ear, read at the"
        " ear point."
    ),
    instruments=("rule", "wide_caliper"),
    becomes="Length of a strap or band over the head.",
    adult=limits(
        usual=(115, 145),
        ask=(105, 155),
        stop=(80, 180),
        source=f"{COMMON_PRACTICE}; {ANSUR_2} tragion to top of head: nobody outside 105 to 155",
    ),
    child=limits(usual=(100, 130), ask=(90, 140), stop=(70, 165), source=COMMON_PRACTICE),
    repeat_tolerance=3,
    repeat_source=HAIR_REPEAT,
    conditions=conditions.HAIR,
    cautions=("Keep the end of the upright rule clear of the ear canal.",),
    errors="Chin to crown. Thick hair not pressed down. Head tipped.",
    cannot="Covering or wig: measure over it and say so, or mark it declined.",
    assistant_may=True,
    definition_is_ours=True,
)

HEAD_DIAGONAL = Measurement(
    key="head_diagonal",
    label="Head diagonal",
    unit="mm",
    scale_step=1,
    sides="each",
    definition=(
        "Here: straight line from the temple point, 25 mm behind the front, on one side to the ear point"
        " on the other."
        " R is from the right temple to the left ear. Equal on an even head."
    ),
    reference_line="R: right temple to left ear. L: left temple to right ear",
    how=(
        "Wide caliper from the temple point of the side named to the ear point opposite, just touching;"
        " then crossed."
    ),
    instruments=("wide_caliper",),
    becomes="A difference shows a head that is not square: unequal side lengths and let-back.",
    adult=limits(usual=(145, 180), ask=(135, 190), stop=(100, 230), source=COMMON_PRACTICE),
    child=limits(usual=(115, 155), ask=(105, 165), stop=(80, 200), source=COMMON_PRACTICE),
    repeat_tolerance=3,
    repeat_source=HAIR_REPEAT,
    conditions=conditions.HAIR,
    cautions=WITH_CALIPER,
    errors="R and L exchanged. Another temple point than that of the temple width.",
    cannot="Not needed where both lengths to tangent are known and agree; mark the reason.",
    assistant_may=True,
    definition_is_ours=True,
)

HEAD_CIRCUMFERENCE = Measurement(
    key="head_circumference",
    label="Head circumference",
    unit="mm",
    scale_step=1,
    sides="one",
    definition=(
        "Length of a tape round the head above brows and ears and over the point that stands out most behind."
    ),
    reference_line="Above brows and ears, over the furthest point behind",
    how=(
        "Tape level and snug. Read it, take it off, and read it again. Tapes are marked in cm: 56.2 cm is"
        " 562 mm."
    ),
    instruments=("tape",),
    becomes="Length of a strap or headband; a check on the head width.",
    adult=limits(
        usual=(530, 600),
        ask=(510, 620),
        stop=(440, 680),
        source=(
            f"{COMMON_PRACTICE}; fewer than 1 % of {ANSUR_2} outside ask; means near {BUSHBY_1992} (572, 552)"
        ),
    ),
    child=limits(usual=(480, 550), ask=(460, 575), stop=(400, 640), source=COMMON_PRACTICE),
    repeat_tolerance=5,
    repeat_source=f"Judgement; about the observer error that {ANSUR_2} allowed",
    conditions=conditions.HAIR,
    cautions=("Paper tape, or a cover, over a wig or for fragile skin.",),
    errors="Centimetres for millimetres. Tape not level. Thick hair. Over the ears.",
    cannot="Covering or wig: measure over it and say so.",
    assistant_may=True,
)

HEAD: tuple[Measurement, ...] = (HEAD_WIDTH, TEMPLE_WIDTH, HEAD_HEIGHT, HEAD_DIAGONAL, HEAD_CIRCUMFERENCE)

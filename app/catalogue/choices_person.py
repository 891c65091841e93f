"""Questions of the person step: what changes the measuring, the material or the words on the order."""

from app.catalogue.choice import Choice

YES_NO: tuple[tuple[str, str], ...] = (("yes", "Yes"), ("no", "No"))
EYES_OR_NONE: tuple[tuple[str, str], ...] = (("none", "None"), ("R", "Right"), ("L", "Left"))
EARS_OR_NONE: tuple[tuple[str, str], ...] = (
    ("none", "None"),
    ("R", "Right"),
    ("L", "Left"),
    ("both", "Both"),
)
YES_NO_NOT_KNOWN: tuple[tuple[str, str], ...] = (("yes", "Yes"), ("no", "No"), ("not_known", "Not known"))

READINESS: tuple[Choice, ...] = (
    Choice(
        key="hands_cleaned",
        label="Hands cleaned, gel dry",
        options=YES_NO,
        hint="Before and after every patient.",
        required=True,
    ),
    Choice(
        key="instruments_cleaned",
        label="Instruments and tablet wiped",
        options=YES_NO,
        hint="With what the makers of the tools and the tablet allow.",
        required=True,
    ),
    Choice(key="with_them", label="Who is with the patient", hint="Parent, carer, interpreter, chaperone"),
)

BODY: tuple[Choice, ...] = (
    Choice(
        key="allergy",
        label="Allergy or reaction to spectacles",
        options=(
            ("none", "None known"),
            ("nickel", "Nickel or other metal"),
            ("acetate", "Acetate or its plasticiser"),
            ("rubber", "Rubber or latex"),
            ("adhesive", "Plasters or adhesive"),
            ("other", "Other"),
        ),
        several=True,
        alone="none",
        on_order=True,
        required=True,
    ),
    Choice(key="allergy_detail", label="What happened, and with what", on_order=True),
    Choice(
        key="skin",
        label="Skin where the frame rests",
        options=(
            ("sound", "Sound"),
            ("tender", "Tender"),
            ("thin", "Thin or fragile"),
            ("pressure_marks", "Pressure marks"),
            ("sore_or_healing", "Sore or healing"),
        ),
        several=True,
        alone="sound",
        on_order=True,
        hint="A sore or lump that does not heal: let the registered practitioner see it.",
    ),
    Choice(key="hearing_aids", label="Hearing aids", options=EARS_OR_NONE, on_order=True),
    Choice(
        key="hearing_aid_thickness_right",
        label="Thickness behind the right ear (mm)",
        hint="Of the case, where the drop will run",
        on_order=True,
    ),
    Choice(
        key="hearing_aid_thickness_left",
        label="Thickness behind the left ear (mm)",
        hint="Of the case, where the drop will run",
        on_order=True,
    ),
    Choice(
        key="implanted_device",
        label="Implanted hearing device",
        options=EARS_OR_NONE,
        hint="Keep magnetic tools and tablet covers away.",
    ),
    Choice(
        key="head_covering",
        label="Head covering or wig",
        options=(
            ("none", "None"),
            ("kept_on", "Kept on: measured over it"),
            ("taken_off", "Taken off for measuring"),
            ("wig_on", "Wig, kept on"),
        ),
        hint="Ask in private. Same-sex staff if wished.",
        on_order=True,
    ),
    Choice(
        key="recent_injury",
        label="Injury or surgery to nose, face or ear",
        options=(("none", "None"), ("within_6_weeks", "Within 6 weeks"), ("older", "Longer ago")),
        hint="Within 6 weeks: the registered practitioner decides whether to measure the bridge now.",
    ),
    Choice(key="injury_detail", label="What and when"),
    Choice(
        key="temple_tender",
        label="Temple or scalp tender to touch",
        options=YES_NO,
        hint="Yes: stop, and let the registered practitioner see this.",
    ),
    Choice(
        key="prosthetic_eye",
        label="Prosthetic eye",
        options=EYES_OR_NONE,
        hint="Readings of that eye are cosmetic, or not applicable.",
    ),
    Choice(
        key="eyes_steady",
        label="Eyes steady when looking ahead",
        options=(("yes", "Steady"), ("swinging", "Swing to and fro"), ("poor", "Cannot keep looking")),
        hint="Not steady: three readings of each PD, at the middle of the swing.",
    ),
    Choice(
        key="recent_changes",
        label="Anything about your eyes or sight that has changed lately",
        options=(
            ("none", "Nothing"),
            ("seeing_two", "Seeing two of things"),
            ("sight_changed", "Sight changed suddenly"),
            ("flashes_or_shadow", "Flashes, specks or a shadow"),
            ("lid_or_face", "A lid or the face hangs"),
            ("pain_or_redness", "Pain, redness or light hurting"),
            ("headache", "New headache"),
        ),
        several=True,
        alone="none",
        hint="Anything but nothing: pause and let the registered practitioner see this before continuing.",
    ),
    Choice(key="noticed_before", label="Has this been noticed before?", options=YES_NO_NOT_KNOWN),
    Choice(key="looked_at", label="Has it been looked at?", options=YES_NO_NOT_KNOWN),
)

USE: tuple[Choice, ...] = (
    Choice(
        key="posture",
        label="How the head is usually held",
        options=(
            ("straight", "Straight"),
            ("turned_right", "Turned to the patient's right"),
            ("turned_left", "Turned to the patient's left"),
            ("tilted_right", "Tilted to the patient's right"),
            ("tilted_left", "Tilted to the patient's left"),
            ("chin_up", "Chin up"),
            ("chin_down", "Chin down"),
        ),
        several=True,
        alone="straight",
        on_order=True,
        hint="Heights are taken in the posture the patient really holds.",
    ),
    Choice(
        key="posture_since",
        label="Held so since",
        options=(("long", "A long time"), ("new", "Lately"), ("not_known", "Not known")),
        hint="Lately: the prescriber should know before heights are taken.",
    ),
    Choice(key="occupation", label="Occupation", hint="And what it asks of the eyes"),
    Choice(key="interests", label="Interests", hint="Music, boats, ladders, sport …"),
    Choice(
        key="working_distances",
        label="What is looked at, and how far away",
        hint="Page 40 cm, screen 65 cm, music stand 80 cm",
    ),
)

OLD_SPECTACLES: tuple[Choice, ...] = (
    Choice(
        key="old_spectacles",
        label="Old spectacles",
        options=(("none", "None"), ("always", "Worn all day"), ("sometimes", "Worn for some things")),
    ),
    Choice(key="old_power", label="Their power, R and L", hint="As found with the focimeter"),
    Choice(key="old_centration", label="Their centration, R and L", hint="Centre distances and heights, mm"),
    Choice(key="old_fit", label="How they sit", hint="Vertex distance, tilt, slipping, marks"),
    Choice(key="old_liked", label="What is liked", on_order=True),
    Choice(key="old_hated", label="What is hated", on_order=True),
)

PERSON_CHOICES: tuple[Choice, ...] = (*READINESS, *BODY, *USE, *OLD_SPECTACLES)

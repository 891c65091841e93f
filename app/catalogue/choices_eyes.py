"""Answers of the cover test, of the lash step, and of a prescription."""

from app.catalogue.choice import Choice
from app.catalogue.choices_person import EYES_OR_NONE, YES_NO

COVER_CHOICES: tuple[Choice, ...] = (
    Choice(
        key="finding",
        label="Seen",
        options=(
            ("none", "No movement"),
            ("latent", "Latent: moves as it is uncovered"),
            ("manifest", "Manifest: the uncovered eye moves"),
            ("not_applicable", "Not applicable: one seeing eye"),
        ),
        hint="Watch the uncovered eye first, then each eye as it is uncovered.",
        required=True,
    ),
    Choice(
        key="direction",
        label="Turned",
        options=(("in", "In"), ("out", "Out"), ("up", "Up"), ("down", "Down")),
        hint="Where the eye was turned to before it moved back.",
    ),
    Choice(
        key="eye",
        label="Which eye",
        options=(("R", "Right"), ("L", "Left"), ("alternating", "Either, in turn")),
        hint="The patient's right is on your left.",
    ),
    Choice(key="size", label="Size (prism dioptres)", hint="To the nearest 1; above 10 to the nearest 2"),
    Choice(
        key="size_words",
        label="Size in words",
        options=(("small", "Small"), ("moderate", "Moderate"), ("large", "Large")),
    ),
    Choice(
        key="recovery",
        label="Recovery",
        options=(("quick", "Quick"), ("slow", "Slow"), ("none", "None")),
        hint="For a latent movement.",
    ),
    Choice(
        key="constancy",
        label="How often",
        options=(("constant", "Always"), ("intermittent", "Now and then")),
        hint="For a manifest turn.",
    ),
    Choice(key="with_spectacles", label="Spectacles on", options=YES_NO),
    Choice(
        key="known",
        label="Known to the prescriber",
        options=(("yes", "Yes"), ("no", "No"), ("not_known", "Not known")),
        hint="Does it match the prescriber's note?",
    ),
    Choice(key="note", label="Note"),
)
"""Asked for distance and for near; the keys are the attributes of a cover finding."""

COVER_OBSERVATIONS: tuple[Choice, ...] = (
    Choice(
        key="objects_to_cover",
        label="Objects when one eye is covered",
        options=(("none", "Neither"), ("R", "Right covered"), ("L", "Left covered")),
        hint="A child who objects to one side: let the registered practitioner see this.",
    ),
    Choice(
        key="cover_target", label="Target used", hint="Detailed, one line larger than the weaker eye reads"
    ),
)

LASH_OBSERVATIONS: tuple[Choice, ...] = (
    Choice(
        key="smile",
        label="On smiling, the cheeks",
        options=(("clear", "Stay clear"), ("touch", "Touch the rims")),
        hint="Ask the patient to smile broadly, a pair or trial front on.",
        on_order=True,
    ),
    Choice(
        key="blink",
        label="On blinking hard, the lashes",
        options=(("clear", "Stay clear"), ("touch", "Touch the lenses")),
        on_order=True,
    ),
    Choice(
        key="brow_clearance",
        label="The brow",
        options=(("clear", "Clear of the rims"), ("touch", "Touches the rims")),
        on_order=True,
    ),
    Choice(
        key="lashes",
        label="Lashes",
        options=(
            ("natural", "As usual"),
            ("mascara", "Mascara"),
            ("false", "False lashes"),
            ("none", "None"),
        ),
    ),
)

PUPIL_OBSERVATIONS: tuple[Choice, ...] = (
    Choice(
        key="lid_support",
        label="Lid needs a support",
        options=EYES_OR_NONE,
        hint="Then the frame may have to carry a lid crutch.",
        on_order=True,
    ),
)

PRESCRIPTION_CHOICES: tuple[Choice, ...] = (
    Choice(
        key="base",
        label="Base",
        options=(("in", "In"), ("out", "Out"), ("up", "Up"), ("down", "Down")),
    ),
    Choice(
        key="prescription_seen",
        label="Prescription",
        options=(
            ("original", "Seen in writing"),
            ("copy", "Copy from the prescriber"),
            ("old_pair", "Read off the old pair"),
        ),
        hint="An order needs it in writing.",
    ),
    Choice(
        key="prism_centration",
        label="PDs are meant",
        options=(("before", "Before allowing for the prism"), ("after", "With the prism allowed for")),
        on_order=True,
    ),
)

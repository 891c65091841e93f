"""The whole catalogue: the steps in their usual order, and every measurement by its key."""

from app.catalogue import cautions
from app.catalogue.angles import ANGLES
from app.catalogue.bridge_crest import BRIDGE_CREST
from app.catalogue.bridge_widths import BRIDGE_WIDTHS
from app.catalogue.choices import keys
from app.catalogue.choices_eyes import (
    COVER_OBSERVATIONS,
    LASH_OBSERVATIONS,
    PRESCRIPTION_CHOICES,
    PUPIL_OBSERVATIONS,
)
from app.catalogue.choices_frame import FRAME_CHOICES, OWN_FRAME_CHOICES
from app.catalogue.choices_lens import LENS_CHOICES
from app.catalogue.choices_person import PERSON_CHOICES
from app.catalogue.head import HEAD
from app.catalogue.lash_clearance import LASH_CLEARANCE
from app.catalogue.measurement import Measurement
from app.catalogue.pupil_distances import PUPIL_DISTANCES
from app.catalogue.pupils_and_lids import PUPILS_AND_LIDS
from app.catalogue.sides import SIDES_OF_HEAD
from app.catalogue.step import Step
from app.catalogue.worn_pair import WORN_PAIR

STEPS: tuple[Step, ...] = (
    Step(
        key="person",
        title="Person and reason",
        short="Person",
        prompts=(
            "Check who it is: two things that only the patient would tell you.",
            "Ask before touching face, hair, covering or hearing aid.",
        ),
        cautions=(
            cautions.CLEAN,
            "Red, painful or infected eye or skin: do not measure; ask the practitioner.",
        ),
        observations=keys(PERSON_CHOICES),
    ),
    Step(
        key="cover_test",
        title="Cover test",
        short="Cover test",
        prompts=(
            "A detailed target, far, then near; the spectacles usually worn for that distance on.",
            "Hold the cover two to three seconds. Watch the uncovered eye, then the eye as it is uncovered.",
        ),
        cautions=(
            "Registered practitioner, or a trainee under supervision. Not a sight test, not a diagnosis.",
        ),
        observations=keys(COVER_OBSERVATIONS),
    ),
    Step(
        key="bridge_widths",
        title="Bridge widths",
        short="Widths",
        measurements=BRIDGE_WIDTHS,
        drawing="bridge_widths",
        prompts=(
            cautions.TELL_FIRST,
            "Mark the crest lightly with a skin-safe pencil: every bridge reading starts from it.",
        ),
        cautions=(cautions.CLEAN, cautions.CALIPER_AT_NOSE, cautions.NO_PRESSURE),
    ),
    Step(
        key="angles",
        title="Angles of the nose",
        short="Angles",
        measurements=ANGLES,
        drawing="angles",
        prompts=(cautions.TELL_FIRST, "Measure each side: noses are seldom even."),
        cautions=(cautions.CLEAN, cautions.GAUGE_NEAR_EYE),
    ),
    Step(
        key="lash_clearance",
        title="Lash clearance",
        short="Lashes",
        measurements=LASH_CLEARANCE,
        drawing="lash_clearance",
        prompts=(
            cautions.TELL_FIRST,
            "Patient looks straight ahead and blinks as usual. Then: smile, blink hard, raise the brows.",
        ),
        cautions=(cautions.CLEAN, cautions.RULE_NEAR_EYE, cautions.STOP_FOR_PAIN),
        observations=keys(LASH_OBSERVATIONS),
    ),
    Step(
        key="bridge_crest",
        title="Bridge crest",
        short="Crest",
        measurements=BRIDGE_CREST,
        drawing="bridge_crest",
        prompts=(
            cautions.TELL_FIRST,
            "Chin level, brow and mouth at rest, eyes on yours at the same height.",
        ),
        cautions=(cautions.CLEAN, cautions.GAUGE_NEAR_EYE),
    ),
    Step(
        key="pupil_distances",
        title="Pupil distances",
        short="PD",
        measurements=PUPIL_DISTANCES,
        drawing="pupil_distances",
        prompts=(
            "40 cm away, your eyes level with the patient's, head not turned.",
            "After a squint in the cover test: cover the other eye for each single-eye PD.",
        ),
        cautions=(cautions.CLEAN, cautions.RULE_NEAR_EYE),
    ),
    Step(
        key="sides",
        title="Sides",
        short="Sides",
        measurements=SIDES_OF_HEAD,
        drawing="sides",
        prompts=(
            cautions.EAR,
            "Hearing aid: length to tangent once with it in and once with it out.",
        ),
        cautions=(cautions.CLEAN, cautions.NO_PRESSURE, cautions.MAGNET),
    ),
    Step(
        key="head",
        title="Head",
        short="Head",
        measurements=HEAD,
        drawing="head",
        prompts=(cautions.TELL_FIRST, "Press hair flat. Covering or wig: ask in private."),
        cautions=(cautions.CLEAN, cautions.CALIPER_AT_HEAD, cautions.TEMPLE_TENDER),
    ),
    Step(
        key="pupils_and_lids",
        title="Pupils and lids",
        short="Eyes",
        measurements=PUPILS_AND_LIDS,
        drawing="pupils_and_lids",
        prompts=(
            "Room light as written, the same on both sides; patient looks far, past you.",
            "Brow relaxed.",
        ),
        cautions=(cautions.CLEAN, "The scale is held beside the eye, never in front of it."),
        observations=keys(PUPIL_OBSERVATIONS),
    ),
    Step(
        key="prescription",
        title="Prescription",
        short="Prescription",
        prompts=("Copy it as written, then read it back aloud or to a colleague.",),
        observations=keys(PRESCRIPTION_CHOICES[1:]),
    ),
    Step(
        key="pair_1",
        title="Pair 1",
        short="Pair 1",
        prompts=("A handmade frame: choose its route first, since heights need a frame that exists.",),
        observations=(*keys(FRAME_CHOICES), *keys(LENS_CHOICES)),
    ),
    Step(
        key="pair_2",
        title="Pair 2",
        short="Pair 2",
        measurements=WORN_PAIR,
        drawing="pair_heights",
        prompts=(
            "True the pair up before measuring, and see that it sits where it will be worn.",
            "Patient upright and relaxed, your eyes level with theirs.",
        ),
        cautions=(cautions.CLEAN, "Mark the lens with a marker; nothing sharp in front of an open eye."),
        observations=(*keys(FRAME_CHOICES[:3]), *keys(OWN_FRAME_CHOICES), *keys(LENS_CHOICES)),
    ),
    Step(
        key="review",
        title="Review and sign-off",
        short="Review",
        prompts=("Read all values back before signing.",),
    ),
    Step(key="orders", title="Orders", short="Orders", prompts=("Check the pair number on each sheet.",)),
)

MEASUREMENTS: dict[str, Measurement] = {
    measurement.key: measurement for step in STEPS for measurement in step.measurements
}

STEP_OF: dict[str, Step] = {measurement.key: step for step in STEPS for measurement in step.measurements}
"""The step on which each measurement is asked."""


def measurement(key: str) -> Measurement:
    """The measurement of that key; KeyError with the key where there is none."""
    return MEASUREMENTS[key]


def step(key: str) -> Step:
    """The step of that key; KeyError with the key where there is none."""
    for candidate in STEPS:
        if candidate.key == key:
            return candidate
    raise KeyError(key)

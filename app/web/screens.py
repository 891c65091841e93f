"""How a step is cut into screenfuls that need no scrolling: which boxes or fields stand on which."""

from dataclasses import dataclass
from typing import Literal

from app.catalogue.catalogue import STEPS
from app.catalogue.choices import keys
from app.catalogue.choices_eyes import LASH_OBSERVATIONS, PUPIL_OBSERVATIONS
from app.catalogue.step import Step
from app.fitting.details import PAIR_DETAILS


@dataclass(frozen=True, slots=True, kw_only=True)
class Screen:
    """One screenful. `holds` are measurement keys for readings, field paths for fields and powers."""

    key: str
    title: str
    kind: Literal["readings", "fields", "powers"]
    holds: tuple[str, ...]


def _history(key: str, title: str, *choices: str) -> Screen:
    return Screen(key=key, title=title, kind="fields", holds=tuple(f"history.{choice}" for choice in choices))


def _cover(distance: str, title: str) -> Screen:
    details = (
        "finding",
        "direction",
        "eye",
        "size",
        "size_words",
        "recovery",
        "constancy",
        "with_spectacles",
        "known",
        "note",
    )
    return Screen(
        key=distance,
        title=title,
        kind="fields",
        holds=tuple(f"cover_test.{distance}.{detail}" for detail in details),
    )


PAIR_ATTRIBUTES = frozenset(detail.key for detail in PAIR_DETAILS)
SEGMENT_PATHS = {"segment_shape": "segment.shape", "segment_diameter": "segment.diameter"}


def pair_path(number: int, key: str) -> str:
    """The path of a pair's field: its own attribute, its segment's, or one of its choices."""
    if key in SEGMENT_PATHS:
        return f"pair.{number}.{SEGMENT_PATHS[key]}"
    return f"pair.{number}.{key}" if key in PAIR_ATTRIBUTES else f"pair.{number}.choices.{key}"


def _pair(number: int, key: str, title: str, *fields: str) -> Screen:
    return Screen(
        key=key, title=title, kind="fields", holds=tuple(pair_path(number, field) for field in fields)
    )


def _readings(key: str, title: str, *measurements: str) -> Screen:
    return Screen(key=key, title=title, kind="readings", holds=measurements)


def _lens_screens(number: int) -> tuple[Screen, ...]:
    notes = ("note_to_bench", "tolerance_note") if number == 1 else ("note_to_bench",)
    return (
        _pair(
            number, "lens", "Lens form", "lens_form", "segment_shape", "segment_diameter", "impact_resistance"
        ),
        _pair(number, "lens_material", "Lens material", "lens_material", "index", "coating"),
        _pair(
            number,
            "glazing",
            "Glazing",
            *(
                "tint",
                "tint_detail",
                "edge_finish",
                "glazing",
                "thickness_limits",
                "base_curve",
                "blank_size",
            ),
        ),
        _pair(number, "special", "Special, notes", "special_lens", "special_detail", "note_to_lab", *notes),
        Screen(key="powers", title="Own prescription", kind="powers", holds=(f"pair.{number}.prescription",)),
    )


SCREENS: dict[str, tuple[Screen, ...]] = {
    "person": (
        Screen(
            key="ready",
            title="Ready",
            kind="fields",
            holds=(
                "history.hands_cleaned",
                "history.instruments_cleaned",
                "history.with_them",
                "taken.supervisor",
                "taken.room_light",
                "history.head_covering",
            ),
        ),
        _history("skin", "Skin", "allergy", "allergy_detail", "skin"),
        _history(
            "ears",
            "Ears, nose, eyes",
            *(
                "hearing_aids",
                "hearing_aid_thickness_right",
                "hearing_aid_thickness_left",
                "implanted_device",
            ),
            *("recent_injury", "injury_detail", "temple_tender", "prosthetic_eye", "eyes_steady"),
        ),
        _history("changes", "Changes", "recent_changes", "noticed_before", "looked_at"),
        _history(
            "posture", "Posture", "posture", "posture_since", "occupation", "interests", "working_distances"
        ),
        _history(
            "old",
            "Old spectacles",
            *("old_spectacles", "old_power", "old_centration", "old_fit", "old_liked", "old_hated"),
        ),
    ),
    "cover_test": (
        _cover("distance", "Distance"),
        _cover("near", "Near"),
        _history("observations", "Target", "cover_target", "objects_to_cover"),
    ),
    "lash_clearance": (
        _readings("readings", "Readings", "bridge_projection", "lash_projection"),
        _history("observations", "Smile, blink, brow", *keys(LASH_OBSERVATIONS)),
    ),
    "pupils_and_lids": (
        _readings(
            "readings", "Readings", "pupil_horizontal", "pupil_vertical", "lid_aperture", "iris_diameter"
        ),
        _history("observations", "Lid support", *keys(PUPIL_OBSERVATIONS)),
    ),
    "prescription": (
        Screen(key="powers", title="Powers", kind="powers", holds=("prescription",)),
        _history("seen", "Seen how", "prescription_seen", "prism_centration"),
    ),
    "pair_1": (
        _pair(
            1,
            "frame",
            "Frame",
            "use",
            "route",
            "order_type",
            "remake_of",
            "needed_by",
            "material",
            "sheet_mm",
        ),
        _pair(1, "shape", "Shape", "outline", "tracing", "front_curve", "bridge_build", "side_sheet_mm"),
        _pair(
            1,
            "sizes",
            "Sizes",
            *("lens_width", "lens_height", "distance_between_lenses", "longest_diameter_mm"),
            *("lug_width_mm", "centre_line_above_lid_mm", "vertex_mm"),
        ),
        _pair(
            1,
            "bridge",
            "Bridge",
            *("bridge_style", "pad_shape", "pad_centres", "pad_material"),
            *("wire_trace", "look_level", "centred_on", "difference_meant"),
        ),
        _pair(
            1,
            "sides",
            "Joints, sides",
            *("joint_type", "joint_fixing", "joint_place", "side_style", "side_taper"),
            *("side_core", "side_section", "tip_shape", "drop_finish"),
        ),
        _pair(
            1,
            "colour",
            "Colour",
            *("colour_front", "colour_sides", "colour_sample", "pattern_direction"),
            *("finish", "second_choice", "engraving", "extras"),
        ),
        *_lens_screens(1),
    ),
    "pair_2": (
        _pair(
            2,
            "frame",
            "Frame",
            "use",
            "route",
            "trued_first",
            "stamped_size",
            "frame_condition",
            "longest_diameter_mm",
            "tracing",
            "vertex_mm",
            "needed_by",
        ),
        _readings(
            "off_face",
            "Off the face",
            "lens_width",
            "lens_height",
            "distance_between_lenses",
            "length_to_bend",
        ),
        _readings(
            "worn",
            "Worn: heights",
            "pd_worn",
            "pd_near_worn",
            "segment_height",
            "fitting_height",
            "centre_height",
        ),
        _readings(
            "position",
            "Position, joints",
            "vertex_distance",
            "pantoscopic_angle",
            "face_form_angle",
            "let_back_angle",
            "joint_height",
        ),
        *_lens_screens(2),
    ),
}
"""Steps that need more than one screenful, or fields. A step not named here has all its boxes on one."""


def screens_of(step: Step) -> tuple[Screen, ...]:
    """The screenfuls of a step, in order."""
    if step.key in SCREENS:
        return SCREENS[step.key]
    holds = tuple(measurement.key for measurement in step.measurements)
    return (Screen(key="readings", title=step.title, kind="readings", holds=holds),)


def screen_of(step: Step, key: str | None) -> Screen:
    """The screenful of that key, else the first."""
    screens = screens_of(step)
    return next((screen for screen in screens if screen.key == key), screens[0])


def screen_with(step: Step, measurement: str) -> Screen:
    """The screenful on which a measurement stands."""
    return next(
        screen for screen in screens_of(step) if screen.kind == "readings" and measurement in screen.holds
    )


STEPS_BY_KEY: dict[str, Step] = {step.key: step for step in STEPS}

"""Circumstances under which a reading was taken; readings under different ones are kept apart."""

CONDITIONS: dict[str, str] = {
    "hearing_aid_in": "Hearing aid in",
    "hearing_aid_out": "Hearing aid out",
    "over_covering": "Over the head covering or wig",
    "covering_off": "Head covering or wig off",
    "fellow_eye_covered": "Other eye covered",
    "limbus_used": "Iris edges used in place of the pupils",
    "middle_of_swing": "Eyes not steady: middle of the swing",
    "habitual_posture": "In the head posture the patient usually holds",
    "cosmetic_centre": "Prosthesis: centre of its iris",
    "lid_lifted": "Lid lifted by a prop or finger",
    "dim_light": "Dim light",
    "after_drops": "After drops that change the pupil",
    "estimated": "Estimated",
}

EYES: tuple[str, ...] = (
    "fellow_eye_covered",
    "limbus_used",
    "middle_of_swing",
    "habitual_posture",
    "cosmetic_centre",
    "estimated",
)
"""Those that may go with a PD."""
EARS: tuple[str, ...] = ("hearing_aid_in", "hearing_aid_out", "over_covering", "covering_off", "estimated")
"""Those that may go with a reading at the ear."""
HAIR: tuple[str, ...] = ("over_covering", "covering_off", "estimated")
"""Those that may go with a reading over hair."""
NOSE: tuple[str, ...] = ("estimated",)
"""Those that may go with a reading of the nose."""
LIGHT: tuple[str, ...] = ("dim_light", "after_drops", "estimated")
"""Those that may go with a pupil."""
WORN: tuple[str, ...] = ("habitual_posture", "estimated")
"""Those that may go with a height taken on a worn pair."""

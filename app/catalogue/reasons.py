"""Why a reading was not taken: a blank is information, so it always has a reason."""

REASONS: dict[str, str] = {
    "declined": "Patient declined",
    "could_not_keep_still": "Could not keep still",
    "not_applicable": "Not applicable: prosthesis or absent part",
    "sore_or_healing": "Sore or healing",
    "appliance_in_place": "Dressing or appliance in place",
    "equipment_not_to_hand": "Equipment not to hand",
    "at_fit_up": "To be taken at the fit-up",
    "estimated": "Estimated (say from what)",
    "previous_record": "Taken from a previous record (say its date)",
}

REASONS_THAT_ASK_FOR_DETAIL: tuple[str, ...] = ("estimated", "previous_record")
"""These mean little without a few words more."""

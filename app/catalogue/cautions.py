"""Cautions that several steps and measurements share, worded once."""

RULE_NEAR_EYE = (
    "Bring the rule in from the side, its edge parallel to the face, your hand braced on brow or cheek."
    " No end or corner ever points at an eye."
)
CALIPER_AT_NOSE = (
    "Rounded tips only. Brace two fingers on the brow, come in from the side, touch skin without"
    " whitening it."
)
GAUGE_NEAR_EYE = "The tool rests on the brow or beside the lid and never points at the eye."
CALIPER_AT_HEAD = "Lock the caliper before lifting it off; never carry it open or pass it across the face."
NO_PRESSURE = "No pressure on a recent injury, thin skin, a dressing or an ear that has been operated on."
MAGNET = "Keep magnetic tools and tablet covers away from an implanted hearing device."
EAR = "Ask before moving hair, a covering or a hearing aid."
TEMPLE_TENDER = "If the temple is tender to touch, stop and let the registered practitioner see this."
CLOSED_LID = "Both eyes closed before the tool comes near the lid; hand braced; never press on the eye."

TELL_FIRST = "Tell the patient what you will do, and to say so before sneezing or moving."
CLEAN = "Hands and instruments clean, hand gel dry."
STOP_FOR_PAIN = "Stop for pain, faintness or distress."

"""What reception asks, may say and must not say: common practice; local rules come first."""

ASK_FIRST = "Ask, never tell. Two of the three must match before anything is said about a pair."

MAY_SAY = (
    "What the line of each pair says, and its date",
    "That a fitting needs an appointment",
    "Opening hours, and the sum that is due",
)
MUST_NOT_SAY = (
    "Prescription, measurements, cover test, findings",
    "Why, where the cause is clinical; referral; diagnosis",
    "Benefits, vouchers; anything about family members",
    "To a machine or anybody else: more than is allowed here",
)
MESSAGE_AT_MOST = "Leave at most “Please ring {practice}”."
NO_MESSAGE = "Leave no message, with nobody."
NO_PERMISSION = "Speak to nobody else."

STOP_WORDS = (
    "sudden loss or change of sight",
    "new double vision",
    "new flashes, floaters or a curtain",
    "one pupil larger, a drooping lid",
    "severe pain, or a red eye that light hurts",
    "an injury or a chemical splash",
    "the worst headache, a drooping face, a weak arm",
)
STOP_DEED = (
    "Do not advise. Pass the call on at once: "
    "“I can't advise on that, but I will get someone who can right now.”"
)
NOBODY_IN = "Nobody in? Follow the practice's emergency route."
NOT_CONFIRMED = (
    "Not confirmed. Say nothing about any pair, not even that there is one. "
    "Offer to have a colleague ring back on the number that is held."
)
RESTRICTED = "a practitioner must be here for fitting and collection"

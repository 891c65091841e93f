"""What reception asks, may say, must not say, and what stops the script: common practice; local rules come first."""

ASK_FIRST = "Ask, never tell. Two of the three must match before anything is said about a pair."

MAY_SAY = (
    "What each pair's line below says, and its date",
    "That a fitting needs an appointment",
    "Opening hours, and the sum that is due",
)
MUST_NOT_SAY = (
    "Prescription, measurements, cover test, findings",
    "Why, where the cause is clinical; referral; diagnosis",
    "Benefits, vouchers; anything about family members",
)
MESSAGE_AT_MOST = "“Please ring {practice}.” Nothing else, to a machine or to another person."
NO_MESSAGE = "Leave no message, with nobody."
NO_PERMISSION = "Speak only to the person."

STOP_WORDS = (
    "sudden loss or change of sight",
    "new double vision",
    "new flashes, floaters or a curtain",
    "one pupil larger, a drooping lid",
    "severe pain, or a red eye that light hurts",
    "an injury or a chemical splash",
    "the worst headache, a drooping face, a weak arm",
)
STOP_DEED = "Do not advise. Pass the call on at once: “I can't advise on that, but I will get someone who can right now.”"
NOBODY_IN = "Nobody in? Follow the practice's emergency route."
NOT_CONFIRMED = (
    "Not confirmed. Say nothing about any pair, not even that there is one. "
    "Offer to have a colleague ring back on the number that is held."
)
RESTRICTED = "A practitioner must be here for measuring, fitting and collection."
NOT_ADVICE = "I can't advise on that, but I will get someone who can right now."

"""Words that several checks share: neutral, deferring to the registered practitioner, never a diagnosis."""

PAUSE = (
    "Please pause and let the registered practitioner see this before continuing. "
    "Has this been noticed before? Has it been looked at? Follow your local referral guidance."
)
PAUSE_COST = (
    "Dispensing waits until the registered practitioner has decided; saving does not. "
    "This app records measurements. It does not diagnose or give advice on treatment."
)
REFERRAL_SOURCE = (
    "College of Optometrists, urgency of referrals (clinical guidance C205, annex 4), as a guide; "
    "the local referral protocol and the registered practitioner decide"
)
PRISM_COST = "A lens centred wrong gives unwanted prism: strain, swim, in high powers double vision."

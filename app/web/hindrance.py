"""Why an order cannot go out, or a pair cannot go on, just now."""

from app.plausibility.answers import pausing_findings
from app.records.database import Database
from app.records.signoff import load_signed
from app.web.chair import Chair

DRAFT = "This is a draft: it cannot be marked as sent before the fitting is signed off."
REOPENED = "A new version is open: sign it off first, so that nobody works from two."
PAUSED = "Dispensing is paused until the registered practitioner has decided: it cannot be sent meanwhile."
BROKEN = "The signed version does not match its seal. Do not order from it; tell the manager."
PAUSED_AT_DESK = "It waits for the practitioner and cannot go on meanwhile. Ask them first."


def hindrance_at_desk(records: Database, chair: Chair) -> str | None:
    """Why no pair of a fitting can go on now, in words that say nothing clinical; None where both can."""
    if not chair.stored.signed_versions:
        return None  # what may be noted before the first sign-off commits nobody
    if not chair.frozen:
        return REOPENED
    if not load_signed(records, chair.stored.fitting_id).intact:
        return BROKEN
    return PAUSED_AT_DESK if pausing_findings(chair.judgement, chair.answers) else None

"""Whether a reading, or a reason for leaving one out, can stand as it is: refused in words where it cannot."""

from collections.abc import Iterable

from app.catalogue.catalogue import MEASUREMENTS
from app.catalogue.conditions import CONDITIONS
from app.catalogue.measurement import Measurement
from app.catalogue.reasons import REASONS, REASONS_THAT_ASK_FOR_DETAIL
from app.fitting.reading import NotTaken, Reading
from app.fitting.written_number import quoted

DETAIL_EXAMPLES: dict[str, str] = {
    "estimated": "“Estimated” needs a few words more: say from what. Example: from the old pair.",
    "previous_record": "“Taken from a previous record” needs its date. Example: 12 Mar 2024.",
}


def check_reading(reading: Reading) -> str | None:
    """Why a reading cannot be kept, in words for the person who entered it; None where it can.

    Looked at: its measurement, side, pair, method and condition. An instrument is any name: a practice has its
    own tools ("rule 2").
    """
    declared = MEASUREMENTS.get(reading.measurement)
    if declared is None:
        return f"There is no measurement called {quoted(reading.measurement)}."
    return (
        _side_refusal(declared, reading)
        or _pair_refusal(declared, reading)
        or _method_refusal(declared, reading.method)
        or _condition_refusal(declared, reading.condition)
    )


def check_not_taken(not_taken: NotTaken) -> str | None:
    """Why a reason for leaving a measurement out cannot be kept, in words; None where it can.

    An estimate says from what, and a value of a previous record its date: both mean little without.
    """
    if not_taken.reason not in REASONS:
        return "Choose the reason why this reading is not taken."
    if not_taken.reason in REASONS_THAT_ASK_FOR_DETAIL and not (not_taken.detail or "").strip():
        return DETAIL_EXAMPLES[not_taken.reason]
    return None


def _side_refusal(declared: Measurement, reading: Reading) -> str | None:
    if declared.sides == "each" and reading.side is None:
        return f"{declared.label}: say of which side it is, the patient's right or left."
    if declared.sides == "one" and reading.side is not None:
        return f"{declared.label} has no sides: it is one value."
    return None


def _pair_refusal(declared: Measurement, reading: Reading) -> str | None:
    if declared.off_pair and reading.pair is None:
        return f"{declared.label} is read off a pair: say of which one, 1 or 2."
    if not declared.off_pair and reading.pair is not None:
        return f"{declared.label} is a reading of the face, not of a pair."
    return None


def _method_refusal(declared: Measurement, method: str | None) -> str | None:
    if method is None or declared.method(method) is not None:
        return None
    if not declared.methods:
        return f"{declared.label}: {quoted(method)} is no method here; it is taken in one way only."
    choose = _choose(known.label for known in declared.methods)
    return f"{declared.label}: {quoted(method)} is none of its methods. {choose}"


def _condition_refusal(declared: Measurement, condition: str | None) -> str | None:
    if condition is None or condition in CONDITIONS:
        return None
    known = [CONDITIONS[key] for key in declared.conditions]
    choose = _choose(known) if known else "Leave it out."
    return f"{declared.label}: {quoted(condition)} is no circumstance that is known here. {choose}"


def _choose(labels: Iterable[str]) -> str:
    return f"Choose one of these: {'; '.join(labels)}."

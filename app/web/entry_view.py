"""What stands in the entry panel of a step: kept text, guard, last outcome, what waits half-typed."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from app.catalogue.catalogue import STEP_OF
from app.catalogue.measurement import Measurement
from app.fitting.entry import in_words
from app.plausibility.finding import Offer
from app.records.drafts import Draft
from app.web.box import BoxKey, read_box
from app.web.chair import Chair
from app.web.rail import step_address
from app.web.step_view import SEVERITY_WORDS, findings_about, standing_in


@dataclass(frozen=True, slots=True, kw_only=True)
class Entered:
    """What the entry shows besides the box itself: kept text, a message, a guard's offers, the last outcome."""

    text: str = ""
    sign_word: str = ""
    problem: str = ""
    offers: tuple[Offer, ...] = ()
    after: BoxKey | None = None
    again: bool = False
    chosen: dict[str, str] = field(default_factory=dict)
    """Method, condition, instrument and note as chosen, to be shown again after a mistake."""


def start_value(measurement: Measurement) -> str:
    """Where − and + start from in an empty box: the middle of the usual range, on the scale."""
    if measurement.signed:
        return "0"
    middle = (measurement.adult.usual.low + measurement.adult.usual.high) / 2
    return f"{round(middle / measurement.scale_step) * measurement.scale_step:g}"


def usual_method(chair: Chair, measurement: Measurement) -> str:
    """The method marked beforehand: the fellow eye covered where a squint is recorded, else the first."""
    keys = [method.key for method in measurement.methods]
    if chair.fitting.cover_test.squint and "fellow_eye_covered" in keys:
        return "fellow_eye_covered"
    return keys[0] if keys else ""


def condition_matters(chair: Chair, measurement: Measurement) -> bool:
    """True where the patient wears hearing aids and the reading depends on them: it is taken in and out."""
    aids = chair.fitting.history.get("hearing_aids", "none")
    return aids not in ("", "none") and "hearing_aid_in" in measurement.conditions


def guards(armed: BoxKey, key: str, entered: Entered) -> tuple[dict[str, Any], ...]:
    """The buttons of the out-by-ten guard: each likely value, and the value as it was typed."""
    if not entered.offers:
        return ()
    same = {"box": str(armed), "as_entered": "1", **entered.chosen}
    as_typed = {"text": entered.text, "sign_word": entered.sign_word}
    likely = [
        {
            "words": offer.words,
            "likely": True,
            "fields": {**same, "key": f"{key}-{place}", "text": f"{value:g}"},
        }
        for place, offer in enumerate(entered.offers, start=1)
        for _, value in offer.corrections[:1]
    ]
    kept = {
        "words": f"{entered.text} is what I read",
        "likely": False,
        "fields": {**same, **as_typed, "key": f"{key}-0"},
    }
    return (*likely, kept)


def outcome(chair: Chair, after: BoxKey | None, armed: BoxKey) -> dict[str, str] | None:
    """How the reading just taken stands, in words; None where none was just taken."""
    if after is None:
        return None
    taken = standing_in(chair, after)
    if not taken:
        return {"words": f"{after.name}: noted as not taken.", "severity": "fine"}
    value = in_words(after.measurement, taken[-1].value)
    found = findings_about(chair.beside, after)
    if not found:
        return noted(chair, after, value) or {"words": f"{after.name}: {value}, fine.", "severity": "fine"}
    # Still in the box that it is about, the finding stands in full beside it and need not be said twice.
    said = f"{SEVERITY_WORDS[found[0].severity]}: see beside." if after == armed else found[0].message
    name = "" if after == armed else f"{after.name}: "
    return {"words": f"{name}{value} kept. {said}", "severity": str(found[0].severity)}


def noted(chair: Chair, after: BoxKey, value: str) -> dict[str, str] | None:
    """A note about this reading alone, such as that it lies between two steps of the scale: it is not just fine."""
    notes = [one for one in findings_about(chair.judgement.findings, after) if len(one.about) == 1]
    if not notes or notes[0].severity != "note":
        return None
    return {"words": f"{after.name}: {value} kept. {notes[0].message}", "severity": "note"}


def previous_value(chair: Chair, armed: BoxKey) -> str:
    """The last visit's value, only once the new one has been entered: seeing it first would lead the hand."""
    if chair.previous is None or not standing_in(chair, armed):
        return ""
    earlier = [
        reading
        for reading in chair.previous.readings
        if (reading.measurement, reading.side) == (armed.measurement.key, armed.side)
        and reading.entered_in_error is None
    ]
    return in_words(armed.measurement, earlier[-1].value) if earlier else ""


def third_wanted(chair: Chair, key: BoxKey) -> bool:
    """True where two readings of the box differ and a third, taken blind, is to settle it."""
    return any(
        value.state == "third_needed"
        for value in chair.judgement.working
        if (value.measurement, value.side) == (key.measurement.key, key.side)
        and key.method in (None, value.method)
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class HalfTyped:
    """A number that was left half-typed in another box, and the way back to it."""

    name: str
    text: str
    address: str


def half_typed(chair: Chair, drafts: Iterable[Draft], armed: BoxKey) -> tuple[HalfTyped, ...]:
    """What waits half-typed in other boxes than the armed one."""
    boxes = [(read_box(draft.field), draft.text) for draft in drafts if draft.field != str(armed)]
    return tuple(
        HalfTyped(
            name=box.name,
            text=text,
            address=f"{step_address(chair, STEP_OF[box.measurement.key].key)}?box={box}",
        )
        for box, text in boxes
    )

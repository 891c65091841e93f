"""One reading, or the reason why it was not taken, as a HL7 FHIR R4 Observation.

Elements and codes: https://hl7.org/fhir/R4/observation.html. The code is our catalogue's key in our own code
system; right and left stand as the observation's body site in a code system of our own.
"""

from app.catalogue.catalogue import MEASUREMENTS
from app.catalogue.conditions import CONDITIONS
from app.catalogue.measurement import SIDE_WORDS, Side
from app.catalogue.reasons import REASONS
from app.documents.fhir_prescription import figure
from app.documents.json_text import Json
from app.fitting.fitting import Fitting
from app.fitting.reading import NotTaken, Reading

Resource = dict[str, Json]
UCUM = "http://unitsofmeasure.org"
UCUM_UNITS = {"mm": "mm", "cm": "cm", "deg": "deg"}
"""Checked with the UCUM validator of the Lister Hill Center (@lhncbc/ucum-lhc 7.1.10)."""
MEASUREMENT_SYSTEM = "urn:x-chair-to-bench:measurement"
METHOD_SYSTEM = "urn:x-chair-to-bench:method"
SIDE_SYSTEM = "urn:x-chair-to-bench:side"
REASON_SYSTEM = "urn:x-chair-to-bench:reason"
CATEGORY: Json = {
    "coding": [{"system": "http://terminology.hl7.org/CodeSystem/observation-category", "code": "exam"}]
}
ABSENT = "http://terminology.hl7.org/CodeSystem/data-absent-reason"
ABSENT_CODES = {"not_applicable": "not-applicable", "declined": "asked-declined"}
"""Reasons of the catalogue with a code of their own there; all others are not-performed."""
TESTED_AT = "tested_at"


def observation(
    reading: Reading, fitting: Fitting, *, subject: Resource, performer: Resource | None
) -> Resource:
    """One reading. A proposed one is preliminary, a correction is corrected, a wrong entry says so."""
    found = _observation(reading.measurement, reading.side, reading.pair, fitting, subject, _status(reading))
    if reading.at is not None:
        found["effectiveDateTime"] = _moment(reading.at, fitting)
    if performer is not None:
        found["performer"] = [performer]
    found["valueQuantity"] = _quantity(reading.value, MEASUREMENTS[reading.measurement].unit)
    if reading.method is not None:
        found["method"] = {"coding": [{"system": METHOD_SYSTEM, "code": reading.method}]}
    notes = [CONDITIONS.get(reading.condition or "", ""), reading.note or ""]
    if reading.entered_in_error is not None:
        notes.append(f"Entered in error: {reading.entered_in_error.reason}")
    _add_notes(found, notes)
    return found


def left_out_observation(gap: NotTaken, fitting: Fitting, *, subject: Resource) -> Resource:
    """A measurement that was not taken, with its reason and without a value."""
    found = _observation(gap.measurement, gap.side, gap.pair, fitting, subject, "final")
    code = ABSENT_CODES.get(gap.reason, "not-performed")
    found["dataAbsentReason"] = {
        "coding": [{"system": ABSENT, "code": code}, {"system": REASON_SYSTEM, "code": gap.reason}],
        "text": REASONS.get(gap.reason, gap.reason),
    }
    _add_notes(found, [gap.detail or ""])
    return found


def vertex_observation(tested_at_mm: float, fitting: Fitting, *, subject: Resource) -> Resource:
    """The vertex distance at which the prescription was tested: a prescription has no element for it."""
    return {
        "resourceType": "Observation",
        "status": "final",
        "category": [CATEGORY],
        "code": {
            "coding": [{"system": MEASUREMENT_SYSTEM, "code": TESTED_AT}],
            "text": "Vertex distance at which the prescription was tested",
        },
        "subject": subject,
        "effectiveDateTime": fitting.taken.on,
        "valueQuantity": _quantity(tested_at_mm, "mm"),
    }


def _observation(
    measurement: str, side: Side | None, pair: int | None, fitting: Fitting, subject: Resource, status: str
) -> Resource:
    label = MEASUREMENTS[measurement].label
    found: Resource = {
        "resourceType": "Observation",
        "status": status,
        "category": [CATEGORY],
        "code": {
            "coding": [{"system": MEASUREMENT_SYSTEM, "code": measurement, "display": label}],
            "text": label if pair is None else f"{label}, pair {pair}",
        },
        "subject": subject,
        "effectiveDateTime": fitting.taken.on,
    }
    if side is not None:
        found["bodySite"] = {"coding": [{"system": SIDE_SYSTEM, "code": side}], "text": SIDE_WORDS[side]}
    return found


def _status(reading: Reading) -> str:
    if reading.entered_in_error is not None:
        return "entered-in-error"
    if reading.proposed and reading.accepted_by is None:
        return "preliminary"
    return "corrected" if reading.replaces else "final"


def _quantity(value: float, unit: str) -> Json:
    code = UCUM_UNITS[unit]
    return {"value": figure(value, 0), "unit": code, "system": UCUM, "code": code}


def _moment(at: str, fitting: Fitting) -> str:
    """The moment where it has a zone, as FHIR asks of every time of day; else the day."""
    zoned = "T" in at and (at.endswith("Z") or "+" in at[19:] or "-" in at[19:])
    return at if zoned else fitting.taken.on


def _add_notes(found: Resource, notes: list[str]) -> None:
    said = [note for note in notes if note]
    if said:
        found["note"] = [{"text": note} for note in said]

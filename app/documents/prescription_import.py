"""A prescription that comes in as text: what of it was understood, as fields of a fitting, and what was not.

Read: a HL7 FHIR R4 VisionPrescription as JSON, alone or in a Bundle, or one line such as "OD -2.00; OS -1.00
-0.50 x 180". Nothing is stored here: a person looks at it first.
"""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from app.documents.fhir_check import fhir_problems
from app.documents.vision_prescription import (
    EyePrescription,
    UnreadablePrescription,
    VisionPrescription,
    read_fhir_prescription,
    read_prescription_text,
)
from app.fitting.field_text import number_text, power_text
from app.fitting.fields import Fields, check_field

LONGEST = 200_000
"""Characters that are read: a prescription has about a thousand. Ours."""
READ = frozenset(
    {
        *("resourceType", "id", "meta", "text", "language", "identifier", "status", "created", "patient"),
        *("dateWritten", "prescriber", "lensSpecification", "implicitRules", "encounter"),
    }
)
READ_OF_A_LENS = frozenset({"product", "eye", "sphere", "cylinder", "axis", "prism", "add", "id"})
STATUS_WORDS = {
    "draft": "it is only a draft",
    "cancelled": "it was cancelled",
    "entered-in-error": "it is marked as entered in error",
}
SIDES = (("R", "right"), ("L", "left"))
POWERS = (("sphere", "sphere_d"), ("cylinder", "cylinder_d"), ("add", "addition_d"))


@dataclass(frozen=True, slots=True, kw_only=True)
class PrescriptionImport:
    """What was understood, by path below the prescription (`R.sphere`), and what was not, in words."""

    fields: Fields
    not_understood: tuple[str, ...]


def import_prescription(text: str) -> PrescriptionImport:
    """What a text says of a prescription; never raises.

    >>> import_prescription("OD -2.00; OS -1.00 -0.50 x 180").fields["L.axis"]
    '180'
    """
    try:
        return _imported(text.strip())
    except (UnreadablePrescription, _NotReadable) as refusal:
        return PrescriptionImport(fields={}, not_understood=(str(refusal),))


class _NotReadable(ValueError):
    """Nothing of it can be used; the message says why."""


def _imported(text: str) -> PrescriptionImport:
    if not text:
        raise _NotReadable("There is nothing to read.")
    if len(text) > LONGEST:
        raise _NotReadable("This is too long to be one prescription.")
    if not text.startswith(("{", "[")):
        return _checked(_fields(read_prescription_text(text)), [])
    resource = _prescription_in(_json(text))
    status = str(resource.get("status"))
    if status in STATUS_WORDS:
        raise _NotReadable(f"This prescription is not to be used: {STATUS_WORDS[status]}.")
    try:
        both = read_fhir_prescription(resource)
    except (AttributeError, KeyError, TypeError, ValueError, ArithmeticError) as error:
        if isinstance(error, UnreadablePrescription):
            raise
        raise _NotReadable("A lens in it is not written as FHIR writes one.") from None
    fields = _fields(both)
    notes = [f"As FHIR asks: {problem}." for problem in fhir_problems(resource)]
    written, prescriber = resource.get("dateWritten"), resource.get("prescriber")
    if isinstance(written, str):
        fields["written"] = written[:10]
    name = prescriber.get("display") if isinstance(prescriber, Mapping) else None
    if isinstance(name, str) and name.strip():
        fields["prescriber"] = name.strip()
    else:
        notes.append("The prescriber's name does not stand in it.")
    return _checked(fields, [*notes, *_passed_over(resource)])


def _json(text: str) -> Any:
    try:
        return json.loads(text, parse_float=Decimal, parse_constant=_no_constant)
    except (ValueError, RecursionError):
        raise _NotReadable("This is not JSON that can be read.") from None


def _no_constant(word: str) -> Any:
    raise ValueError(word)


def _prescription_in(document: Any) -> Mapping[str, Any]:
    """The one prescription of a document: the resource itself, or the only one in a Bundle."""
    if not isinstance(document, Mapping):
        raise _NotReadable("This is not a FHIR VisionPrescription.")
    if document.get("resourceType") != "Bundle":
        return document
    entries = document.get("entry")
    held = (
        [entry.get("resource") for entry in entries if isinstance(entry, Mapping)]
        if isinstance(entries, list)
        else []
    )
    found = [
        one for one in held if isinstance(one, Mapping) and one.get("resourceType") == "VisionPrescription"
    ]
    if len(found) != 1:
        raise _NotReadable(f"The Bundle holds {len(found)} prescriptions; send the one that is meant.")
    return found[0]


def _fields(both: VisionPrescription) -> Fields:
    fields: Fields = {}
    for side, name in SIDES:
        eye: EyePrescription = getattr(both, name)
        for part, attribute in POWERS:
            value = getattr(eye, attribute)
            if value is not None:
                fields[f"{side}.{part}"] = power_text(value)
        if eye.axis_deg is not None:
            fields[f"{side}.axis"] = number_text(eye.axis_deg)
        for number, prism in enumerate(eye.prisms, start=1):
            fields[f"{side}.prism.{number}.amount"] = number_text(prism.amount_prism_dioptres)
            fields[f"{side}.prism.{number}.base"] = prism.base
    return fields


def _checked(fields: Fields, notes: list[str]) -> PrescriptionImport:
    """What can stand in a fitting; what cannot is named with the reason."""
    kept: Fields = {}
    for path, text in fields.items():
        refusal = check_field(f"prescription.{path}", text)
        if refusal is None:
            kept[path] = text
        else:
            notes.append(refusal)
    if not kept:
        notes.append("No power was found in it.")
    return PrescriptionImport(fields=kept, not_understood=tuple(notes))


def _passed_over(resource: Mapping[str, Any]) -> list[str]:
    """Elements that are there and have no place in a fitting's prescription."""
    words = [f"Not taken over: {name}." for name in resource if name not in READ]
    eyes = [lens.get("eye") for lens in resource.get("lensSpecification", ())]
    words += [
        f"Two lenses are written for the {eye} eye; the last one counts."
        for eye in ("right", "left")
        if eyes.count(eye) > 1
    ]
    for lens in resource.get("lensSpecification", ()):
        words += [
            f"Not taken over, {lens.get('eye')} eye: {name}." for name in lens if name not in READ_OF_A_LENS
        ]
    return words

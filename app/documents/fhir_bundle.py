"""A signed fitting as a HL7 FHIR R4 Bundle: who, the prescription, every measurement, and who vouches for it.

Resources and codes: https://hl7.org/fhir/R4. Measurements carry the keys of our own catalogue in a code
system of our own; no code of another system is guessed. Units are UCUM (https://ucum.org): mm, cm, deg. The
only moment in it is that of the sign-off, so the same fitting gives the same bytes.
"""

import uuid
from dataclasses import dataclass

from app.documents.fhir_observation import left_out_observation, observation, vertex_observation
from app.documents.fhir_prescription import lens_specifications, prescription_for_fhir
from app.documents.json_text import Json
from app.documents.signed_order import SignOff
from app.fitting.fitting import Fitting
from app.fitting.prescription import Prescription

NAMESPACE = uuid.uuid5(uuid.NAMESPACE_URL, "urn:x-chair-to-bench")
REFERENCE_SYSTEM = "urn:x-chair-to-bench:reference"
REGISTRATION_SYSTEM = "urn:x-chair-to-bench:registration"
DATA_OPERATION = "http://terminology.hl7.org/CodeSystem/v3-DataOperation"
PARTICIPANT = "http://terminology.hl7.org/CodeSystem/provenance-participant-type"
GENDERS = {"F": "female", "M": "male"}
Resource = dict[str, Json]


@dataclass(frozen=True, slots=True, kw_only=True)
class FhirExport:
    """The bundle, and in words what of the fitting it cannot carry."""

    bundle: Resource
    left_out: tuple[str, ...]


def fhir_bundle(fitting: Fitting, *, identity: str, signed: SignOff) -> FhirExport:
    """The bundle of one signed fitting. `identity` is the fitting's, from which every resource gets its own."""
    made = _Bundle(identity)
    left_out: list[str] = []
    patient = made.add("patient", _patient(fitting))
    people = [name for name in dict.fromkeys([signed.name, *_takers(fitting)]) if name]
    for name in people:
        made.add(f"practitioner {name}", _practitioner(name, signed))
    targets = [
        made.add(f"prescription {place}", resource)
        for place, written in _prescriptions(fitting)
        if (resource := _prescription(written, place, patient, signed, left_out)) is not None
    ]
    for number, reading in enumerate(fitting.readings):
        performer = made.reference(f"practitioner {reading.by}") if reading.by else None
        made_observation = observation(reading, fitting, subject=patient, performer=performer)
        targets.append(made.add(f"reading {number}", made_observation))
    for number, gap in enumerate(fitting.not_taken):
        targets.append(made.add(f"gap {number}", left_out_observation(gap, fitting, subject=patient)))
    for place, written in _prescriptions(fitting):
        if written.tested_at_mm is not None:
            vertex = vertex_observation(written.tested_at_mm, fitting, subject=patient)
            targets.append(made.add(f"tested at {place}", vertex))
    made.add("provenance", _provenance(made, targets, people, signed))
    bundle: Resource = {
        "resourceType": "Bundle",
        "id": str(uuid.uuid5(NAMESPACE, f"{identity} {signed.version}")),
        "type": "collection",
        "timestamp": signed.at,
        "entry": list(made.entries),
    }
    return FhirExport(bundle=bundle, left_out=tuple(left_out))


class _Bundle:
    """Entries with the addresses by which they refer to each other."""

    def __init__(self, identity: str) -> None:
        self.identity = identity
        self.entries: list[Json] = []

    def address(self, name: str) -> str:
        """The address of a resource: the same name always has the same."""
        return f"urn:uuid:{uuid.uuid5(NAMESPACE, f'{self.identity} {name}')}"

    def reference(self, name: str) -> Resource:
        """A reference to a resource of this bundle."""
        return {"reference": self.address(name)}

    def add(self, name: str, resource: Resource) -> Resource:
        """Add a resource; gives the reference to it."""
        self.entries.append({"fullUrl": self.address(name), "resource": resource})
        return self.reference(name)


def _patient(fitting: Fitting) -> Resource:
    person = fitting.person
    patient: Resource = {
        "resourceType": "Patient",
        "identifier": [{"system": REFERENCE_SYSTEM, "value": person.reference}],
    }
    if person.sex is not None:
        patient["gender"] = GENDERS[person.sex]
    if person.born is not None:
        patient["birthDate"] = person.born
    return patient


def _practitioner(name: str, signed: SignOff) -> Resource:
    found: Resource = {"resourceType": "Practitioner", "name": [{"text": name}]}
    if name == signed.name:
        found["identifier"] = [{"system": REGISTRATION_SYSTEM, "value": signed.registration}]
    return found


def _takers(fitting: Fitting) -> list[str]:
    return [reading.by for reading in fitting.readings if reading.by]


def _prescriptions(fitting: Fitting) -> list[tuple[str, Prescription]]:
    found = [("of the fitting", fitting.prescription)]
    found += [(f"of pair {pair.pair}", pair.prescription) for pair in fitting.pairs]
    return [(place, written) for place, written in found if written is not None]


def _prescription(
    written: Prescription, place: str, patient: Resource, signed: SignOff, left_out: list[str]
) -> Resource | None:
    both, lost = prescription_for_fhir(written)
    left_out += [f"Prescription {place}, {words}" for words in lost]
    lenses = lens_specifications(both)
    if written.written is None or not written.prescriber or not lenses:
        left_out.append(f"Prescription {place}: FHIR asks for its date, its prescriber and a lens")
        return None
    return {
        "resourceType": "VisionPrescription",
        "status": "active",
        "created": signed.at,
        "patient": patient,
        "dateWritten": written.written,
        "prescriber": {"display": written.prescriber},
        "lensSpecification": lenses,
    }


def _provenance(made: _Bundle, targets: list[Resource], people: list[str], signed: SignOff) -> Resource:
    """Who vouches for it (verifier: who signed) and who took what (performer)."""
    agents: list[Json] = [
        {
            "type": {
                "coding": [
                    {"system": PARTICIPANT, "code": "verifier" if name == signed.name else "performer"}
                ]
            },
            "who": made.reference(f"practitioner {name}"),
        }
        for name in people
    ]
    return {
        "resourceType": "Provenance",
        "target": [*targets] or [made.reference("patient")],
        "recorded": signed.at,
        "activity": {"coding": [{"system": DATA_OPERATION, "code": "CREATE"}]},
        "agent": agents,
    }

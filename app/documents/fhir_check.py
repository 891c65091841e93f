"""A small check of FHIR R4 resources that we write or read: required elements and required sets of codes.

It stands beside model libraries, which know the types but not the codes of required value sets. Lists are
those of the resource pages of https://hl7.org/fhir/R4: only the resources and elements that this app writes
or reads.
"""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

REQUIRED: dict[str, tuple[str, ...]] = {
    "Bundle": ("type",),
    "Patient": (),
    "Practitioner": (),
    "VisionPrescription": (
        *("status", "created", "patient", "dateWritten", "prescriber", "lensSpecification"),
        *("lensSpecification.product", "lensSpecification.eye"),
        *("lensSpecification.prism.amount", "lensSpecification.prism.base"),
    ),
    "Observation": ("status", "code"),
    "Provenance": ("target", "recorded", "agent", "agent.who"),
}
CODES: dict[tuple[str, str], frozenset[str]] = {
    ("Bundle", "type"): frozenset(
        (
            "document",
            "message",
            "transaction",
            "transaction-response",
            "batch",
            "batch-response",
            "history",
            "searchset",
            "collection",
        )
    ),
    ("Patient", "gender"): frozenset(("male", "female", "other", "unknown")),
    ("VisionPrescription", "status"): frozenset(("active", "cancelled", "draft", "entered-in-error")),
    ("VisionPrescription", "lensSpecification.eye"): frozenset(("right", "left")),
    ("VisionPrescription", "lensSpecification.prism.base"): frozenset(("up", "down", "in", "out")),
    ("Observation", "status"): frozenset(
        (
            "registered",
            "preliminary",
            "final",
            "amended",
            "corrected",
            "cancelled",
            "entered-in-error",
            "unknown",
        )
    ),
}
WHOLE_NUMBERS = {("VisionPrescription", "lensSpecification.axis")}


def fhir_problems(resource: Mapping[str, Any]) -> list[str]:
    """What is wrong with a resource, in words with the element's place; empty where nothing is. Bundles: all
    in it.
    """
    kind = str(resource.get("resourceType"))
    if kind not in REQUIRED:
        return [f"{kind}: not a resource that is known here"]
    problems = [f"{kind}.{path} is missing" for path in REQUIRED[kind] if _lacks(resource, path.split("."))]
    for (owner, path), allowed in CODES.items():
        if owner == kind:
            wrong = [
                value
                for value in _values(resource, path.split("."))
                if not isinstance(value, str) or value not in allowed
            ]
            problems += [f"{kind}.{path} is “{value}”, which FHIR does not know" for value in wrong]
    for owner, path in WHOLE_NUMBERS:
        if owner == kind:
            wrong = [value for value in _values(resource, path.split(".")) if not _whole(value)]
            problems += [f"{kind}.{path} is {value}, not a whole number" for value in wrong]
    if kind == "Observation" and "dataAbsentReason" in resource and "valueQuantity" in resource:
        problems.append("Observation: a reason for no value stands beside a value (obs-6)")
    if kind == "Bundle":
        problems += _in_bundle(resource)
    return problems


def _whole(value: Any) -> bool:
    return isinstance(value, int) and not isinstance(value, bool)


def _in_bundle(bundle: Mapping[str, Any]) -> list[str]:
    entries = [entry for entry in bundle.get("entry", []) if isinstance(entry, Mapping)]
    known = {entry.get("fullUrl") for entry in entries}
    problems = [problem for entry in entries for problem in fhir_problems(entry.get("resource", {}))]
    return problems + [
        f"a reference to {reference} leads nowhere"
        for entry in entries
        for reference in _references(entry.get("resource", {}))
        if reference.startswith("urn:uuid:") and reference not in known
    ]


def _values(holder: Any, path: Sequence[str]) -> Iterator[Any]:
    """Every value at a path, lists gone through."""
    if isinstance(holder, list):
        for item in holder:
            yield from _values(item, path)
    elif not path:
        yield holder
    elif isinstance(holder, Mapping) and path[0] in holder:
        yield from _values(holder[path[0]], path[1:])


def _lacks(holder: Any, path: Sequence[str]) -> bool:
    """True where a holder of the path's last element is there without it."""
    *before, last = path
    owners = list(_values(holder, before))
    return any(not isinstance(owner, Mapping) or owner.get(last) in (None, "", [], {}) for owner in owners)


def _references(holder: Any) -> Iterator[str]:
    if isinstance(holder, list):
        for item in holder:
            yield from _references(item)
    elif isinstance(holder, Mapping):
        for key, value in holder.items():
            if key == "reference" and isinstance(value, str):
                yield value
            else:
                yield from _references(value)

"""A spectacle prescription read from one line of text or from an HL7 FHIR VisionPrescription.
Text and FHIR say the same: sphere, cylinder and addition in dioptres, axis in degrees, prism in prism
dioptres with a base up, down, in or out. FHIR R4 has no oblique base: such a prism comes as two entries
(hl7.org/fhir/r4, VisionPrescription). Minus or plus cylinder form is not stated and stays as written.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

Base = Literal["up", "down", "in", "out"]
BASES: dict[str, Base] = {
    **dict.fromkeys(("bu", "base up", "up"), "up"),
    **dict.fromkeys(("bd", "base down", "down"), "down"),
    **dict.fromkeys(("bi", "base in", "in"), "in"),
    **dict.fromkeys(("bo", "base out", "out"), "out"),
}
EYES: dict[str, Literal["right", "left"]] = {
    **dict.fromkeys(("od", "re", "r", "right"), "right"),
    **dict.fromkeys(("os", "le", "l", "left"), "left"),
}
NUMBER = r"[+-]?\d+(?:\.\d+)?"
EYE_MARK = re.compile(r"\b(od|os|re|le|right|left|r|l)\b\s*:?", re.IGNORECASE)
PRISM = re.compile(
    rf"({NUMBER})\s*(?:p\.?\s?d\.?|pd|prism(?:\s+dioptres?)?|Δ|\^)?\s*\b(b[udio]|base\s+(?:up|down|in|out))\b",
    re.IGNORECASE,
)
ADDITION = re.compile(rf"\badd\s*:?\s*({NUMBER})", re.IGNORECASE)
ADDITION_BEFORE_WORD = re.compile(rf"({NUMBER})\s*add\b", re.IGNORECASE)
AXIS = re.compile(rf"(?:x|×|\baxis\b|@)\s*({NUMBER})", re.IGNORECASE)
PLANO = re.compile(r"\b(?:plano|pl)\b|∞", re.IGNORECASE)


class UnreadablePrescription(ValueError):
    """Raised when a prescription cannot be read; the message says which part."""


@dataclass(frozen=True, slots=True)
class PrescribedPrism:
    """One prescribed prism: amount in prism dioptres and its base."""

    amount_prism_dioptres: float
    base: Base


@dataclass(frozen=True, slots=True)
class EyePrescription:
    """What is written for one eye; None where nothing is written. Dioptres, degrees, prism dioptres."""

    sphere_d: float | None = None
    cylinder_d: float | None = None
    axis_deg: float | None = None
    addition_d: float | None = None
    prisms: tuple[PrescribedPrism, ...] = ()


@dataclass(frozen=True, slots=True)
class VisionPrescription:
    """Right and left eye as written."""

    right: EyePrescription
    left: EyePrescription


def checked(eye: EyePrescription) -> EyePrescription:
    """The same eye; an axis outside 0 to 180 degrees or an addition below 0 is refused as a misreading."""
    if eye.axis_deg is not None and not 0 <= eye.axis_deg <= 180:
        raise UnreadablePrescription(f"An axis runs from 0 to 180 degrees, not {eye.axis_deg:g}.")
    if eye.addition_d is not None and eye.addition_d < 0:
        raise UnreadablePrescription(f"An addition is plus, not {eye.addition_d:+.2f}.")
    return eye


def read_prescription_text(text: str) -> VisionPrescription:
    """Both eyes from a line such as "OD -2.00 SPH +2.00 add 0.5 p.d. BD; OS -1.00 -0.50 x 180".

    Source of the example: https://www.hl7.org/fhir/r4/visionprescription-example.xml.html.

    >>> both = read_prescription_text(
    ...     "OD -2.00 SPH +2.00 add 0.5 p.d. BD; OS -1.00 -0.50 x 180 +2.00 add 0.5 p.d. BU"
    ... )
    >>> both.right.sphere_d, both.right.addition_d, both.right.prisms[0].base
    (-2.0, 2.0, 'down')
    >>> both.left.cylinder_d, both.left.axis_deg
    (-0.5, 180.0)
    """
    marks = list(EYE_MARK.finditer(text))
    if not marks:
        raise UnreadablePrescription("Write the eye before its values, for example OD -2.00; OS -1.00.")
    eyes: dict[str, EyePrescription] = {}
    for mark, following in zip(marks, [*marks[1:], None], strict=True):
        written = text[mark.end() : following.start() if following else len(text)]
        eyes[EYES[mark.group(1).lower()]] = _eye_from_words(written)
    return VisionPrescription(eyes.get("right", EyePrescription()), eyes.get("left", EyePrescription()))


def _eye_from_words(words: str) -> EyePrescription:
    """One eye: prisms, axis and addition are taken out first, what is left is sphere and cylinder."""
    prisms = tuple(
        PrescribedPrism(float(amount), BASES[" ".join(base.lower().split())])
        for amount, base in PRISM.findall(words)
    )
    rest = PRISM.sub(" ", words)
    axis = AXIS.search(rest)
    rest = AXIS.sub(" ", rest, count=1)
    # "add 1.75" first: in "-1.50 add 1.75" the number before the word is the cylinder.
    form = ADDITION if ADDITION.search(rest) else ADDITION_BEFORE_WORD
    addition = form.search(rest)
    rest = form.sub(" ", rest, count=1)
    numbers = [float(number) for number in re.findall(NUMBER, PLANO.sub(" 0 ", rest))]
    if len(numbers) > 2 or (axis and len(numbers) < 2):
        raise UnreadablePrescription(f"Sphere, cylinder and axis are not clear in “{words.strip(' ;,')}”.")
    return checked(
        EyePrescription(
            sphere_d=numbers[0] if numbers else None,
            cylinder_d=numbers[1] if len(numbers) > 1 else None,
            axis_deg=float(axis.group(1)) if axis else None,
            addition_d=float(addition.group(1)) if addition else None,
            prisms=prisms,
        )
    )


def read_fhir_prescription(resource: Mapping[str, Any]) -> VisionPrescription:
    """Both eyes from a FHIR R4 or R5 VisionPrescription resource (parsed JSON).

    Source: HL7 FHIR R4 VisionPrescription, https://www.hl7.org/fhir/r4/visionprescription.html.

    >>> resource = {"resourceType": "VisionPrescription", "lensSpecification": [
    ...     {"eye": "left", "sphere": -1.0, "cylinder": -0.5, "axis": 180, "add": 2.0,
    ...      "prism": [{"amount": 0.5, "base": "up"}]}]}
    >>> read_fhir_prescription(resource).left.prisms
    (PrescribedPrism(amount_prism_dioptres=0.5, base='up'),)
    """
    if resource.get("resourceType") != "VisionPrescription":
        raise UnreadablePrescription("This is not a FHIR VisionPrescription.")
    eyes: dict[str, EyePrescription] = {}
    for lens in resource.get("lensSpecification", ()):
        if lens.get("eye") not in ("right", "left"):
            raise UnreadablePrescription("A lens of the FHIR prescription does not say right or left.")
        eyes[lens["eye"]] = _eye_from_fhir(lens)
    return VisionPrescription(eyes.get("right", EyePrescription()), eyes.get("left", EyePrescription()))


def _eye_from_fhir(lens: Mapping[str, Any]) -> EyePrescription:
    """One lensSpecification as plain values."""
    prisms = []
    for prism in lens.get("prism", ()):
        if prism.get("base") not in ("up", "down", "in", "out"):
            raise UnreadablePrescription("A prism of the FHIR prescription has no base up, down, in or out.")
        prisms.append(PrescribedPrism(float(prism["amount"]), BASES[prism["base"]]))
    return checked(
        EyePrescription(
            sphere_d=_number(lens, "sphere"),
            cylinder_d=_number(lens, "cylinder"),
            axis_deg=_number(lens, "axis"),
            addition_d=_number(lens, "add"),
            prisms=tuple(prisms),
        )
    )


def _number(lens: Mapping[str, Any], name: str) -> float | None:
    """A number of a lensSpecification, or None when it is not there."""
    value = lens.get(name)
    return None if value is None else float(value)

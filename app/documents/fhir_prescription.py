"""The prescription as a HL7 FHIR R4 VisionPrescription, written.

Elements and codes: https://hl7.org/fhir/R4/visionprescription.html. Powers carry their written figures
(decimal), the axis is a whole number, an oblique prism stands as two entries. Vertex distance has no element
and is an Observation.
"""

from decimal import Decimal

from app.documents.json_text import Json
from app.documents.vision_prescription import EyePrescription, PrescribedPrism, VisionPrescription
from app.fitting.prescription import EyePrescription as FittingEye
from app.fitting.prescription import Prescription

PRODUCT_SYSTEM = "http://terminology.hl7.org/CodeSystem/ex-visionprescriptionproduct"
TWO_DECIMALS = Decimal("0.01")


def figure(value: float, least_decimals: int = 2) -> Decimal:
    """A number with all its figures, and no fewer decimals than asked.

    >>> figure(-2.0), figure(0.125), figure(12.0, 0)
    (Decimal('-2.00'), Decimal('0.125'), Decimal('12'))
    """
    exact = Decimal(repr(float(value))) + 0
    exact = exact.quantize(Decimal(1)) if exact == exact.to_integral_value() else exact.normalize()
    decimals = -int(exact.as_tuple().exponent)
    return exact if decimals >= least_decimals else exact.quantize(Decimal(1).scaleb(-least_decimals))


def lens_specifications(both: VisionPrescription) -> list[Json]:
    """The lensSpecification of both eyes, right first; an eye of which nothing is written is left out.

    >>> right = EyePrescription(-2.0, addition_d=2.0, prisms=(PrescribedPrism(0.5, "down"),))
    >>> lens_specifications(VisionPrescription(right, EyePrescription()))[0]["sphere"]
    Decimal('-2.00')
    """
    eyes = (("right", both.right), ("left", both.left))
    return [_lens(name, eye) for name, eye in eyes if eye != EyePrescription()]


def prescription_for_fhir(written: Prescription) -> tuple[VisionPrescription, tuple[str, ...]]:
    """Both eyes of a fitting's prescription, and in words what FHIR cannot say of it.

    A prism without a base is left out and named; an axis that is no whole number likewise, with its cylinder.
    """
    left_out: list[str] = []
    right = _eye(written.right, "patient's right", left_out)
    left = _eye(written.left, "patient's left", left_out)
    return VisionPrescription(right, left), tuple(left_out)


def _eye(eye: FittingEye | None, words: str, left_out: list[str]) -> EyePrescription:
    if eye is None:
        return EyePrescription()
    prisms = []
    for prism in eye.prism:
        if prism.base is None:
            left_out.append(f"{words}: a prism of which the base is not written")
        else:
            prisms.append(PrescribedPrism(prism.amount, prism.base))
    whole = eye.axis is None or eye.axis == int(eye.axis)
    usable = whole and (not eye.cylinder or eye.axis is not None)
    if not usable:
        left_out.append(f"{words}: a cylinder without an axis in whole degrees")
    return EyePrescription(
        sphere_d=eye.sphere,
        cylinder_d=eye.cylinder if usable else None,
        axis_deg=eye.axis if usable and eye.cylinder else None,
        addition_d=eye.add,
        prisms=tuple(prisms),
    )


def _lens(name: str, eye: EyePrescription) -> Json:
    lens: dict[str, Json] = {
        "product": {"coding": [{"system": PRODUCT_SYSTEM, "code": "lens"}]},
        "eye": name,
    }
    if eye.sphere_d is not None:
        lens["sphere"] = figure(eye.sphere_d)
    if eye.cylinder_d is not None:
        lens["cylinder"] = figure(eye.cylinder_d)
    if eye.axis_deg is not None:
        lens["axis"] = int(eye.axis_deg)
    if eye.prisms:
        lens["prism"] = [
            {"amount": figure(prism.amount_prism_dioptres, 1), "base": prism.base} for prism in eye.prisms
        ]
    if eye.addition_d is not None:
        lens["add"] = figure(eye.addition_d)
    return lens

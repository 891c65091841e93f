"""The exchange files of a fitting that comes from a file: a lab message for each pair, and a FHIR bundle.

Nothing is signed here, so nobody vouches: the only moment in them is the day of the fitting.
"""

import uuid

from app.documents.fhir_bundle import NAMESPACE, FhirExport, fhir_bundle
from app.documents.json_text import json_text
from app.documents.lab_message_text import write_lab_message
from app.documents.lab_order import lab_message_of
from app.documents.signed_order import SignedOrder, SignOff
from app.fitting.fitting import Fitting
from app.fitting.fitting_file import write_fitting_text
from app.frame.specification import PairSpecification

NOBODY = ""


def lab_message(fitting: Fitting, made: PairSpecification, *, number: str) -> bytes:
    """One pair's lab message, with its outline where that is known."""
    order = SignedOrder(
        number=number, fitting=fitting, pair=made.pair, lines=made.dimensions, signed=_not_signed(fitting)
    )
    return write_lab_message(lab_message_of(order, made.outline.right_mm)).encode("utf-8")


def prescription_bundle(fitting: Fitting) -> tuple[bytes, tuple[str, ...]]:
    """The FHIR bundle, and in words what it cannot carry. Its identity follows from the fitting's content."""
    identity = str(uuid.uuid5(NAMESPACE, write_fitting_text(fitting)))
    export: FhirExport = fhir_bundle(fitting, identity=identity, signed=_not_signed(fitting))
    return json_text(export.bundle).encode("utf-8"), export.left_out


def _not_signed(fitting: Fitting) -> SignOff:
    """The day of the fitting; a person only where no reading names who took it, since FHIR asks for one."""
    named = any(reading.by for reading in fitting.readings)
    name = NOBODY if named else fitting.taken.by or "not named"
    return SignOff(version=0, at=f"{fitting.taken.on}T00:00:00+00:00", name=name, registration="not signed")

"""What is frozen at sign-off: the fitting file, and every ordered dimension of both pairs as it was then."""

from dataclasses import asdict, dataclass, fields
from typing import Any

from app.catalogue.measurement import SIDES
from app.documents.assessment_lenses import write_lens
from app.documents.traced_outline import traced_outlines
from app.fitting.fitting import Fitting
from app.fitting.fitting_file import read_fitting, write_fitting
from app.frame.ordered import ordered_dimensions
from app.frame.ordered_dimension import OrderedDimension
from app.frame.specification import specification
from app.practice.settings import PracticeSettings
from app.records.errors import RecordsError

SIGNED_SCHEMA = "chair-to-bench/signed/1"
KNOWN_PARTS = frozenset(part.name for part in fields(OrderedDimension))


@dataclass(frozen=True, slots=True)
class SignedRecord:
    """A signed version read back. `orders` holds each pair's dimensions by the pair's number."""

    fitting: Fitting
    orders: dict[int, tuple[OrderedDimension, ...]]
    lenses: dict[int, dict[str, dict[str, Any]]]
    """Each pair's lenses as they were worked out, by side; empty in versions signed before they were kept."""


def signed_document(fitting: Fitting, settings: PracticeSettings) -> dict[str, Any]:
    """The document that is frozen. Adjustments of the practice may change later; what was signed may not."""
    orders = {
        str(pair.pair): [asdict(line) for line in ordered_dimensions(fitting, pair, settings)]
        for pair in fitting.pairs
    }
    made = specification(fitting, settings, traced_mm=traced_outlines(fitting))
    lenses = {
        str(pair.pair.pair): {side: write_lens(pair.lens(side)) for side in SIDES} for pair in made.pairs
    }
    return {
        "schema": SIGNED_SCHEMA,
        "fitting": write_fitting(fitting),
        "orders": orders,
        "lenses": lenses,
    }


def read_signed(document: dict[str, Any]) -> SignedRecord:
    """The record in a signed document. RecordsError, with words for the screen, where it is none of ours."""
    if document.get("schema") != SIGNED_SCHEMA:
        raise RecordsError("This signed version was not made by this version of the app and cannot be shown.")
    orders = {
        int(number): tuple(_dimension(line) for line in lines) for number, lines in document["orders"].items()
    }
    lenses = {int(number): found for number, found in document.get("lenses", {}).items()}
    return SignedRecord(read_fitting(document["fitting"]), orders, lenses)


def _dimension(line: dict[str, Any]) -> OrderedDimension:
    known = {name: value for name, value in line.items() if name in KNOWN_PARTS}
    return OrderedDimension(**{**known, "missing": tuple(line["missing"])})

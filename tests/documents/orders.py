"""A signed order of a demo patient, and the values that the tests of exchange files need."""

from dataclasses import replace

from app.documents.signed_order import SignedOrder, SignOff
from app.fitting.fitting import Fitting
from app.fitting.fitting_file import read_fitting
from app.frame.ordered import ordered_dimensions
from app.practice.settings import PracticeSettings
from tests.plausibility.demo_files import demo_document

SIGNED = SignOff(version=1, at="2026-10-02T09:30:00+00:00", name="Ines Farrow", registration="D-00417")
IDENTITY = "0123456789abcdef0123456789abcdef"


def demo(name: str = "patient_1") -> Fitting:
    """A demo patient."""
    return read_fitting(demo_document(name))


def signed_order(fitting: Fitting | None = None, number: int = 1, **pair_parts: object) -> SignedOrder:
    """One pair of a fitting as signed."""
    whole = fitting or demo()
    pair = whole.pair(number)
    assert pair is not None
    changed = replace(pair, **pair_parts)  # type: ignore[arg-type]
    whole = replace(whole, pairs=tuple(changed if one.pair == number else one for one in whole.pairs))
    lines = ordered_dimensions(whole, changed, PracticeSettings())
    return SignedOrder(
        number=f"A1B2C3D4-{number}",
        fitting=whole,
        pair=changed,
        lines=lines,
        signed=SIGNED,
        lenses={"R": {"centre_thickness": 2.04}},
    )

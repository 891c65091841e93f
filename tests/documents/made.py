"""Demo patients' pairs as specified, with parts of the fitting file changed."""

from typing import Any

from app.documents.order_paper import OrderHead, OrderPaper
from app.documents.traced_outline import traced_outlines
from app.fitting.fitting import Fitting
from app.fitting.fitting_file import read_fitting
from app.frame.specification import PairSpecification, specification
from app.plausibility.judge import judge
from app.practice.settings import PracticeSettings
from tests.plausibility.demo_files import demo_document

HANDMADE = tuple(f"patient_{number}" for number in range(1, 9))


def fitting_of(
    name: str = "patient_1", number: int = 1, without: tuple[str, ...] = (), **parts: Any
) -> Fitting:
    """A demo patient; parts of one pair changed, readings of the face left out."""
    document = demo_document(name)
    document["pairs"][number - 1] |= parts
    document["readings"] = [one for one in document["readings"] if one["measurement"] not in without]
    return read_fitting(document)


def pair_of(
    name: str = "patient_1", number: int = 1, without: tuple[str, ...] = (), **parts: Any
) -> PairSpecification:
    """One pair as specified."""
    fitting = fitting_of(name, number, without, **parts)
    made = specification(fitting, PracticeSettings(), traced_mm=traced_outlines(fitting)).pair(number)
    assert made is not None
    return made


def order_of(
    name: str = "patient_1", number: int = 1, without: tuple[str, ...] = (), **parts: Any
) -> OrderPaper:
    """One pair's order, not signed."""
    fitting = fitting_of(name, number, without, **parts)
    settings = PracticeSettings()
    judgement = judge(fitting, settings)
    made = specification(
        fitting, settings, traced_mm=traced_outlines(fitting), working=judgement.working
    ).pair(number)
    assert made is not None
    head = OrderHead(number=f"AB12CD34-{number}", reference=fitting.person.reference, practice="A practice")
    return OrderPaper(head=head, fitting=fitting, made=made, judgement=judgement)

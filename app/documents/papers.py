"""Everything that leaves the practice for one fitting, by the name of its file: written, or why it cannot be."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from app.documents.drawing import CannotDraw
from app.documents.drawing_bridge import bridge_of
from app.documents.drawing_dxf import to_dxf
from app.documents.drawing_front import front_of
from app.documents.drawing_lens import lenses_of
from app.documents.drawing_svg import to_svg
from app.documents.exchange_papers import lab_message, prescription_bundle
from app.documents.lab_message import NotAnOutline
from app.documents.label_paper import label
from app.documents.order_paper import OrderHead, OrderPaper, Paper, order_sheets
from app.documents.pair_drawings import sides_of
from app.documents.record_paper import record
from app.documents.traced_outline import traced_outlines
from app.fitting.fitting import Fitting
from app.frame.specification import PairSpecification, specification
from app.plausibility.judge import judge
from app.plausibility.judgement import Judgement
from app.practice.settings import PracticeSettings

FROM_A_FILE = "printed from a fitting file, not signed here"


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """One paper: its file name, and its bytes or why it could not be written."""

    name: str
    content: bytes | None = None
    why_not: str = ""
    left_out: tuple[str, ...] = ()
    """What a format cannot carry, in words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """What the papers are made of: a fitting, the practice's settings, paper, and the orders' address if they have
    one (`…/orders/`, to which the pair's number is added)."""

    fitting: Fitting
    settings: PracticeSettings
    paper: Paper = "a4"
    orders_address: str = ""
    order_number: str = ""


def papers(wanted: Wanted) -> Iterator[Written]:
    """Every paper, pair by pair, then the record. The same fitting gives the same bytes."""
    fitting = wanted.fitting
    judgement = judge(fitting, wanted.settings)
    made = specification(
        fitting, wanted.settings, traced_mm=traced_outlines(fitting), working=judgement.working
    )
    for pair in made.pairs:
        yield from _of_pair(wanted, judgement, pair)
    content, left_out = prescription_bundle(fitting)
    yield Written(name="prescription.json", content=content, left_out=left_out)
    yield Written(
        name="record.pdf",
        content=record(fitting, judgement, practice=wanted.settings.name, paper=wanted.paper),
    )


def _of_pair(wanted: Wanted, judgement: Judgement, made: PairSpecification) -> Iterator[Written]:
    number = made.pair.pair
    head = OrderHead(
        number=f"{wanted.order_number or wanted.fitting.person.reference}-{number}",
        reference=wanted.fitting.person.reference,
        practice=wanted.settings.name,
        version=FROM_A_FILE,
    )
    for name, make in drawing_files(made).items():
        yield _written(f"pair-{number}-{name}", make)
    order = OrderPaper(head=head, fitting=wanted.fitting, made=made, judgement=judgement)
    address = f"{wanted.orders_address}{number}" if wanted.orders_address else ""
    yield _written(f"pair-{number}-order.pdf", lambda: order_sheets([order], paper=wanted.paper))
    yield _written(f"pair-{number}-label.pdf", lambda: label(head, made.pair, address=address))
    yield _written(f"pair-{number}-lab.txt", lambda: lab_message(wanted.fitting, made, number=head.number))


def drawing_files(made: PairSpecification) -> dict[str, Callable[[], bytes]]:
    """What writes each drawing of a pair, by the last part of its file name. Each may raise CannotDraw."""
    return {
        "front.svg": lambda: to_svg(front_of(made)).encode(),
        "front.dxf": lambda: to_dxf(front_of(made)),
        "bridge.svg": lambda: to_svg(bridge_of(made)).encode(),
        "sides.svg": lambda: to_svg(sides_of(made)).encode(),
        "lens.svg": lambda: to_svg(lenses_of(made)).encode(),
    }


def _written(name: str, make: Callable[[], bytes]) -> Written:
    try:
        return Written(name=name, content=make())
    except (CannotDraw, NotAnOutline) as refusal:
        return Written(name=name, why_not=str(refusal))

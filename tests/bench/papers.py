"""How long the papers take: one front, one order sheet, a day's orders."""

import itertools
import json
import time
from collections.abc import Callable
from pathlib import Path

from app.documents.drawing_dxf import to_dxf
from app.documents.drawing_front import front_of
from app.documents.drawing_svg import to_svg
from app.documents.order_paper import OrderHead, OrderPaper, order_sheets
from app.documents.papers import Wanted, papers
from app.fitting.fitting_file import read_fitting
from app.frame.specification import specification
from app.plausibility.judge import judge
from app.practice.settings import PracticeSettings

ORDERS_A_DAY = 40
Line = Callable[[str, str, str], None]
Milliseconds = Callable[[Callable[[], object], int], float]


def orders(demo: Path) -> list[OrderPaper]:
    """Both pairs of the eight demo patients, over and over, each with a number of its own."""
    settings = PracticeSettings()
    made: list[OrderPaper] = []
    for file in sorted(demo.glob("patient_*.json")):
        fitting = read_fitting(json.loads(file.read_text(encoding="utf-8")))
        judgement = judge(fitting, settings)
        made += [
            OrderPaper(
                head=OrderHead(number="", reference=fitting.person.reference),
                fitting=fitting,
                made=pair,
                judgement=judgement,
            )
            for pair in specification(fitting, settings, working=judgement.working).pairs
        ]
    numbered = zip(range(ORDERS_A_DAY), itertools.cycle(made), strict=False)
    return [
        OrderPaper(
            head=OrderHead(number=f"B{place:03d}", reference=one.head.reference),
            fitting=one.fitting,
            made=one.made,
            judgement=one.judgement,
        )
        for place, one in numbered
    ]


def measure(line: Line, milliseconds: Milliseconds, demo: Path) -> None:
    """Four lines of the table. An order sheet is new each time, so that nothing is remembered from the last."""
    day = orders(demo)
    front = day[0].made
    line("front as SVG", f"{milliseconds(lambda: to_svg(front_of(front)), 30):.1f} ms", "under 10 ms")
    to_dxf(front_of(front))
    line("front as DXF", f"{milliseconds(lambda: to_dxf(front_of(front)), 30):.1f} ms", "under 50 ms")
    order_sheets(day[-1:])
    each = iter(day)
    sheet = milliseconds(lambda: order_sheets([next(each)]), 16)
    line("order sheet as PDF, drawings at 1:1", f"{sheet:.0f} ms", "under 200 ms")
    began = time.perf_counter()
    order_sheets([order_again(order) for order in day])
    line(f"a day's {ORDERS_A_DAY} orders as one PDF", f"{time.perf_counter() - began:.1f} s", "under 5 s")
    wanted = Wanted(fitting=day[0].fitting, settings=PracticeSettings())
    line("all papers of one fitting", f"{milliseconds(lambda: list(papers(wanted)), 3):.0f} ms", "")


def order_again(order: OrderPaper) -> OrderPaper:
    """The same order under another number: another sheet."""
    return OrderPaper(
        head=OrderHead(number=f"C{order.head.number}", reference=order.head.reference),
        fitting=order.fitting,
        made=order.made,
        judgement=order.judgement,
    )

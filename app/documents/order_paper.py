"""Order sheets as PDF: what a bench or a lab needs of one pair, and nothing that it does not need.

Reference and initials only: no date of birth, no telephone, no diagnosis leaves the practice on a sheet.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from app.catalogue.choices import CHOICES
from app.catalogue.measurement import SIDES
from app.documents.answer_words import (
    EyeRow,
    Said,
    answer_words,
    eye_rows,
    history_said,
    pair_said,
    pair_value,
)
from app.documents.assessment_lenses import write_lens
from app.documents.drawing import CannotDraw, Drawing
from app.documents.drawing_svg import drawing_size, to_svg
from app.documents.order_lenses import lens_lines
from app.documents.order_rows import Behind, OrderRow, differing_sides, row_groups
from app.documents.pair_drawings import pages_of
from app.documents.printed import to_pdf
from app.documents.traced_outline import outline_in
from app.documents.written import day, in_figures, number, turned_round
from app.fitting.fitting import Fitting
from app.frame.ordered_dimension import OrderedDimension
from app.frame.specification import PairSpecification
from app.plausibility.answers import GivenAnswer, latest_answer
from app.plausibility.judgement import Judgement

Paper = Literal["a4", "us-letter"]
PAPERS: tuple[Paper, ...] = ("a4", "us-letter")
ROOM_MM: dict[Paper, tuple[float, float]] = {"a4": (186.0, 259.0), "us-letter": (191.9, 241.4)}
"""Paper (ISO 216; ANSI/ASME Y14.1) less the margins of the template: 12 mm at the sides, 19 above and below."""
HEADING_MM = 14.0
"""What a heading takes above a drawing."""
ON_PAPER = ("tracing", "wire_trace")
SHOWN_ELSEWHERE = (
    *("kind", "use", "route", "order_type", "needed_by"),
    *("note_to_bench", "note_to_lab", "tolerance_note", *ON_PAPER),
)
NOTES = ("note_to_bench", "note_to_lab")
TOLERANCES = "Default set by this practice. Check the current standard."


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderHead:
    """Who ordered, which version, for whom: no more of a person than reference and initials."""

    number: str
    reference: str
    initials: str = ""
    practice: str = ""
    version: str = "DRAFT – not signed"
    signed: str = ""
    """Who signed, with which registration and when; empty for a draft."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderPaper:
    """One pair's order ready to be set: its head, its specification, its lines, and what is behind them."""

    head: OrderHead
    fitting: Fitting
    made: PairSpecification
    judgement: Judgement
    lines: tuple[OrderedDimension, ...] | None = None
    """As they were frozen at sign-off; None: as they follow now."""
    lenses: tuple[str, ...] | None = None
    answers: tuple[GivenAnswer, ...] = ()


def order_sheets(orders: Sequence[OrderPaper], *, paper: Paper = "a4") -> bytes:
    """Order sheets of one or many pairs as one PDF, each with its drawings at true size."""
    title = f"Order {orders[0].head.number}" if len(orders) == 1 else f"{len(orders)} orders"
    written = [_order(order, paper, mark=str(place)) for place, order in enumerate(orders)]
    return to_pdf("order.typ", {"title": title, "paper": paper, "orders": written})


def _order(order: OrderPaper, paper: Paper, *, mark: str) -> dict[str, Any]:
    pair, head = order.made.pair, order.head
    drawings, not_drawn = _drawings(order.made, paper)
    return {
        "mark": mark,
        "pair": pair.pair,
        "kind": CHOICES["kind"].words(pair.kind).lower(),
        "number": head.number,
        "version": head.version,
        "reference": f"{head.reference} {head.initials}".strip(),
        "head": [_said(one) for one in _head(order)],
        "groups": _groups(order),
        "eyes": [eye_cells(eye) for eye in eye_rows(order.fitting.prescription_for(pair))],
        "prescription": _prescription(order),
        "choices": [_said(one) for one in pair_said(pair, leave_out=SHOWN_ELSEWHERE, for_order=True)],
        "person": [_said(one) for one in history_said(order.fitting, for_order=True)],
        "lenses": list(_lenses(order)),
        "notes": [
            _said(Said(CHOICES[key].label, pair.choices[key])) for key in NOTES if pair.choices.get(key)
        ],
        "on-paper": [_said(one) for one in _on_paper(order)],
        "tolerances": " ".join(filter(None, ("Tolerances:", pair.choices.get("tolerance_note"), TOLERANCES))),
        "signature": f"Signed: {head.signed}"
        if head.signed
        else "Not signed. Signature: ______________________",
        "drawings": drawings,
        "not-drawn": not_drawn,
    }


def _said(one: Said) -> dict[str, str]:
    return {"label": one.label, "words": one.words}


def _head(order: OrderPaper) -> Iterable[Said]:
    pair, head = order.made.pair, order.head

    def words(key: str) -> str:
        given = pair_value(pair, key)
        return answer_words(CHOICES[key], given) if given else ""

    use = words("use")
    yield Said("Order", head.number)
    yield Said("Version", head.version)
    yield Said("For", f"{head.reference} {head.initials}".strip())
    yield Said("From", head.practice or "practice not named")
    yield Said("Measured", day(order.fitting.taken.on))
    yield Said("Needed by", words("needed_by") or "no date given")
    purpose = f", for {use.lower()}" if use else ""
    yield Said("Type", f"{words('order_type') or 'New'}, {words('kind').lower()}{purpose}")
    yield Said("Route", words("route") or "not chosen")
    if pair.choices.get("remake_of"):
        yield Said("Remake of", pair.choices["remake_of"])


def _groups(order: OrderPaper) -> list[dict[str, Any]]:
    findings = order.judgement.findings
    answered = (one for one in findings if latest_answer(one, order.answers) is not None)
    behind = Behind(
        fitting=order.fitting,
        working=order.judgement.working,
        both_sides_found=differing_sides(findings),
        both_sides_answered=differing_sides(answered),
    )
    lines = order.made.dimensions if order.lines is None else order.lines
    return [
        {"heading": group.heading, "rows": [_row(row) for row in group.rows]}
        for group in row_groups(lines, behind)
    ]


def _row(row: OrderRow) -> dict[str, str]:
    return {
        "label": row.label,
        "line": row.reference_line,
        "facial": row.facial,
        "adjust": row.adjustment,
        "right": row.right,
        "left": row.left,
        "single": row.single,
        "sure": row.uncertainty,
        "unit": row.unit,
        "remarks": "; ".join(row.remarks),
    }


def eye_cells(eye: EyeRow) -> list[str]:
    """One row of the prescription table."""
    powers = (eye.sphere, eye.cylinder, eye.axis)
    return [eye.side, *(one or "–" for one in powers), eye.prism or "none", eye.add or "none"]


def _prescription(order: OrderPaper) -> str:
    written = order.fitting.prescription_for(order.made.pair)
    if written is None:
        return "No prescription."
    plus = [
        (side, eye) for side in SIDES if (eye := written.eye(side)) is not None and (eye.cylinder or 0) > 0
    ]
    turned = "; ".join(f"{side} {in_figures(turned_round(eye))}" for side, eye in plus)
    tested = written.tested_at_mm
    said = (
        f"As written above; in minus cylinder: {turned}." if turned else "",
        f"Tested at {number(tested)} mm." if tested is not None else "Vertex distance when tested not given.",
        f"Prescription of {day(written.written) or 'no date'}, {written.prescriber or 'prescriber not named'}.",
    )
    return " ".join(part for part in said if part)


def _lenses(order: OrderPaper) -> tuple[str, ...]:
    if order.lenses is not None:
        return order.lenses
    return lens_lines({side: write_lens(order.made.lens(side)) for side in SIDES})


def _on_paper(order: OrderPaper) -> Iterable[Said]:
    """Tracings and wire traces: the reference of the paper one and where it is, never a list of radii."""
    pair = order.made.pair
    outline, why = outline_in(pair.tracing or "")
    if outline is not None:
        yield Said("Tracing", "in this order, drawn below")
    elif why:
        yield Said("Tracing", f"not readable: {why}")
    elif pair.tracing:
        yield Said(CHOICES["tracing"].label, pair.tracing)
    if pair.choices.get("wire_trace"):
        yield Said(CHOICES["wire_trace"].label, pair.choices["wire_trace"])


def _drawings(made: PairSpecification, paper: Paper) -> tuple[list[dict[str, Any]], list[str]]:
    """The drawings that can be made and have room, and in words those that cannot or have not."""
    drawn: list[dict[str, Any]] = []
    not_drawn: list[str] = []
    for page in pages_of(made):
        starts_page = True
        for make in page:
            try:
                one = _drawn(make(), paper)
            except CannotDraw as refusal:
                not_drawn.append(f"{refusal}.")
                continue
            if one is None:
                not_drawn.append("A drawing is larger than this paper: take it from its SVG file.")
                continue
            drawn.append({**one, "starts-page": starts_page or one["wide"]})
            starts_page = False
    return drawn, list(dict.fromkeys(not_drawn))


def _drawn(drawing: Drawing, paper: Paper) -> dict[str, Any] | None:
    """One drawing, on a page turned on its side where it is too wide; None where it has no room even so."""
    width, height = drawing_size(drawing)
    across, up = ROOM_MM[paper]
    wide = width > across
    if width > (up if wide else across) or height > (across if wide else up) - HEADING_MM:
        return None
    return {
        "title": drawing.title,
        "describes": drawing.describes,
        "svg": to_svg(drawing),
        "width": width,
        "wide": wide,
    }

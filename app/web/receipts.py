"""What came in: a received pair measured item by item against its order, judged, and decided."""

import secrets
from collections.abc import Mapping
from dataclasses import asdict
from typing import Annotated, Any

from fastapi import APIRouter, Depends, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from app.documents.receipt_items import receipt_items
from app.documents.receipt_judgement import ReceiptJudgement, judge_receipt
from app.documents.receipt_standards import ISO, STANDARDS, LensStandard
from app.documents.signed_order import SignedOrder
from app.records.database import Database
from app.records.dispatches import dispatches_of, maker_of
from app.records.errors import NotStorable
from app.records.receipts import (
    OUTCOMES,
    WantedDecision,
    decide_receipt,
    decisions_of,
    load_receipt,
    save_receipt_values,
)
from app.web.chair import Chair, take_chair
from app.web.rail import rail
from app.web.receipt_form import UNIT_SHOWN, measured_of, read_receipt, receipt_boxes
from app.web.rendering import render
from app.web.session import Records, Who, needs
from app.web.signed_orders import signed_order
from app.web.typed import Typed

router = APIRouter()
AtBench = Annotated[Who, Depends(needs("bench"))]
LONGEST = 2000
GAPS_TO_EXPLAIN = "Not everything that was ordered was measured: say why that is enough, or measure the rest."
NOTHING = "Nothing was measured yet."


@router.get("/fittings/{fitting_id}/orders/{pair}/receipt")
def show_receipt(
    request: Request, records: Records, fitting_id: str, pair: int, standard: str = ISO.key, *, who: AtBench
) -> HTMLResponse:
    """The page on which the pair is measured."""
    chair = take_chair(request, records, fitting_id)
    return receipt_page(request, records, chair, pair, who, by=STANDARDS.get(standard, ISO))


@router.post("/fittings/{fitting_id}/orders/{pair}/receipt")
def keep_values(
    request: Request, records: Records, fitting_id: str, pair: int, typed: Typed, *, who: AtBench
) -> Response:
    """Keep what was measured. What is no number stays in its box with a message; the rest is kept."""
    order = signed_order(records, fitting_id, pair)
    receipt = load_receipt(records, fitting_id, pair)
    values, problems = read_receipt(receipt_items(order), receipt, typed)
    by = STANDARDS.get(typed.get("standard", ""), ISO)
    save_receipt_values(
        records, key=typed.get("key", ""), actor=who.actor, fitting_id=fitting_id, pair=pair, values=values
    )
    if problems:
        chair = take_chair(request, records, fitting_id)
        wrong = {name: text for name, text in typed.items() if name in problems}
        return receipt_page(request, records, chair, pair, who, by=by, typed=wrong, problems=problems)
    return RedirectResponse(
        f"/fittings/{fitting_id}/orders/{pair}/receipt?standard={by.key}#verdicts", status_code=303
    )


@router.post("/fittings/{fitting_id}/orders/{pair}/receipt/decision")
def decide(
    request: Request, records: Records, fitting_id: str, pair: int, typed: Typed, *, who: AtBench
) -> Response:
    """Pass, accept with a reason, or send back."""
    order = signed_order(records, fitting_id, pair)
    by = STANDARDS.get(typed.get("standard", ""), ISO)
    judgement = judge_receipt(order, measured_of(load_receipt(records, fitting_id, pair)), by)
    outcome, reason = typed.get("outcome", ""), typed.get("reason", "").strip()[:LONGEST]
    problem = what_lacks(outcome, reason, judgement)
    try:
        if problem is None:
            wanted = wanted_decision(records, order, fitting_id, judgement, by, outcome, reason)
            decide_receipt(records, key=typed.get("key", ""), actor=who.actor, wanted=wanted)
    except NotStorable as refusal:
        problem = str(refusal)
    if problem is not None:
        chair = take_chair(request, records, fitting_id)
        problems = {"reason": problem}
        return receipt_page(
            request, records, chair, pair, who, by=by, typed={"reason": reason}, problems=problems
        )
    return RedirectResponse(f"/fittings/{fitting_id}/orders/{pair}/receipt#decisions", status_code=303)


def what_lacks(outcome: str, reason: str, judgement: ReceiptJudgement) -> str | None:
    """What a decision lacks, in words; None where it can be taken."""
    if not judgement.verdicts:
        return NOTHING
    if outcome == "pass" and judgement.not_measured and not reason:
        return GAPS_TO_EXPLAIN
    if outcome == "return" and not judgement.differences and not reason:
        return "Nothing is outside: say why it goes back."
    return None


def wanted_decision(
    records: Database,
    order: SignedOrder,
    fitting_id: str,
    judgement: ReceiptJudgement,
    by: LensStandard,
    outcome: str,
    reason: str,
) -> WantedDecision:
    """The decision with every value as it was judged, and who made the pair."""
    pair, sent = order.pair.pair, dispatches_of(records, fitting_id)
    return WantedDecision(
        fitting_id=fitting_id,
        pair=pair,
        version=order.signed.version,
        outcome=outcome,
        standard=by.key,
        reason=reason,
        document=tuple(asdict(one) for one in judgement.verdicts),
        differences=len(judgement.differences),
        frame_maker=maker_of(sent, pair=pair, kind="frame_maker"),
        lens_maker=maker_of(sent, pair=pair, kind="lens_lab"),
    )


def receipt_page(
    request: Request,
    records: Database,
    chair: Chair,
    pair: int,
    who: Who,
    *,
    by: LensStandard,
    typed: Mapping[str, str] | None = None,
    problems: Mapping[str, str] | None = None,
) -> HTMLResponse:
    """The page with its boxes, what was judged so far, and the decisions."""
    fitting_id = chair.stored.fitting_id
    order, receipt = signed_order(records, fitting_id, pair), load_receipt(records, fitting_id, pair)
    boxes = receipt_boxes(receipt_items(order), receipt, typed or {}, problems or {})
    groups: dict[str, list[Any]] = {}
    for box in boxes:
        rows = groups.setdefault(box.item.group, [])
        if rows and rows[-1][0].item.key == box.item.key:
            rows[-1].append(box)
        else:
            rows.append([box])
    return render(
        request,
        "bench/receipt.html",
        422 if problems else 200,
        chair=chair,
        rail=rail(chair, "orders"),
        pair=pair,
        order=order,
        receipt=receipt,
        groups=groups,
        judgement=judge_receipt(order, measured_of(receipt), by),
        by=by,
        standards=STANDARDS,
        units=UNIT_SHOWN,
        outcomes=OUTCOMES,
        decisions=list(reversed(decisions_of(records, fitting_id, pair))),
        open=receipt.state == "received",
        typed=typed or {},
        problems=problems or {},
        key=secrets.token_urlsafe(12),
    )

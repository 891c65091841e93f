"""The bench: pairs under way with those overdue on top, and the page on which one pair's order is sent and
answered.
"""

import secrets
from collections.abc import Mapping
from datetime import date
from typing import Annotated

from fastapi import APIRouter, Depends, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from app.records.bench_list import overdue, pairs_under_way
from app.records.database import Database
from app.records.dispatches import Sending, acknowledge, dispatches_of, send_order
from app.records.errors import NotAllowed, NotStorable
from app.records.makers import KINDS, WANTS, WAYS, list_makers
from app.records.pair_machine import CHANGES, changes_from
from app.records.pairs import pair_events, pair_states
from app.records.queries import ENTRY_WORDS, Question, ask, queries_of, reply
from app.records.remakes import CAUSES, remake_pair, remakes_of
from app.web.bench_lines import order_lines, value_of_line
from app.web.chair import Chair, take_chair
from app.web.orders import cannot_send, order_of
from app.web.rail import rail
from app.web.rendering import render
from app.web.session import Records, Who, needs
from app.web.signed_orders import order_number, signed_order
from app.web.typed import Typed
from app.web.written_date import NotADate, read_date

router = APIRouter()
AtBench = Annotated[Who, Depends(needs("bench"))]
MayAnswerBench = Annotated[Who, Depends(needs("answer_bench"))]
MaySeePairs = Annotated[Who, Depends(needs("pair_events"))]
LONGEST = 2000


@router.get("/bench")
def show_list(request: Request, records: Records, who: MaySeePairs) -> HTMLResponse:
    """Every pair under way, those overdue first."""
    pairs, today = pairs_under_way(records), date.today().isoformat()
    late = overdue(pairs, day=today)
    return render(
        request,
        "bench/list.html",
        late=late,
        others=[pair for pair in pairs if pair not in late],
        order_number=order_number,
        year=date.today().year,
        days_over=lambda promised: (date.today() - date.fromisoformat(promised)).days,
    )


@router.get("/fittings/{fitting_id}/orders/{pair}/bench")
def show_pair(
    request: Request, records: Records, fitting_id: str, pair: int, *, who: AtBench
) -> HTMLResponse:
    """One pair: sendings, questions, what happened."""
    return pair_page(request, records, take_chair(request, records, fitting_id), pair, who)


@router.post("/fittings/{fitting_id}/orders/{pair}/sendings")
async def send(request: Request, records: Records, fitting_id: str, pair: int, *, who: AtBench) -> Response:
    """Note that the signed order was sent to a maker."""
    form = await request.form()
    typed = {name: str(value) for name, value in form.items()}
    chair = take_chair(request, records, fitting_id)
    order = order_of(request, records, chair, pair, draft=False)
    hindrance = cannot_send(chair, order) if order else "Nothing is chosen for this pair."
    if hindrance is not None:
        raise NotAllowed(hindrance)
    if not typed.get("maker"):
        problems = {"maker": "Choose to whom it was sent. Makers stand in the address book."}
        return pair_page(request, records, chair, pair, who, problems=problems, typed=typed)
    sending = Sending(
        fitting_id=fitting_id,
        pair=pair,
        version=signed_order(records, fitting_id, pair).signed.version,
        maker_id=typed["maker"],
        way=typed.get("way", ""),
        sent=tuple(str(value) for value in form.getlist("sent")),
        words=typed.get("words", "").strip()[:LONGEST],
    )
    try:
        send_order(records, key=typed.get("key", ""), actor=who.actor, sending=sending)
    except NotStorable as refusal:
        problems = {"sent": str(refusal)}
        return pair_page(request, records, chair, pair, who, problems=problems, typed=typed)
    return back(fitting_id, pair)


@router.post("/fittings/{fitting_id}/orders/{pair}/sendings/{sending}/acknowledgement")
def confirm(
    request: Request,
    records: Records,
    fitting_id: str,
    pair: int,
    sending: str,
    typed: Typed,
    *,
    who: AtBench,
) -> Response:
    """Note that the maker confirmed, with the promised date."""
    box, promised = f"promised-{sending}", None
    chair = take_chair(request, records, fitting_id)
    try:
        text = typed.get("promised", "").strip()
        promised = read_date(text) if text else None
    except NotADate as refusal:
        problems = {box: str(refusal)}
        return pair_page(request, records, chair, pair, who, problems=problems, typed={box: text})
    acknowledge(
        records,
        key=typed.get("key", ""),
        actor=who.actor,
        dispatch_id=sending,
        promised=promised,
        words=typed.get("words", "").strip()[:LONGEST],
    )
    return back(fitting_id, pair)


@router.post("/fittings/{fitting_id}/orders/{pair}/questions")
def note_question(
    request: Request, records: Records, fitting_id: str, pair: int, typed: Typed, *, who: AtBench
) -> Response:
    """Note what the bench asks about a line of the order."""
    chair = take_chair(request, records, fitting_id)
    order = signed_order(records, fitting_id, pair)
    words, line = typed.get("question", "").strip()[:LONGEST], typed.get("line", "")
    if not words:
        problems = {"question": "Write what the bench asks, in its own words."}
        return pair_page(request, records, chair, pair, who, problems=problems, typed=typed)
    question = Question(
        fitting_id=fitting_id,
        pair=pair,
        version=order.signed.version,
        dimension=line if line in order_lines(order) else "",
        value=value_of_line(order, line),
        words=words,
    )
    ask(records, key=typed.get("key", ""), actor=who.actor, question=question)
    return back(fitting_id, pair)


@router.post("/fittings/{fitting_id}/orders/{pair}/questions/{question}")
def answer_question(
    request: Request,
    records: Records,
    fitting_id: str,
    pair: int,
    question: str,
    typed: Typed,
    *,
    who: AtBench,
) -> Response:
    """Ask again, or answer. With a change the fitting is opened for the next version."""
    words, kind = typed.get("words", "").strip()[:LONGEST], typed.get("kind", "")
    box = f"answer-{question}"
    if not words:
        chair = take_chair(request, records, fitting_id)
        problems = {box: "Write the answer as the bench is to read it."}
        return pair_page(request, records, chair, pair, who, problems=problems, typed={box: ""})
    reply(records, key=typed.get("key", ""), actor=who.actor, query_id=question, kind=kind, words=words)
    if kind == "change":
        return RedirectResponse(f"/fittings/{fitting_id}/overview", status_code=303)
    return back(fitting_id, pair)


@router.post("/fittings/{fitting_id}/orders/{pair}/remake")
def make_again(
    request: Request, records: Records, fitting_id: str, pair: int, typed: Typed, *, who: MayAnswerBench
) -> Response:
    """Have the pair made again, with the cause."""
    chair = take_chair(request, records, fitting_id)
    order = signed_order(records, fitting_id, pair)
    try:
        remake_pair(
            records,
            key=typed.get("key", ""),
            actor=who.actor,
            fitting_id=fitting_id,
            pair=pair,
            version=order.signed.version,
            cause=typed.get("cause", ""),
            words=typed.get("words", "").strip()[:LONGEST],
        )
    except NotStorable as refusal:
        problems = {"cause": str(refusal)}
        return pair_page(request, records, chair, pair, who, problems=problems, typed=typed)
    return back(fitting_id, pair)


def back(fitting_id: str, pair: int) -> RedirectResponse:
    """To the pair's page at the bench."""
    return RedirectResponse(f"/fittings/{fitting_id}/orders/{pair}/bench", status_code=303)


def pair_page(
    request: Request,
    records: Database,
    chair: Chair,
    pair: int,
    who: Who,
    *,
    problems: Mapping[str, str] | None = None,
    typed: Mapping[str, str] | None = None,
) -> HTMLResponse:
    """The page of one pair at the bench."""
    fitting_id = chair.stored.fitting_id
    order = signed_order(records, fitting_id, pair)
    sheet = order_of(request, records, chair, pair, draft=False)
    state = pair_states(records, fitting_id)[pair]
    later = changes_from(
        state.state.key,
        role=who.role,
        restricted=chair.fitting.restricted,
        route=order.pair.route,
        replaced=state.replaced,
    )
    return render(
        request,
        "bench/pair.html",
        422 if problems else 200,
        chair=chair,
        rail=rail(chair, "orders"),
        pair=pair,
        order=order,
        state=state,
        hindrance=cannot_send(chair, sheet) if sheet else None,
        lines=order_lines(order),
        makers=list_makers(records),
        sendings=[one for one in dispatches_of(records, fitting_id) if one.pair == pair],
        queries=[one for one in queries_of(records, fitting_id) if one.pair == pair],
        remakes=[one for one in remakes_of(records, fitting_id) if one.pair == pair],
        events=[one for one in reversed(pair_events(records, fitting_id)) if one.pair == pair],
        may_remake=CHANGES["remake"] in later,
        words={"kinds": KINDS, "wants": WANTS, "ways": WAYS, "entries": ENTRY_WORDS, "causes": CAUSES},
        problems=problems or {},
        typed=typed or {},
        new_key=lambda: secrets.token_urlsafe(12),
    )

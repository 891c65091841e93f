"""Order sheets of both pairs, and where each pair is: sent, acknowledged with a promised date, asked about …"""

import secrets
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Annotated

from fastapi import APIRouter, Depends, Form, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from app.records.database import Database
from app.records.errors import NotAllowed, NotFound
from app.records.handovers import earlier_handovers
from app.records.pair_changes import PairChange, change_pair
from app.records.pairs import PairEvent, PairStatus, pair_events, pair_states
from app.records.signoff import load_signed
from app.web.adjusted_words import adjusted_words
from app.web.chair import Chair, take_chair
from app.web.hindrance import BROKEN, DRAFT, PAUSED, REOPENED
from app.web.order_sheet import Order, make_order
from app.web.pair_moves import Move, moves_from
from app.web.papers import gaps_of_order
from app.web.rail import rail
from app.web.rendering import render
from app.web.session import Records, Who, needs
from app.web.words import day
from app.web.written_date import NotADate, read_date

router = APIRouter()
Text = Annotated[str, Form()]
MaySeeOrders = Annotated[Who, Depends(needs("see_orders"))]
MayNote = Annotated[Who, Depends(needs("pair_events"))]
PAIRS = (1, 2)
LONGEST_NOTE = 400


@dataclass(frozen=True, slots=True, kw_only=True)
class Trouble:
    """What was wrong with the last sending, and what was typed."""

    words: str
    note: str = ""
    promised: str = ""


def cannot_send(chair: Chair, order: Order) -> str | None:
    """Why the order cannot be marked as sent, in words; None where it can."""
    if order.draft:
        return DRAFT
    if not chair.frozen:
        return REOPENED
    if not order.intact:
        return BROKEN
    if order.paused:
        return PAUSED
    return f"It cannot be sent yet. Missing: {'; '.join(order.lacking)}." if order.lacking else None


def order_of(request: Request, records: Database, chair: Chair, pair: int, *, draft: bool) -> Order | None:
    """The order from the newest signed version, or from the fitting as it stands."""
    if pair not in PAIRS:
        raise NotFound("pair")
    fitting_id = chair.stored.fitting_id
    signed = load_signed(records, fitting_id) if chair.stored.signed_versions and not draft else None
    return make_order(
        fitting=chair.fitting,
        fitting_id=fitting_id,
        number=pair,
        details=chair.person.details,
        settings=chair.settings,
        answers=chair.answers,
        signed=signed,
        previous=chair.previous,
    )


@router.get("/fittings/{fitting_id}/orders/{pair}")
def open_order(
    request: Request,
    records: Records,
    fitting_id: str,
    pair: int,
    draft: bool = False,
    *,
    who: MaySeeOrders,
) -> HTMLResponse:
    """One pair's order sheet. `draft` shows what a reopened fitting would order."""
    chair = take_chair(request, records, fitting_id)
    return show(request, records, chair, who, pair, draft=draft)


def show(
    request: Request,
    records: Database,
    chair: Chair,
    who: Who,
    pair: int,
    *,
    draft: bool = False,
    trouble: Trouble | None = None,
    status: int = 200,
) -> HTMLResponse:
    """The page of one order, with what may be noted next about the pair."""
    order = order_of(request, records, chair, pair, draft=draft)
    state = pair_states(records, chair.stored.fitting_id)[pair]
    return render(
        request,
        "pages/order.html",
        status,
        chair=chair,
        rail=rail(chair, "orders"),
        pair=pair,
        order=order,
        state=state,
        moves=moves_of(chair, order, who, state),
        events=events_of(records, chair, pair),
        hindrance=cannot_send(chair, order) if order else None,
        trouble=trouble,
        gaps=gaps_of_order(records, chair, pair, draft=draft) if order else (),
        adjusted_before=adjusted_before(records, chair),
        key=secrets.token_urlsafe(12),
    )


def moves_of(chair: Chair, order: Order | None, who: Who, status: PairStatus) -> tuple[Move, ...]:
    """What may be noted next; nothing of an order that cannot be sent.

    Where a practitioner who was there must be named it is noted at the desk, which asks for the name.
    """
    if order is None or cannot_send(chair, order):
        return ()
    moves = moves_from(
        status.state.key,
        role=who.role,
        restricted=chair.fitting.restricted,
        replaced=status.replaced,
        route=order.pair.route,
    )
    return tuple(move for move in moves if not move.asks_practitioner)


def adjusted_before(records: Database, chair: Chair) -> tuple[str, ...]:
    """What was adjusted at the collections of earlier pairs, in words: the order may take it in."""
    earlier = earlier_handovers(records, person_id=chair.stored.person_id, but_not=chair.stored.fitting_id)
    return tuple(
        f"Adjusted at the collection of {day(one.at)}, pair {one.pair}: {'; '.join(adjusted_words(one))}. "
        "Look whether the order should have it from the start."
        for one in earlier
        if one.adjusted
    )


def events_of(records: Database, chair: Chair, pair: int) -> tuple[PairEvent, ...]:
    """What happened to the pair, the newest first."""
    events = pair_events(records, chair.stored.fitting_id)
    return tuple(event for event in reversed(events) if event.pair == pair)


@router.post("/fittings/{fitting_id}/orders/{pair}/events")
def note_event(
    request: Request,
    records: Records,
    fitting_id: str,
    pair: int,
    *,
    key: Text,
    state: Text = "",
    note: Text = "",
    promised: Text = "",
    who: MayNote,
) -> Response:
    """Note that the order was sent, acknowledged with its promised date, asked about …"""
    chair = take_chair(request, records, fitting_id)
    order = order_of(request, records, chair, pair, draft=False)
    typed = {"note": note, "promised": promised}
    if order is None:
        raise NotFound("pair")
    hindrance = cannot_send(chair, order)
    if hindrance is not None:
        raise NotAllowed(hindrance)
    try:
        promised_on = read_date(promised) if promised.strip() else None
    except NotADate as refusal:
        trouble = Trouble(words=str(refusal), **typed)
        return show(request, records, chair, who, pair, trouble=trouble, status=422)
    now = pair_states(records, fitting_id)[pair]
    problem = wrong_with(moves_of(chair, order, who, now), state, promised_on)
    if problem is not None:
        return show(request, records, chair, who, pair, trouble=Trouble(words=problem, **typed), status=422)
    change = PairChange(
        fitting_id=fitting_id, pair=pair, state=state, words=note.strip()[:LONGEST_NOTE], promised=promised_on
    )
    change_pair(records, key=key, actor=who.actor, change=change)
    return RedirectResponse(f"/fittings/{fitting_id}/orders/{pair}#where", status_code=303)


def wrong_with(moves: Iterable[Move], state: str, promised: str | None) -> str | None:
    """What is wrong with an event, in words; None where nothing is."""
    move = next((move for move in moves if move.state == state), None)
    if move is None:
        return "This pair is elsewhere by now. Look where it is, then choose what happened next."
    if promised is not None and not move.asks_date:
        return f"No promised date belongs to “{move.words}”. Leave the date blank."
    if promised is not None and promised < date.today().isoformat():
        return "The promised date is past. Write the day that was promised."
    return None

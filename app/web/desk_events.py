"""Noting at the desk what happened to a pair."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Annotated

from fastapi import APIRouter, Depends, Request
from fastapi.responses import RedirectResponse, Response

from app.records.errors import NotFound
from app.records.pair_changes import PairChange, change_pair
from app.records.pair_states import STATE_OF
from app.records.people import load_person
from app.web.desk import LONGEST_NOTE, person_page
from app.web.desk_view import DeskView, PairCard, desk_view
from app.web.identity_check import read_questions
from app.web.session import Records, Who, needs
from app.web.typed import Typed
from app.web.written_date import NotADate, read_date

router = APIRouter(prefix="/desk")
ELSEWHERE = "This pair is elsewhere by now: look at its line, then note what happened."
MayNote = Annotated[Who, Depends(needs("pair_events"))]


@dataclass(frozen=True, slots=True, kw_only=True)
class EventForm:
    """What is to be noted, or what is wrong with it by box."""

    problems: dict[str, str]
    words: str
    promised: str | None
    practitioner: str = ""


@router.post("/people/{person_id}/pairs/{pair}")
def note_event(
    request: Request, records: Records, who: MayNote, person_id: str, pair: int, typed: Typed
) -> Response:
    """Note what happened to a pair, where it may come next."""
    record = load_person(records, person_id)
    desk = desk_view(records, record, who, request.app.state.practice)
    card = card_of(desk, pair)
    form = read_event(typed, card, desk, today=date.today())
    if form.problems:
        placed = {f"{box}-{pair}": problem for box, problem in form.problems.items()}
        text = {f"{box}-{pair}": typed.get(box, "") for box in ("words", "promised", "practitioner")}
        questions = read_questions({}, record.details)
        return person_page(request, records, record, questions, status=422, problems=placed, text=text)
    change = PairChange(
        fitting_id=desk.fitting_id,
        pair=pair,
        state=typed.get("state", ""),
        words=form.words,
        promised=form.promised,
        practitioner=form.practitioner,
    )
    change_pair(records, key=typed.get("key", ""), actor=who.actor, change=change)
    return RedirectResponse(f"/desk/people/{person_id}", status_code=303)


def card_of(desk: DeskView, pair: int) -> PairCard:
    """The pair's card. NotFound: no such pair here."""
    card = next((card for card in desk.cards if card.pair == pair), None)
    if card is None:
        raise NotFound("pair")
    return card


def read_event(typed: Mapping[str, str], card: PairCard, desk: DeskView, *, today: date) -> EventForm:
    """Read what is to be noted; a problem where the pair moved on meanwhile, or cannot go on now."""
    state = typed.get("state", "")
    move = next((move for move in card.moves if move.state == state), None)
    if move is None:
        hindered = card.hindrance and state in STATE_OF and STATE_OF[state].goes_on
        words = card.hindrance if hindered else ELSEWHERE
        return EventForm(problems={"words": words}, words="", promised=None)
    problems: dict[str, str] = {}
    promised = (
        read_promised(typed.get("promised", "").strip(), problems, today=today) if move.asks_date else None
    )
    words = typed.get("words", "").strip()[:LONGEST_NOTE]
    practitioner = typed.get("practitioner", "") if move.asks_practitioner else ""
    if move.asks_practitioner and practitioner not in desk.practitioners:
        problems["practitioner"] = (
            f"{desk.person.restricted.capitalize()}: choose the practitioner who is there."
        )
    return EventForm(problems=problems, words=words, promised=promised, practitioner=practitioner)


def read_promised(text: str, problems: dict[str, str], *, today: date) -> str | None:
    """The promised date, None where none is given; a problem where it is none or past."""
    if not text:
        return None
    try:
        promised = read_date(text)
    except NotADate as error:
        problems["promised"] = str(error)
        return None
    if promised < today.isoformat():
        problems["promised"] = f"“{text}” is past. Write the day that was promised."
    return promised

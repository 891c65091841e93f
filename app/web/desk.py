"""The desk: find a person, check who is speaking, say where both pairs are, note what happened."""

from collections.abc import Mapping
from typing import Annotated

from fastapi import APIRouter, Depends, Request
from fastapi.responses import RedirectResponse, Response

from app.records.contacts import Kind, note_contact
from app.records.database import Database
from app.records.identity import new_key
from app.records.people import PersonRecord, load_person
from app.web import desk_words
from app.web.desk_view import desk_view
from app.web.find import Search, desk_search, hits_answer, searched
from app.web.identity_check import (
    NAMES,
    Question,
    confirmed,
    matches,
    out_of_reach,
    read_questions,
)
from app.web.rendering import is_fragment, render
from app.web.session import Records, Who, needs
from app.web.typed import Typed

router = APIRouter(prefix="/desk")
AtDesk = Annotated[Who, Depends(needs("desk"))]
KINDS: dict[str, Kind] = {
    "spoke": "spoke",
    "left_message": "left_message",
    "no_answer": "no_answer",
    "passed_on": "passed_on",
}
LONGEST_NOTE = 500


@router.get("")
def show_desk(request: Request, who: AtDesk) -> Response:
    """The search box."""
    return desk_page(request, desk_search())


@router.post("/search")
def search(request: Request, records: Records, who: AtDesk, typed: Typed) -> Response:
    """People whose name, telephone or reference holds what was typed."""
    found = searched(request, records, desk_search(), typed.get("sought", ""))
    return hits_answer(request, found) if is_fragment(request) else desk_page(request, found)


def desk_page(request: Request, search: Search) -> Response:
    """The desk with what the search found."""
    return render(request, "pages/desk.html", search=search, words=desk_words)


@router.get("/people/{person_id}")
def show_at_desk(request: Request, records: Records, who: AtDesk, person_id: str) -> Response:
    """One person: what to ask, and after it was answered where both pairs are."""
    record = load_person(records, person_id)
    return person_page(request, records, record, read_questions({}, record.details))


@router.post("/people/{person_id}/identity")
def check_identity(request: Request, records: Records, who: AtDesk, person_id: str, typed: Typed) -> Response:
    """Compare what the caller said; where two answers match, note it and show the pairs."""
    record = load_person(records, person_id)
    questions = read_questions(typed, record.details)
    here = f"/desk/people/{person_id}"
    if confirmed(questions):
        words = ", ".join(NAMES[item] for item in matches(questions))
        note(records, who, person_id, "identity_confirmed", words, key=typed.get("key", ""))
        return RedirectResponse(here, status_code=303)
    if typed.get("give_up") == "yes":
        note(records, who, person_id, "identity_not_confirmed", "", key=typed.get("key", ""))
        return RedirectResponse("/desk", status_code=303)
    return person_page(request, records, record, questions, asked=True)


@router.post("/people/{person_id}/no-caller")
def open_without_caller(records: Records, who: AtDesk, person_id: str, typed: Typed) -> Response:
    """Open the pairs to note what happened to them, with nobody on the line; this is noted as well."""
    note(records, who, person_id, "opened_without_caller", "", key=typed.get("key", ""))
    return RedirectResponse(f"/desk/people/{person_id}", status_code=303)


@router.post("/people/{person_id}/contacts")
def end_call(request: Request, records: Records, who: AtDesk, person_id: str, typed: Typed) -> Response:
    """Note the call and end it: the pairs are closed again."""
    kind = KINDS.get(typed.get("kind", ""))
    words = typed.get("words", "").strip()[:LONGEST_NOTE]
    record = load_person(records, person_id)
    problem = contact_problem(kind, words)
    if kind is None or problem:
        questions = read_questions({}, record.details)
        return person_page(
            request, records, record, questions, status=422, problems={"words": problem}, text=typed
        )
    note(records, who, person_id, kind, words, key=typed.get("key", ""))
    return RedirectResponse("/desk", status_code=303)


def contact_problem(kind: Kind | None, words: str) -> str:
    """What is missing from the note of a call; nothing where all is there."""
    if kind is None:
        return "Say how the call ended: tap one of the buttons."
    if kind == "passed_on" and not words:
        return (
            "Write what was said and to whom it was passed. Example: new double vision, to the practitioner."
        )
    return ""


def note(records: Database, who: Who, person_id: str, kind: Kind, words: str, *, key: str) -> None:
    """Note a contact."""
    note_contact(records, key=key, actor=who.actor, person_id=person_id, kind=kind, words=words)


def person_page(
    request: Request,
    records: Database,
    record: PersonRecord,
    questions: tuple[Question, ...],
    *,
    status: int = 200,
    asked: bool = False,
    problems: Mapping[str, str] | None = None,
    text: Mapping[str, str] | None = None,
) -> Response:
    """One person at the desk."""
    return render(
        request,
        "pages/desk_person.html",
        status,
        desk=desk_view(records, record, request.state.who, request.app.state.practice),
        questions=questions,
        asked=asked,
        out_of_reach=out_of_reach(questions),
        problems=problems or {},
        text=text or {},
        words=desk_words,
        new_key=new_key,
    )

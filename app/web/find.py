"""Finding a person by part of a name, a telephone number or a reference: a search is sent, never an address."""

from dataclasses import dataclass

from fastapi import Request
from fastapi.responses import Response

from app.records.database import Database
from app.records.search import MOST_HITS, find_people
from app.web.rendering import is_fragment, render

LEAST_TYPED = 3
"""Letters before names appear while typing: fewer would show half the practice to whoever looks on."""
LEAST_SENT = 2
"""Letters where the button is pressed: there are family names of two."""
LONGEST = 100


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """One person in the list: no more than name, birth year and reference until it is opened."""

    person_id: str
    name: str
    born_year: str
    reference: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Search:
    """The search box with what it found. `base` is where a found person is opened."""

    action: str
    base: str
    label: str
    sought: str = ""
    hits: tuple[Found, ...] = ()
    words: str = ""


def chair_search() -> Search:
    """The search box at the chair."""
    return Search(action="/people/find", base="/people", label="Find the person")


def desk_search() -> Search:
    """The search box at the desk."""
    return Search(action="/desk/search", base="/desk/people", label="Find a person")


def searched(request: Request, database: Database, search: Search, sought: str) -> Search:
    """The search with its hits, and words that say how many."""
    text = sought.strip()[:LONGEST]
    least = LEAST_TYPED if is_fragment(request) else LEAST_SENT
    if len(text) < least:
        words = "" if is_fragment(request) else f"Type at least {least} letters or digits."
        return _with(search, text, (), words)
    hits = tuple(
        Found(person_id=hit.person_id, name=hit.name, born_year=(hit.born or "")[:4], reference=hit.reference)
        for hit in find_people(database, text)
    )
    return _with(search, text, hits, _how_many(len(hits)))


def _with(search: Search, sought: str, hits: tuple[Found, ...], words: str) -> Search:
    return Search(
        action=search.action, base=search.base, label=search.label, sought=sought, hits=hits, words=words
    )


def _how_many(count: int) -> str:
    if count == 0:
        return "Nobody found. Try fewer letters, or the telephone."
    if count >= MOST_HITS:
        return f"{MOST_HITS} people or more: type more of it."
    return "1 person" if count == 1 else f"{count} people"


def hits_answer(request: Request, search: Search) -> Response:
    """Only the hits, for a box that searches while one types."""
    return render(request, "parts/hits.html", search=search)

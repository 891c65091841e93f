"""Finding people by part of a name, telephone number, reference or date of birth. Any text is an answerable one."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import Any

from sqlalchemy import Connection, Row, bindparam, select, text

from app.records.database import Database
from app.records.search_text import compact, digits_of, normalised, prefix_end
from app.records.tables.people import PERSON
from app.records.written_dates import possible_dates

MOST_HITS = 20
MOST_CANDIDATES = 200
LONGEST_SEARCH = 200
"""Letters looked at: a pasted page of text is answered by its beginning."""
MOST_WORDS = 8
SHORTEST_PIECE = 3
"""The index of pieces holds three letters and more."""
SHORTEST_TELEPHONE = 3
TELEPHONE_TAIL = 9
"""Digits from the end that are compared: with or without 0 or a country's number before them they are the same."""

_COLUMNS = (
    PERSON.c.identity,
    PERSON.c.reference,
    PERSON.c.family_name,
    PERSON.c.given_name,
    PERSON.c.preferred_name,
    PERSON.c.born,
    PERSON.c.telephone,
    PERSON.c.registered_sight_impaired,
    PERSON.c.search_text,
    PERSON.c.search_family,
    PERSON.c.search_given,
    PERSON.c.search_reference,
    PERSON.c.search_telephone,
    PERSON.c.id,
)
_BY_REFERENCE = select(*_COLUMNS).where(PERSON.c.search_reference == bindparam("reference"))
_BY_DATE = select(*_COLUMNS).where(PERSON.c.born == bindparam("born")).limit(MOST_CANDIDATES)
_BY_PIECES = (
    select(*_COLUMNS)
    .where(
        PERSON.c.id.in_(
            text("SELECT rowid FROM person_search WHERE person_search MATCH :pieces LIMIT :most").bindparams(
                most=MOST_CANDIDATES
            )
        )
    )
    .limit(MOST_CANDIDATES)
)


@dataclass(frozen=True, slots=True)
class PersonHit:
    """One person found, with what tells people apart and nothing clinical."""

    person_id: str
    reference: str
    family_name: str
    given_name: str
    preferred_name: str
    born: str | None
    telephone: str
    registered_sight_impaired: bool

    @property
    def name(self) -> str:
        """Given and family name, or the reference where no name is known."""
        return f"{self.given_name} {self.family_name}".strip() or self.reference


def find_people(
    database: Database, text: str, limit: int = MOST_HITS, *, today: date | None = None
) -> list[PersonHit]:
    """The people that the text fits best, at most `limit` and never more than 20; none for an empty text."""
    typed = text[:LONGEST_SEARCH].strip()
    words = normalised(typed).split()[:MOST_WORDS]
    if not words:
        return []
    with database.read() as connection:
        found = _candidates(connection, typed, words, today or datetime.now(UTC).date())
    best = sorted(found.values(), key=_rank(words, compact(typed), digits_of(typed)))
    return [_hit(row) for row in best[: max(0, min(limit, MOST_HITS))]]


def _candidates(connection: Connection, typed: str, words: list[str], today: date) -> dict[int, Row[Any]]:
    """Every row that one of the indexes gives for the text, by its number."""
    found = _rows(connection, _BY_REFERENCE, {"reference": compact(typed)})
    found += _prefix(connection, PERSON.c.search_reference, compact(typed))
    for day in possible_dates(typed, today=today):
        found += _rows(connection, _BY_DATE, {"born": day})
    if _is_telephone(typed):
        found += _prefix(connection, PERSON.c.search_telephone, digits_of(typed)[-TELEPHONE_TAIL:][::-1])
        found += _by_pieces(connection, [digits_of(typed)])
    found += _fitting(words, _by_words(connection, words))
    return {row.id: row for row in found}


def _by_words(connection: Connection, words: list[str]) -> list[Row[Any]]:
    """By how names begin; by the index of pieces too where a word is long enough for it.

    The index gives its hits in no order, so that of very many the beginnings must come from elsewhere.
    """
    long = [word for word in words if len(word) >= SHORTEST_PIECE]
    beginning = " ".join(words) if long else words[0]
    found = _prefix(connection, PERSON.c.search_family, beginning)
    found += _prefix(connection, PERSON.c.search_given, beginning)
    return found + _by_pieces(connection, long)


def _by_pieces(connection: Connection, pieces: list[str]) -> list[Row[Any]]:
    pieces = [piece for piece in pieces if len(piece) >= SHORTEST_PIECE]
    if not pieces:
        return []
    # Quoted, so that nothing typed is ever read as an operator of the index's own language.
    quoted = " AND ".join('"{}"'.format(piece.replace('"', '""')) for piece in pieces)
    return _rows(connection, _BY_PIECES, {"pieces": quoted})


def _rows(connection: Connection, query: Any, wanted: dict[str, str]) -> list[Row[Any]]:
    """All rows of a query with more columns than type checkers count."""
    return list(connection.execute(query, wanted))


def _prefix(connection: Connection, column: Any, prefix: str) -> list[Row[Any]]:
    """Rows whose column begins with the text, in the column's order: a range of its B-tree."""
    if not prefix:
        return []
    query = select(*_COLUMNS).where(column >= prefix, column < prefix_end(prefix))
    return _rows(connection, query.order_by(column).limit(MOST_CANDIDATES), {})


def _fitting(words: list[str], rows: Iterable[Row[Any]]) -> list[Row[Any]]:
    """Rows in which each word stands: a long one anywhere, a short one at the beginning of a word."""
    return [row for row in rows if all(_stands(word, row.search_text) for word in words)]


def _stands(word: str, search_text: str) -> bool:
    return word in search_text if len(word) >= SHORTEST_PIECE else f" {word}" in f" {search_text}"


def _hit(row: Row[Any]) -> PersonHit:
    return PersonHit(
        person_id=row.identity,
        reference=row.reference,
        family_name=row.family_name,
        given_name=row.given_name,
        preferred_name=row.preferred_name,
        born=row.born,
        telephone=row.telephone,
        registered_sight_impaired=row.registered_sight_impaired,
    )


def _is_telephone(typed: str) -> bool:
    """True for digits with the marks that people write into telephone numbers."""
    return len(digits_of(typed)) >= SHORTEST_TELEPHONE and all(
        letter.isdecimal() or letter in " +-()/." for letter in typed
    )


def _rank(words: list[str], reference: str, digits: str) -> Callable[[Row[Any]], tuple[Any, ...]]:
    """Best first: the reference, the end of the telephone number, whole names, beginnings, the rest by name."""

    def rank(row: Row[Any]) -> tuple[Any, ...]:
        names = row.search_text.split()
        return (
            row.search_reference != reference,
            not (digits and row.search_telephone.startswith(digits[-TELEPHONE_TAIL:][::-1])),
            -sum(word in names for word in words),
            not row.search_family.startswith(words[0]),
            -sum(any(name.startswith(word) for name in names) for word in words),
            row.search_family,
            row.id,
        )

    return rank

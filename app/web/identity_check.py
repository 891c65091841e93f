"""Comparing what a caller says with what is held, without showing what is held first."""

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from app.documents.written import day
from app.records.person_details import PersonDetails
from app.web.written_date import NotADate, read_date

LEAST_MATCHES = 2
"""Two details must match before any status is told. Common practice; local rules come first."""
LEAST_DIGITS = 6
"""Digits at the end of a telephone number that must agree: the local part of most numbers."""

Item = Literal["name", "born", "contact"]
ITEMS: tuple[Item, ...] = ("name", "born", "contact")
QUESTIONS: dict[Item, str] = {
    "name": "What is your full name?",
    "born": "What is your date of birth?",
    "contact": "What is the first line of your address, or your telephone number?",
}
NAMES: dict[Item, str] = {"name": "full name", "born": "date of birth", "contact": "address or telephone"}
Verdict = Literal["", "same", "unlike", "different"]
"""same: it matches. unlike: the typed words differ, to be compared by eye. different: it does not match."""
VERDICTS: dict[str, Verdict] = {"same": "same", "unlike": "unlike", "different": "different"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One question on the screen: what the caller said, whether what is held is shown, and how it came out."""

    item: Item
    said: str
    shown: bool
    verdict: Verdict
    held: str

    @property
    def words(self) -> str:
        """The question to ask."""
        return QUESTIONS[self.item]


def held_for(item: Item, details: PersonDetails) -> str:
    """What is held for a question; nothing where it cannot be asked."""
    if item == "name":
        return f"{details.given_name} {details.family_name}".strip()
    if item == "born":
        return day(details.born)
    return " · ".join(part for part in (details.address_line, details.telephone) if part)


def read_questions(form: Mapping[str, str], details: PersonDetails) -> tuple[Question, ...]:
    """The three questions after a button was pressed."""
    return tuple(_question(item, form, details) for item in ITEMS)


def _question(item: Item, form: Mapping[str, str], details: PersonDetails) -> Question:
    said, held = form.get(f"said_{item}", "").strip()[:200], held_for(item, details)
    verdict = VERDICTS.get(form.get(f"verdict_{item}", ""), "")
    shown = form.get(f"shown_{item}") == "yes" or form.get("show") == item
    if form.get("same") == item or form.get("different") == item:
        verdict = "same" if form.get("same") == item else "different"
    elif said and verdict in ("", "unlike") and not shown:
        verdict = "same" if agrees(item, said, details) else "unlike"
    if not held:
        verdict = ""
    return Question(item=item, said=said, shown=shown or verdict == "same", verdict=verdict, held=held)


def matches(questions: tuple[Question, ...]) -> tuple[Item, ...]:
    """The questions whose answer matches."""
    return tuple(question.item for question in questions if question.verdict == "same")


def confirmed(questions: tuple[Question, ...]) -> bool:
    """True where enough answers match."""
    return len(matches(questions)) >= LEAST_MATCHES


def out_of_reach(questions: tuple[Question, ...]) -> bool:
    """True where too few answers can still match."""
    possible = [question for question in questions if question.held and question.verdict != "different"]
    return len(possible) < LEAST_MATCHES


def agrees(item: Item, said: str, details: PersonDetails) -> bool:
    """True where what was said is what is held, spelling and spacing aside."""
    if item == "name":
        return _same_name(said, details)
    if item == "born":
        return _same_day(said, details.born)
    return _same_telephone(said, details.telephone) or _same_address(said, details.address_line)


def plain_words(text: str) -> list[str]:
    """The words of a text without capitals, accents and stops."""
    bare = "".join(
        letter
        for letter in unicodedata.normalize("NFKD", text.casefold())
        if not unicodedata.combining(letter)
    )
    return re.findall(r"\w+", bare.replace("'", "").replace("’", ""))


def _same_name(said: str, details: PersonDetails) -> bool:
    words, family = set(plain_words(said)), plain_words(details.family_name)
    first = {*plain_words(details.given_name)[:1], *plain_words(details.preferred_name)[:1]}
    return bool(family) and set(family) <= words and bool(first & words)


def _same_day(said: str, born: str | None) -> bool:
    try:
        return born is not None and read_date(said) == born
    except NotADate:
        return False


def _same_telephone(said: str, held: str) -> bool:
    spoken, stored = re.sub(r"\D", "", said).lstrip("0"), re.sub(r"\D", "", held).lstrip("0")
    shortest = min(len(spoken), len(stored))
    return shortest >= LEAST_DIGITS and (stored.endswith(spoken) or spoken.endswith(stored))


def _same_address(said: str, held: str) -> bool:
    spoken, stored = plain_words(said), plain_words(held)
    return len(spoken) >= 2 and stored[: len(spoken)] == spoken

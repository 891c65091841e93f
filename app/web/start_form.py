"""The form that starts a fitting: measured now by whoever is signed in, or typed in from a paper form."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from app.fitting.fitting import Taken
from app.records.accounts import Account
from app.records.actor import Actor
from app.web.written_date import NotADate, read_day_taken

BOXES = ("from_paper", "taken_on", "taken_by")
LONGEST_NAME = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class StartForm:
    """What was typed, what is wrong with it, and how the fitting was taken where nothing is."""

    text: dict[str, str] = field(default_factory=dict)
    problems: dict[str, str] = field(default_factory=dict)
    taken: Taken | None = None


def read_start(
    typed: Mapping[str, str], *, actor: Actor, accounts: Sequence[Account], today: date
) -> StartForm:
    """How the fitting is taken. A paper form needs the day on it and the name of who measured."""
    text = {key: typed.get(key, "").strip()[:LONGEST_NAME] for key in BOXES}
    if text["from_paper"] != "yes":
        if text["taken_on"] or text["taken_by"]:
            words = "Tick this where a paper form is typed in, or empty the two boxes below."
            return StartForm(text=text, problems={"from_paper": words})
        return StartForm(text=text, taken=Taken(on=today.isoformat(), by=actor.name, role=actor.role))
    return _from_paper(text, accounts=accounts, today=today)


def _from_paper(text: dict[str, str], *, accounts: Sequence[Account], today: date) -> StartForm:
    problems, taken_on = {}, ""
    try:
        taken_on = read_day_taken(text["taken_on"], today=today)
    except NotADate as error:
        problems["taken_on"] = (
            str(error) if text["taken_on"] else "Write the day that stands on the paper form."
        )
    if not text["taken_by"]:
        problems["taken_by"] = "Write who measured, as it stands on the paper form."
    if problems:
        return StartForm(text=text, problems=problems)
    role = next((one.role for one in accounts if one.name.casefold() == text["taken_by"].casefold()), None)
    return StartForm(text=text, taken=Taken(on=taken_on, by=text["taken_by"], role=role, from_paper=True))


def measurers(accounts: Sequence[Account]) -> tuple[str, ...]:
    """Names of those who may have measured."""
    return tuple(one.name for one in accounts if one.role in ("practitioner", "assistant"))

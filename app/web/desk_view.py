"""What the desk shows of one person: who it is, what may be said, where both pairs are. Nothing clinical."""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from app.fitting.fitting import Fitting
from app.practice.settings import PracticeSettings
from app.records.accounts import list_accounts
from app.records.contacts import Contact, last_contacts
from app.records.database import Database
from app.records.fittings import fittings_of, load_fitting
from app.records.identity import moment
from app.records.pair_machine import Route
from app.records.pair_states import STATE_OF
from app.records.pairs import PairStatus, pair_states
from app.records.people import PersonRecord
from app.records.stored_fitting import StoredFitting
from app.web.chair import chair_of
from app.web.desk_words import MESSAGE_AT_MOST, NO_MESSAGE, NO_PERMISSION
from app.web.hindrance import hindrance_at_desk
from app.web.pair_moves import Move, moves_from
from app.web.person_form import CHANNELS
from app.web.person_view import PersonView, person_view
from app.web.session import Who

IDENTITY_HOLDS = timedelta(minutes=10)
"""Longer than most calls; ours. It ends sooner where the call is noted."""
ENDS_A_CALL = ("spoke", "left_message", "no_answer", "passed_on", "identity_not_confirmed")
SHOWN_CONTACTS = 3
KIND_WORDS = {"handmade": "handmade frame", "own_frame": "own frame"}
CONTACT_WORDS = {
    "identity_confirmed": "Identity confirmed",
    "identity_not_confirmed": "Identity not confirmed",
    "opened_without_caller": "Opened, no caller",
    "spoke": "Spoke",
    "left_message": "Message left",
    "no_answer": "No answer",
    "passed_on": "Passed on",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class PairCard:
    """One pair: what may be said about it, since when, and what can be noted."""

    pair: int
    kind: str
    label: str
    may_say: str
    since: str
    promised: str | None
    told: int
    practitioner_present: bool
    moves: tuple[Move, ...]
    hindrance: str
    """Why the pair cannot go on now, empty where it can."""

    @property
    def asks_date(self) -> bool:
        """True where a promised date can be noted."""
        return any(move.asks_date for move in self.moves)

    @property
    def asks_practitioner(self) -> bool:
        """True where a practitioner is to be named."""
        return any(move.asks_practitioner for move in self.moves)


@dataclass(frozen=True, slots=True, kw_only=True)
class ContactLine:
    """One of the last contacts."""

    kind: str
    words: str
    by: str
    at: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DeskView:
    """One person at the desk."""

    person: PersonView
    permissions: tuple[str, ...]
    unlocked_by: ContactLine | None
    """The check of identity that lets the pairs be shown; None: not yet."""
    caller: bool
    """False where the record was opened without anybody to speak to."""
    cards: tuple[PairCard, ...]
    fitting_id: str
    pass_to: tuple[str, ...]
    practitioners: tuple[str, ...]
    contacts: tuple[ContactLine, ...]


def desk_view(
    database: Database,
    record: PersonRecord,
    who: Who,
    settings: PracticeSettings,
    *,
    now: datetime | None = None,
) -> DeskView:
    """Everything that the desk shows; pairs only where the identity was checked just now."""
    contacts = last_contacts(database, record.person_id)
    unlocked = unlocking(contacts, who, now or datetime.now(UTC))
    stored = newest_fitting(database, record.person_id)
    person = person_view(record)
    practitioners = tuple(
        account.name
        for account in list_accounts(database)
        if account.role == "practitioner" and account.active
    )
    statuses = pair_states(database, stored.fitting_id) if stored is not None and unlocked else {}
    hindrance = (
        hindrance_at_desk(database, chair_of(database, stored, record, settings))
        if stored is not None and statuses
        else None
    )
    return DeskView(
        person=person,
        permissions=permissions(record, settings),
        unlocked_by=contact_line(unlocked) if unlocked else None,
        caller=unlocked is None or unlocked.kind == "identity_confirmed",
        cards=tuple(pair_card(status, stored, person, who, hindrance or "") for status in statuses.values())
        if stored
        else (),
        fitting_id=stored.fitting_id if stored else "",
        pass_to=pass_to(stored) or practitioners,
        practitioners=practitioners,
        contacts=tuple(contact_line(contact) for contact in contacts[:SHOWN_CONTACTS]),
    )


def unlocking(contacts: tuple[Contact, ...], who: Who, now: datetime) -> Contact | None:
    """The check by this person, not too long ago, after which no call was ended; None where there is none."""
    since = moment(now - IDENTITY_HOLDS)
    for contact in contacts:
        if contact.account != who.account:
            continue
        if contact.kind in ENDS_A_CALL or contact.at < since:
            return None
        if contact.kind in ("identity_confirmed", "opened_without_caller"):
            return contact
    return None


def newest_fitting(database: Database, person_id: str) -> StoredFitting | None:
    """A person's newest fitting, None where there is none yet."""
    fittings = fittings_of(database, person_id)
    return load_fitting(database, fittings[0].fitting_id) if fittings else None


def permissions(record: PersonRecord, settings: PracticeSettings) -> tuple[str, ...]:
    """How the person may be reached, and what may be left with whom."""
    details = record.details
    channel = dict(CHANNELS).get(details.contact_channel, details.contact_channel)
    message = MESSAGE_AT_MOST.format(practice=settings.name) if details.leave_message else NO_MESSAGE
    allowed = details.permission_to_speak
    return (
        f"Reach by: {channel.lower()}.",
        message,
        f"Also speak to: {allowed}." if allowed else NO_PERMISSION,
    )


def pass_to(stored: StoredFitting | None) -> tuple[str, ...]:
    """The practitioner who knows this fitting: who signed it, is responsible for it, or measured."""
    if stored is None:
        return ()
    if stored.signed_versions:
        return (stored.signed_versions[-1].name,)
    taken = stored.fitting.taken
    if taken.supervisor:
        return (taken.supervisor,)
    return (taken.by,) if taken.by and taken.role == "practitioner" else ()


def pair_card(
    status: PairStatus, stored: StoredFitting | None, person: PersonView, who: Who, hindrance: str
) -> PairCard:
    """One pair for the desk: where something hinders it, only what may be noted all the same."""
    restricted = bool(person.restricted)
    moves = moves_from(
        status.state.key,
        role=who.role,
        restricted=restricted,
        replaced=status.replaced,
        route=route_of(stored, status.pair),
    )
    return PairCard(
        pair=status.pair,
        kind=kind_of(stored.fitting if stored else None, status.pair),
        label=status.label,
        may_say=status.may_say,
        since=status.at,
        promised=None if status.replaced else status.promised,  # the maker promised the other version
        told=status.told,
        practitioner_present=restricted or status.state.practitioner_present,
        moves=tuple(move for move in moves if not (hindrance and STATE_OF[move.state].goes_on)),
        hindrance=hindrance,
    )


def route_of(stored: StoredFitting | None, number: int) -> Route | None:
    """The route that was chosen for a pair."""
    pair = stored.fitting.pair(number) if stored is not None else None
    return pair.route if pair is not None else None


def kind_of(fitting: Fitting | None, number: int) -> str:
    """What sort of pair it is, in words that say nothing clinical."""
    pair = fitting.pair(number) if fitting is not None else None
    return KIND_WORDS.get(pair.kind, "") if pair is not None else ""


def contact_line(contact: Contact) -> ContactLine:
    """A contact in words; which answers matched stays in the record."""
    return ContactLine(
        kind=CONTACT_WORDS[contact.kind],
        words="" if contact.kind.startswith("identity") else contact.words,
        by=contact.by,
        at=contact.at,
    )

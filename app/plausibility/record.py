"""The record itself: what is missing, not accepted, out of date, or not covered by the person responsible."""

from collections.abc import Iterator
from datetime import date

from app.fitting.working import waiting_proposals
from app.plausibility.check import Seen, check
from app.plausibility.facts import Facts, name_of, subject_of, unit_of
from app.plausibility.finding import Severity, Subject
from app.plausibility.missing import missing_subjects
from app.plausibility.value import Value
from app.reference.bibliography import COMMON_PRACTICE

ASK, STOP = Severity.ASK, Severity.STOP
FAMILY = "record"
OLDEST_AGE = 115
CONTRADICTIONS_AT_LEAST = 3
"""So many readings at least must speak against the date of birth. Common practice."""
SHOWN_AT_MOST = 6
LEGAL = "Local rules may limit who can do this step. The registered practitioner is responsible for deciding."


@check(
    "missing-without-reason",
    family=FAMILY,
    title="Missing without a reason",
    looks_at="every measurement that is not optional, the cover test, and the prescription of a pair with lenses",
    why="A blank is information: it has to say why it is blank.",
    limits="stop where neither a reading nor a reason is recorded",
    suggest="Take it, or choose the reason why it was not taken.",
    cost="The bench stops and asks for what it needs.",
    source=COMMON_PRACTICE,
    severities=(STOP,),
    holds_back=False,
)
def missing_without_reason(facts: Facts) -> Iterator[Seen]:
    """All that is missing, in one finding."""
    missing = missing_subjects(facts.fitting, facts.settings.steps_left_out)
    if not missing:
        return
    names = list(
        dict.fromkeys(name_of(Subject(measurement=one.measurement, pair=one.pair)) for one in missing)
    )
    shown = "; ".join(names[:SHOWN_AT_MOST])
    more = f"; and {len(names) - SHOWN_AT_MOST} more" if len(names) > SHOWN_AT_MOST else ""
    yield Seen(
        severity=STOP,
        on=(),
        about=missing,
        message=f"Neither a reading nor a reason: {shown}{more}.",
    )


@check(
    "not-accepted",
    family=FAMILY,
    title="An assistant's reading that was not accepted",
    looks_at="readings proposed by an assistant",
    why="The practitioner who signs answers for every number.",
    limits="stop where a proposed reading was not accepted",
    suggest="Look at each, and accept it or take it again.",
    cost="Numbers go out for which nobody answers.",
    source="supervision rules of many places, such as section 27 of the Opticians Act 1989 (United Kingdom); "
    "confirm locally",
    severities=(STOP,),
    holds_back=False,
)
def not_accepted(facts: Facts) -> Iterator[Seen]:
    """Proposed, and accepted by nobody."""
    waiting = waiting_proposals(facts.fitting)
    if not waiting:
        return
    values = tuple(
        Value(
            subject=subject_of(reading),
            number=reading.value,
            unit=unit_of(reading.measurement),
        )
        for reading in waiting
    )
    names = list(dict.fromkeys(name_of(value.subject) for value in values))
    yield Seen(
        severity=STOP,
        on=values,
        message=f"{len(waiting)} reading{'s' if len(waiting) > 1 else ''} of an assistant not accepted yet: "
        f"{'; '.join(names[:SHOWN_AT_MOST])}{' …' if len(names) > SHOWN_AT_MOST else ''}.",
    )


@check(
    "registrant-named",
    family=FAMILY,
    title="Restricted group, and no registered practitioner named",
    looks_at="age under 16 or registered sight impairment, and who took the fitting",
    why="In many places these patients may be fitted only by or under a registered person who is present.",
    limits="stop where the patient belongs to such a group and no registered practitioner is named",
    suggest=f"Name the registered practitioner who is present. {LEGAL}",
    cost="The pair may not be handed out.",
    source="Opticians Act 1989, section 27 (United Kingdom); confirm locally",
    severities=(STOP,),
    holds_back=False,
)
def registrant_named(facts: Facts) -> Iterator[Seen]:
    """Restricted, and nobody named."""
    taken = facts.taken
    named = bool(taken.supervisor) or (taken.role == "practitioner" and bool(taken.by))
    if not facts.fitting.restricted or named:
        return
    group = "under 16" if facts.child else "registered sight impaired"
    yield Seen(
        severity=STOP,
        on=(facts.stated("taken.supervisor", taken.supervisor),),
        message=f"The patient is {group}, and no registered practitioner is named.",
    )


@check(
    "birth-date",
    family=FAMILY,
    title="Date of birth",
    looks_at="date of birth and the day of the fitting",
    why="Limits and local law depend on the age.",
    limits="stop where it is missing, lies after the fitting, or makes the patient older than 115",
    suggest="Ask the patient, and compare with the record.",
    cost="The wrong limits are used, and local rules for children may be missed.",
    source=COMMON_PRACTICE,
    severities=(STOP,),
    holds_back=False,
)
def birth_date(facts: Facts) -> Iterator[Seen]:
    """Missing or impossible."""
    age, born = facts.fitting.age, facts.person.born
    message = None
    if age is None:
        message = "The date of birth is missing; limits for adults were used."
    elif age < 0:
        message = f"The date of birth, {born}, lies after the fitting of {facts.taken.on}."
    elif age > OLDEST_AGE:
        message = f"Born {born}, the patient would be {age} years old."
    if message is not None:
        yield Seen(severity=STOP, on=(facts.stated("person.born", born),), message=message)


@check(
    "birth-date-size",
    family=FAMILY,
    title="Date of birth against the size of the face",
    looks_at="readings outside the limits of the patient's age and usual for the other age group",
    why="One unusual reading says little; several that all fit the other age group speak against the "
    "date of birth.",
    limits="stop where three or more readings lie outside the ask limits for the age and in the usual range of the "
    "other group, and more readings do so than lie in the usual range of the age only",
    suggest="Is the date of birth right, and is this the right patient's record?",
    cost="The wrong limits are used, and local rules for children may be missed.",
    source=COMMON_PRACTICE,
    severities=(STOP,),
    holds_back=False,
)
def birth_date_size(facts: Facts) -> Iterator[Seen]:
    """Readings that fit only the other age group."""
    if facts.fitting.age is None or facts.very_young:
        return
    against, for_it = [], 0
    for value in facts.taken_values:
        own = facts.limits(value.subject.measurement)
        other = facts.limits(value.subject.measurement, child=not facts.child)
        if own is other:
            continue
        if not own.ask.holds(value.number) and other.usual.holds(value.number):
            against.append(value)
        elif own.usual.holds(value.number) and not other.ask.holds(value.number):
            for_it += 1
    if len(against) >= CONTRADICTIONS_AT_LEAST and len(against) > for_it:
        group = "an adult" if facts.child else "a child"
        names = "; ".join(f"{name_of(value.subject)} {value}" for value in against[:SHOWN_AT_MOST])
        yield Seen(
            severity=STOP,
            on=(facts.stated("person.born", facts.person.born), *against),
            message=f"At {facts.fitting.age} years these are unusual, and usual for {group}: {names}.",
        )


@check(
    "measured-long-ago",
    family=FAMILY,
    title="Measured long ago",
    looks_at="the day of the fitting and today",
    why="A face changes between measuring and ordering, a child's above all.",
    limits="ask above 30 days, under 16 above 14 days (both settings)",
    suggest="Take the readings that matter again, or say why they still hold.",
    cost="A frame made to a face that has grown.",
    source=COMMON_PRACTICE,
    severities=(ASK,),
    holds_back=False,
)
def measured_long_ago(facts: Facts) -> Iterator[Seen]:
    """Days between fitting and today."""
    settings = facts.settings
    limit = settings.measurement_ask_days_child if facts.child else settings.measurement_ask_days
    days = (facts.day - date.fromisoformat(facts.taken.on)).days
    if days > limit:
        yield Seen(
            severity=ASK,
            on=(facts.stated("taken.on", facts.taken.on),),
            message=f"Measured {days} days ago, on {facts.taken.on}; up to {limit} days is usual.",
        )


@check(
    "prescription-newer",
    family=FAMILY,
    title="A prescription newer than the measurements",
    looks_at="dates of prescription and fitting",
    why="Measurements made for an earlier prescription may not suit the new one.",
    limits="ask where the prescription was written after the fitting",
    suggest="Do vertex distance, PDs and heights still hold for it?",
    cost="A strong lens fitted to an old plan.",
    source=COMMON_PRACTICE,
    severities=(ASK,),
    holds_back=False,
)
def prescription_newer(facts: Facts) -> Iterator[Seen]:
    """Written after the fitting, and not ahead of today."""
    for path, prescription in facts.prescriptions:
        written = prescription.written
        if written is None or written <= facts.taken.on:
            continue
        if facts.today is None or date.fromisoformat(written) <= facts.today:
            yield Seen(
                severity=ASK,
                on=(facts.stated(f"{path}.written", written), facts.stated("taken.on", facts.taken.on)),
                message=f"The prescription of {written} is newer than the measurements of {facts.taken.on}.",
            )

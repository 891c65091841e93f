"""Readings against what all the others make likely: the suspect, what was expected, and the likely slip."""

from collections.abc import Iterable, Iterator

from app.catalogue.catalogue import MEASUREMENTS
from app.fitting.entry import show_number
from app.plausibility.check import Seen, check
from app.plausibility.expectation import (
    Suspect,
    confirmed_contradicting,
    confirmed_outside,
    suspects_of,
)
from app.plausibility.facts import Facts, name_of
from app.plausibility.finding import Finding, Severity
from app.plausibility.value import Value, amount, rounded
from app.reference.bibliography import ANSUR_2

ASK, NOTE = Severity.ASK, Severity.NOTE
FAMILY = "expected bands"
OUTSIDE = "outside-expected-band"
CONTRADICT = "confirmed-contradict"
COST = "A reading that does not fit the rest of the face goes to the bench as it stands."
SUGGEST = "Measure this reading again before any other. If it is right, say why: it is then taken as true."
SOURCE = (
    f"joint distribution of heads ({ANSUR_2}: adult military personnel of one country), published spreads, the"
    " geometry that links readings, and the repeatability of each; limits by simulated fittings"
)
CONFIRMED_SUGGEST = "It was said to be right for this patient and is taken as true."
CONTRADICT_SUGGEST = "Nothing is judged by expectation while they stand. Look at them together once more."


@check(
    OUTSIDE,
    family=FAMILY,
    title="A reading that does not fit the others",
    looks_at="every reading against what all the other readings, sex and age where known, make likely",
    why="A face is redundant: two single-eye PDs make a PD, two widths an angle, two head readings a head."
    " A wrong reading disagrees with many right ones, and can be named.",
    limits="ask outside the expected band, which about one honest fitting in a hundred or fewer does anywhere; "
    "note where the reading was confirmed",
    suggest=SUGGEST,
    cost=COST,
    source=SOURCE,
    severities=(NOTE, ASK),
)
def outside_expected_band(facts: Facts) -> Iterator[Seen]:
    """The smallest set of readings whose removal makes the rest agree."""
    judged = facts.expected
    if judged is None:
        return
    told: set[object] = set()
    for suspect in suspects_of(judged):
        if suspect.subject not in told:
            told |= {suspect.subject, suspect.exchanged_with}
            yield _seen(facts, suspect)
    for suspect in confirmed_outside(judged, facts.confirmed):
        yield _confirmed(facts, suspect)


@check(
    CONTRADICT,
    family=FAMILY,
    title="Confirmed readings that contradict each other",
    looks_at="readings that were confirmed as right, against one another",
    why="What was confirmed is taken as true; where two such readings cannot both be, nothing follows from them.",
    limits="note where confirmed readings lie outside each other's expected band",
    suggest=CONTRADICT_SUGGEST,
    cost="None of its own: no reading is judged by expectation until one of them is looked at again.",
    source=SOURCE,
    severities=(NOTE,),
    holds_back=False,
)
def confirmed_readings_contradict(facts: Facts) -> Iterator[Seen]:
    """Says so, and steps aside."""
    judged = facts.expected if len(facts.confirmed) > 1 else None
    subjects = list(confirmed_contradicting(judged)) if judged is not None else []
    values = tuple(value for value in facts.taken_values if value.subject in subjects)
    if values:
        named = ", ".join(f"{name_of(value.subject)} {value}" for value in values)
        yield Seen(
            severity=NOTE,
            on=values,
            message=f"Confirmed readings contradict each other: {named}.",
            suggest=CONTRADICT_SUGGEST,
        )


def expectation_findings(facts: Facts) -> Iterable[Finding]:
    """What both checks find, as findings: for those who want this module's alone. `judge` gives the same."""
    for name, suggest, find in (
        (OUTSIDE, SUGGEST, outside_expected_band),
        (CONTRADICT, CONTRADICT_SUGGEST, confirmed_readings_contradict),
    ):
        for seen in find(facts):
            values = [value for value in seen.on if isinstance(value, Value)]
            yield Finding(
                check=name,
                severity=seen.severity,
                about=tuple(value.subject for value in values),
                message=seen.message,
                suggest=suggest,
                source=SOURCE,
                suspect=seen.suspect,
                offers=seen.offers,
                fingerprint=";".join(
                    f"{name_of(value.subject)}={show_number(value.number)}" for value in values
                ),
            )


def _seen(facts: Facts, suspect: Suspect) -> Seen:
    wanted = [suspect.subject] + ([suspect.exchanged_with] if suspect.exchanged_with else [])
    values = [value for value in facts.taken_values if value.subject in wanted]
    values.sort(key=lambda value: value.subject != suspect.subject)
    return Seen(
        severity=ASK,
        on=tuple(values),
        message=_message(suspect),
        suspect=suspect.subject,
        offers=suspect.offers,
    )


def _confirmed(facts: Facts, suspect: Suspect) -> Seen:
    """A reading that is taken as true: shown, never asked about again."""
    return Seen(
        severity=NOTE,
        on=tuple(value for value in facts.taken_values if value.subject == suspect.subject),
        message=f"Confirmed, though unusual beside the others. {_message(suspect)}",
        suggest=CONFIRMED_SUGGEST,
    )


def _message(suspect: Suspect) -> str:
    band = suspect.band
    given = [_words_for(name, suspect) for name in band.given]
    listed = (
        ", ".join(given[:-1]) + f" and {given[-1]}" if len(given) > 1 else given[0] if given else "the others"
    )
    low, mid, high = (rounded(number, band.unit) for number in (band.low, band.mid, band.high))
    return (
        f"{name_of(suspect.subject)} of {amount(suspect.value, band.unit)} does not fit: by {listed}"
        f" about {mid} is expected ({low} to {high})."
    )


def _words_for(measurement: str, suspect: Suspect) -> str:
    if measurement != suspect.subject.measurement:
        return f"“{MEASUREMENTS[measurement].label}”"
    return "the other side" if suspect.subject.side is not None else "the other reading of it"

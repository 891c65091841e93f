"""This visit against the one before."""

from collections.abc import Iterator

from app.catalogue.catalogue import MEASUREMENTS, STEP_OF
from app.fitting.entry import in_words
from app.fitting.fitting import Fitting
from app.fitting.working import WorkingValue, working_values
from app.plausibility.check import Seen, above, check, exceeds
from app.plausibility.facts import Facts, name_of, subject_of
from app.plausibility.finding import Severity
from app.plausibility.value import Value, amount
from app.reference.bibliography import COMMON_PRACTICE, YILDIRIM_2015

ASK, NOTE = Severity.ASK, Severity.NOTE
FAMILY = "previous visit"
STEPS_THAT_LAST = ("bridge_widths", "angles", "bridge_crest", "sides", "head")
"""Steps whose readings stay the same in a grown face, as the bridge projection does; PDs have their own check."""
GROWING = (
    "head_width",
    "temple_width",
    "head_height",
    "head_diagonal",
    "head_circumference",
    "length_to_tangent",
)
"""Lengths that only grow under 16."""
TIMES_TOLERANCE = 3
"""So many tolerances of repeats between two visits are more than two people's hands. Common practice."""
SAME_AT_LEAST = 8
"""So many readings at least before “all the same” says anything. Common practice."""


def _facts_before(facts: Facts, previous: Fitting) -> Facts:
    return Facts(previous, facts.settings, working_values(previous))


@check(
    "pd-previous-visit",
    family=FAMILY,
    title="PD against the visit before",
    looks_at="the PD of this visit and of the one before",
    why="An adult's PD hardly changes, a child's only grows; a difference is a slip, or another patient's record.",
    limits="adults: note above 1 mm, ask above 2 mm; under 16: ask where it is more than 1 mm smaller than before",
    suggest="Is this the right patient's record? Measure again.",
    cost="Lenses centred for somebody else.",
    source=f"{COMMON_PRACTICE}; the PD rises only slowly in adults ({YILDIRIM_2015})",
    severities=(NOTE, ASK),
)
def pd_previous_visit(facts: Facts) -> Iterator[Seen]:
    """PD − PD before."""
    if facts.previous is None:
        return
    before = _facts_before(facts, facts.previous)
    now_pd, then_pd = _alike(facts, before)
    if now_pd is None or then_pd is None:
        return
    change = now_pd.number - then_pd.number
    if facts.child:
        severity = above(-change, ask=1)
    elif before.child:
        return
    else:
        severity = above(abs(change), note=1, ask=2)
    if severity is not None:
        then = facts.stated("previous.pd_distance", str(then_pd))
        yield Seen(
            severity=severity,
            on=(now_pd, then),
            about=(now_pd.subject,),
            message=f"PD {now_pd}; on {facts.previous.taken.on} it was {then_pd}, {amount(abs(change))} "
            f"{'less' if change > 0 else 'more'}.",
        )


def _alike(facts: Facts, before: Facts) -> tuple[Value | None, Value | None]:
    """Both PDs by the same method where there is one, else the PD of each visit."""
    for method in ("pupil_gauge", "rule"):
        now = facts.value("pd_distance", method=method)
        then = before.value("pd_distance", method=method)
        if now is not None and then is not None and not (method == "rule" and facts.squint):
            return now, then
    return facts.pd, before.pd


@check(
    "reading-previous-visit",
    family=FAMILY,
    title="A reading against the visit before",
    looks_at="nose, ears and head of this visit and of the one before, by the same method and in the same "
    "circumstances",
    why="A grown face hardly changes and a child's head only grows; a large difference is a slip, or another "
    "patient's record.",
    limits="adults: ask beyond three times the tolerance of repeats on the measurement's help page; under 16: ask "
    "where a length of the head is smaller than before by more than that tolerance",
    suggest="Is this the right patient's record? Measure again.",
    cost="A frame made to somebody else's face, or to a slip.",
    source=f"{COMMON_PRACTICE}; tolerances of repeats with their sources on each help page",
    severities=(ASK,),
)
def reading_previous_visit(facts: Facts) -> Iterator[Seen]:
    """Reading − reading before."""
    if facts.previous is None or (facts.previous.child and not facts.child):
        return
    then = {one.group: one.value for one in working_values(facts.previous) if one.settled}
    for one in facts.working:
        before = then.get(one.group)
        declared = MEASUREMENTS[one.measurement]
        if before is None or not _lasts(one.measurement):
            continue
        change, tolerance = one.value - before, declared.tolerance(one.method)
        grown_smaller = facts.child and one.measurement in GROWING and exceeds(-change, tolerance)
        if grown_smaller or (not facts.child and exceeds(abs(change), TIMES_TOLERANCE * tolerance)):
            yield _changed(facts, one, before)


def _lasts(measurement: str) -> bool:
    return measurement == "bridge_projection" or STEP_OF[measurement].key in STEPS_THAT_LAST


def _changed(facts: Facts, one: WorkingValue, before: float) -> Seen:
    subject = subject_of(one)
    value = next(value for value in facts.taken_values if _is(value, one))
    declared, on = MEASUREMENTS[one.measurement], facts.previous.taken.on if facts.previous else ""
    return Seen(
        severity=ASK,
        on=(value, facts.stated(f"previous.{one.measurement}", amount(before, one.unit), side=one.side)),
        about=(subject,),
        suspect=subject,
        message=f"{name_of(subject)}: {in_words(declared, one.value)}; on {on} it was "
        f"{in_words(declared, before)}.",
    )


def _is(value: Value, one: WorkingValue) -> bool:
    return (value.subject, value.condition) == (subject_of(one), one.condition)


@check(
    "same-as-previous-visit",
    family=FAMILY,
    title="Everything as at the visit before",
    looks_at="all readings of this visit and of the one before",
    why="Nobody measures the same numbers twice all through; equal sets are copied.",
    limits="note where eight or more readings were taken both times and every one is equal",
    suggest="Say whether the patient was measured this time.",
    cost="An old face on a new order.",
    source=COMMON_PRACTICE,
    severities=(NOTE,),
    holds_back=False,
)
def same_as_previous_visit(facts: Facts) -> Iterator[Seen]:
    """Every shared reading is equal."""
    if facts.previous is None:
        return
    then = {
        (one.measurement, one.side, one.pair, one.method, one.condition): one.value
        for one in working_values(facts.previous)
    }
    shared = [
        (one.value, then[key])
        for one in facts.working
        if (key := (one.measurement, one.side, one.pair, one.method, one.condition)) in then
    ]
    if len(shared) >= SAME_AT_LEAST and all(now == before for now, before in shared):
        yield Seen(
            severity=NOTE,
            on=tuple(facts.taken_values),
            about=(facts.stated("previous", facts.previous.taken.on).subject,),
            message=f"All {len(shared)} readings are the same as on {facts.previous.taken.on}.",
        )

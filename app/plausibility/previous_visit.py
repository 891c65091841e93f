"""This visit against the one before."""

from collections.abc import Iterator

from app.fitting.fitting import Fitting
from app.fitting.working import working_values
from app.plausibility.check import Seen, above, check
from app.plausibility.facts import Facts
from app.plausibility.finding import Severity
from app.plausibility.value import Value, amount
from app.reference.bibliography import COMMON_PRACTICE, YILDIRIM_2015

ASK, NOTE = Severity.ASK, Severity.NOTE
FAMILY = "previous visit"
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

"""Repeats: readings of one thing by one method that do not agree."""

from collections.abc import Iterator

from app.catalogue.catalogue import MEASUREMENTS
from app.fitting.working import WorkingValue
from app.plausibility.check import Seen, check
from app.plausibility.facts import Facts, name_of, subject_of
from app.plausibility.finding import Severity
from app.plausibility.value import Value, amount
from app.reference.bibliography import COMMON_PRACTICE, MCMAHON_2012, WALSH_PEARCE_2009


@check(
    "repeats-disagree",
    family="repeats",
    title="Two readings that do not agree",
    looks_at="readings of one measurement, side, method and condition",
    why="People think they repeat better than they do; only a third reading tells which of two is off.",
    limits="ask where two readings differ by more than the tolerance on the measurement's help page",
    suggest="Put the instrument down, take it up again, and take a third reading without looking at the first two.",
    cost="Until then the mean of two readings that disagree goes to the bench.",
    source=f"{WALSH_PEARCE_2009}; tolerances: {MCMAHON_2012} for the PD, else on each help page",
    severities=(Severity.ASK,),
)
def repeats_disagree(facts: Facts) -> Iterator[Seen]:
    """Two readings beyond the tolerance: a third is needed."""
    for one in facts.working:
        if one.state == "third_needed":
            yield _spread(one, f"differ by {amount(one.spread, one.unit)}")


@check(
    "repeats-unsettled",
    family="repeats",
    title="Readings that will not settle",
    looks_at="three or more readings of one measurement, no two of which agree",
    why="Where no two of three readings agree the middle one is only a stopgap.",
    limits="ask where the closest two of three or more still differ by more than the tolerance",
    suggest="Let another person, or another method, take it.",
    cost="The middle reading goes to the bench with nothing to back it.",
    source=COMMON_PRACTICE,
    severities=(Severity.ASK,),
)
def repeats_unsettled(facts: Facts) -> Iterator[Seen]:
    """Three or more readings, and no two agree."""
    for one in facts.working:
        if one.state == "median":
            yield _spread(one, f"lie {amount(one.spread, one.unit)} apart and no two agree")


def _spread(one: WorkingValue, how: str) -> Seen:
    subject = subject_of(one)
    tolerance = amount(MEASUREMENTS[one.measurement].tolerance(one.method), one.unit)
    spread = Value(subject=subject, number=one.spread, unit=one.unit)
    value = Value(subject=subject, number=one.value, unit=one.unit, count=one.count)
    return Seen(
        severity=Severity.ASK,
        on=(value, spread),
        message=f"{name_of(subject)}: {one.count} readings {how}; repeats usually agree within {tolerance}.",
        suspect=subject,
        about=(subject,),
    )

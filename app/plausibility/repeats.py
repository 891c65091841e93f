"""Repeats: readings of one thing by one method that do not agree."""

from collections.abc import Iterator

from app.catalogue.catalogue import MEASUREMENTS
from app.fitting.entry import in_words
from app.fitting.working import WorkingValue, standing_values
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
    cost="Until then nothing else is judged on these readings, and their mean goes to the bench.",
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


@check(
    "repeats-opposite-ways",
    family="repeats",
    title="Repeats on both sides of level",
    looks_at="readings of one measurement that is asked in words such as in front and behind",
    why="A sign that was left out or added changes which way it goes, even where both numbers are small.",
    limits="ask where repeats lie on both sides of level, however close they are",
    suggest="In front or behind? Look again from the side, and mark the wrong reading as entered in error.",
    cost="The mean of one reading each way comes out level, and the bridge stands off or presses.",
    source=COMMON_PRACTICE,
    severities=(Severity.ASK,),
)
def repeats_opposite_ways(facts: Facts) -> Iterator[Seen]:
    """One repeat above level, one below."""
    for group, values in standing_values(facts.fitting).items():
        declared = MEASUREMENTS[group[0]]
        low, high = min(values), max(values)
        if declared.sign_words is None or not low < 0 < high:
            continue
        one = next(one for one in facts.working if one.group == group)
        subject = subject_of(one)
        yield Seen(
            severity=Severity.ASK,
            on=tuple(Value(subject=subject, number=number, unit=one.unit) for number in (high, low)),
            message=f"{declared.sign_words.plus.capitalize()} or {declared.sign_words.minus}? {name_of(subject)}: "
            f"one reading {in_words(declared, high)}, one {in_words(declared, low)}.",
            suspect=subject,
            about=(subject,),
        )


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

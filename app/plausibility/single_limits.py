"""Single readings against the limits of the catalogue, and against the step of the scale."""

from collections.abc import Iterator

from app.catalogue.measurement import Limits, Range
from app.fitting.entry import on_scale_step, show_number
from app.fitting.reading import Reading
from app.fitting.working import current_readings
from app.plausibility.check import Seen, check
from app.plausibility.facts import Facts, declared, name_of, subject_of, unit_of
from app.plausibility.finding import Severity
from app.plausibility.slips import guess_slip
from app.plausibility.value import UNIT_SHOWN, Value, amount


@check(
    "usual-range",
    family="single readings",
    title="A reading outside the usual range",
    looks_at="every reading by itself, and every dimension planned for a pair",
    why="Most slips show in the number itself: centimetres for millimetres, exchanged digits, the wrong box.",
    limits="those of the measurement's own help page for the age: note outside the usual range, ask outside the "
    "wider one, stop outside what is believed; under 4 years only the last",
    suggest="Please measure again, or confirm that it is right for this patient.",
    cost="A wrong number here is made as ordered, and the frame comes back unwearable.",
    source="the limits of each measurement, with their sources, on its help page",
    severities=(Severity.NOTE, Severity.ASK, Severity.STOP),
)
def usual_range(facts: Facts) -> Iterator[Seen]:
    """Working values by all limits; single repeats that were outvoted only by the limits of belief."""
    planned = (value for pair in facts.pairs for value in pair.planned)
    for value in (*facts.taken_values, *planned):
        limits = facts.limits(value.subject.measurement)
        severity = severity_of(value.number, limits, very_young=facts.very_young)
        if severity is not None:
            yield _outside(facts, value, limits, severity)
    yield from _unbelievable_repeats(facts)


def severity_of(number: float, limits: Limits, *, very_young: bool = False) -> Severity | None:
    """The severity of a number by single-reading limits, ends of a range inside it; None where it is usual."""
    if limits.usual.holds(number):
        return None
    if not limits.stop.holds(number):
        return Severity.STOP
    if very_young:
        return None
    return Severity.NOTE if limits.ask.holds(number) else Severity.ASK


def _outside(facts: Facts, value: Value, limits: Limits, severity: Severity) -> Seen:
    expected = f"usual for {facts.age_group}: {_span(limits.usual, value.unit)}"
    if severity is Severity.ASK:
        expected += f"; not asked about: {_span(limits.ask, value.unit)}"
    if severity is Severity.STOP:
        expected += f"; believed at all: {_span(limits.stop, value.unit)}"
    return Seen(
        severity=severity,
        on=(value,),
        message=f"{name_of(value.subject)} of {value} is outside the usual range ({expected}).",
        suspect=value.subject,
        offers=guess_slip(declared(value), value.number, facts.child, value.subject),
        suggest="Shown because it is unusual; nothing needs doing." if severity is Severity.NOTE else "",
    )


def _span(span: Range, unit: str) -> str:
    return f"{show_number(span.low)} to {show_number(span.high)}{UNIT_SHOWN[unit]}"


def _unbelievable_repeats(facts: Facts) -> Iterator[Seen]:
    """A repeat beyond belief has to be marked as an error even where the other readings outvote it."""
    repeated = {one.group: one.value if one.settled else None for one in facts.working if one.count > 1}
    if not repeated:
        return
    for reading in current_readings(facts.fitting):
        key = (reading.measurement, reading.side, reading.pair, reading.method, reading.condition)
        if key not in repeated:
            continue
        limits = facts.limits(reading.measurement)
        working = repeated[key]
        if not limits.stop.holds(reading.value) and (working is None or limits.stop.holds(working)):
            seen = _outside(facts, value_of(reading), limits, Severity.STOP)
            yield Seen(
                severity=Severity.STOP,
                on=seen.on,
                message=seen.message,
                suspect=seen.suspect,
                offers=seen.offers,
                suggest="Mark this reading as entered in error; the others stand.",
                root=(),
            )


def value_of(reading: Reading) -> Value:
    """A single reading as a value."""
    unit = unit_of(reading.measurement)
    return Value(subject=subject_of(reading), number=reading.value, unit=unit, condition=reading.condition)


@check(
    "no-usual-range",
    family="single readings",
    title="No usual range at this age",
    looks_at="the age on the day of the fitting",
    why="Under 4 years heads and faces grow too fast, and too few were measured, for a usual range.",
    limits="note under 4 years",
    suggest="Take every reading twice and rely on readings that check one another.",
    cost="A single wrong reading of a small child has nothing to show it up.",
    source="common practice",
    severities=(Severity.NOTE,),
    holds_back=False,
)
def no_usual_range(facts: Facts) -> Iterator[Seen]:
    """Says that single readings of a very young child are not judged."""
    if facts.very_young:
        yield Seen(
            severity=Severity.NOTE,
            on=(facts.stated("person.born", facts.person.born),),
            message=f"At {facts.fitting.age} years there is no usual range to compare single readings with.",
        )


@check(
    "off-scale-step",
    family="single readings",
    title="A value between two steps of the scale",
    looks_at="each reading against the smallest step that can be repeated",
    why="A reading finer than the scale is either very careful or mistyped; it is kept as it was entered.",
    limits="note where a reading is not a whole number of steps",
    suggest="Nothing needs doing; the value is kept as entered.",
    cost="None: nothing is rounded.",
    source="scale steps of each measurement on its help page (common practice)",
    severities=(Severity.NOTE,),
    holds_back=False,
)
def off_scale_step(facts: Facts) -> Iterator[Seen]:
    """One note for each measurement, both sides together."""
    found: dict[tuple[str, int | None], list[Value]] = {}
    for reading in current_readings(facts.fitting):
        value = value_of(reading)
        if not on_scale_step(declared(value), value.number):
            found.setdefault((reading.measurement, reading.pair), []).append(value)
    for values in found.values():
        step = amount(declared(values[0]).scale_step, values[0].unit)
        shown = ", ".join(str(value) for value in values)
        yield Seen(
            severity=Severity.NOTE,
            on=tuple(values),
            message=f"{declared(values[0]).label} {shown}: kept as entered; it is usually read to {step}.",
        )

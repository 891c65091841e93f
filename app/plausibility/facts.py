"""Facts: a fitting as the checks look at it, one value for each thing, chosen by the trade's own preferences."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from app.catalogue.catalogue import MEASUREMENTS
from app.catalogue.measurement import SIDE_WORDS, SIDES, Limits, Measurement, Side
from app.fitting.field_text import SEVERAL_ANSWERS_SEPARATOR
from app.fitting.fitting import Fitting, Person, Taken
from app.fitting.pair import Pair
from app.fitting.preferred import COVERED, preferred_value
from app.fitting.prescription import Prescription
from app.fitting.reading import Reading
from app.fitting.working import WorkingValue
from app.plausibility.expectation_judgement import Judged, judge_expectation
from app.plausibility.finding import Subject
from app.plausibility.pair_facts import PairFacts
from app.plausibility.value import Stated, Value
from app.practice.settings import PracticeSettings

GAUGE, RULE = "pupil_gauge", "rule"
NO_USUAL_RANGE_UNDER_YEARS = 4
"""Under this age there is no usual range to go by. Common practice."""

Key = tuple[str, Side | None, int | None]


@dataclass(frozen=True, slots=True)
class Facts:
    """A fitting with its working values, the practice's settings, today's date and the visit before, if known."""

    fitting: Fitting
    settings: PracticeSettings
    working: tuple[WorkingValue, ...]
    today: date | None = None
    previous: Fitting | None = None
    confirmed: frozenset[Subject] = frozenset()
    """Readings that were confirmed as right, at this visit or the one before with the same value."""
    _values: dict[Key, list[tuple[WorkingValue, Value]]] = field(
        init=False, repr=False, compare=False, default_factory=dict
    )
    _expected: list[Judged | None] = field(init=False, repr=False, compare=False, default_factory=list)

    made: dict[tuple[int, Side], Any] = field(init=False, repr=False, compare=False, default_factory=dict)
    """Lenses as they would be made, kept by pair and side: several checks look at them."""

    def __post_init__(self) -> None:
        for one in self.working:
            value = Value(
                subject=subject_of(one),
                number=one.value,
                unit=one.unit,
                condition=one.condition,
                count=one.count,
                settled=one.settled,
            )
            self._values.setdefault((one.measurement, one.side, one.pair), []).append((one, value))

    @property
    def expected(self) -> Judged | None:
        """The readings judged by what the others make likely, worked out once; None: too few, or switched off."""
        if not self._expected:
            settled = [one for one in self.working if one.settled]  # the mean of others would mean nothing
            judged = judge_expectation(self.fitting, self.settings, confirmed=self.confirmed, working=settled)
            self._expected.append(judged)
        return self._expected[0]

    # Person and day

    @property
    def person(self) -> Person:
        """Who was measured."""
        return self.fitting.person

    @property
    def taken(self) -> Taken:
        """When and by whom."""
        return self.fitting.taken

    @property
    def child(self) -> bool:
        """True under 16."""
        return self.fitting.child

    @property
    def age_group(self) -> str:
        """“an adult” or “a child”, for messages."""
        return "a child" if self.child else "an adult"

    @property
    def very_young(self) -> bool:
        """True under 4, where there is no usual range."""
        age = self.fitting.age
        return age is not None and age < NO_USUAL_RANGE_UNDER_YEARS

    @property
    def day(self) -> date:
        """The day on which the record is judged: today where it is given, else the day of the fitting."""
        return self.today or date.fromisoformat(self.taken.on)

    # What is known about the eyes

    @property
    def squint(self) -> bool:
        """True where the cover test found a manifest deviation, at distance or near."""
        return self.fitting.cover_test.squint

    @property
    def one_eye(self) -> bool:
        """True where a prosthesis or a single seeing eye makes comparing right with left pointless."""
        test = self.fitting.cover_test
        tests = (test.distance, test.near)
        if any(part is not None and part.finding == "not_applicable" for part in tests):
            return True
        return self.history("prosthetic_eye") in ("R", "L")

    def history(self, key: str) -> str | None:
        """An answer of the person step, or an observation of another step."""
        return self.fitting.history.get(key)

    def answers(self, key: str) -> tuple[str, ...]:
        """The answers to a question that takes several, without “none”."""
        given = (self.history(key) or "").split(SEVERAL_ANSWERS_SEPARATOR)
        return tuple(answer for answer in map(str.strip, given) if answer not in ("", "none"))

    # Readings

    @property
    def taken_values(self) -> Iterator[Value]:
        """Every working value, in the order first taken."""
        for values in self._values.values():
            for _, value in values:
                yield value

    def all(self, measurement: str, side: Side | None = None, *, pair: int | None = None) -> list[Value]:
        """Every working value of one thing: one for each method and condition."""
        return [value for _, value in self._values.get((measurement, side, pair), [])]

    def value(
        self,
        measurement: str,
        side: Side | None = None,
        *,
        pair: int | None = None,
        method: str | None = None,
    ) -> Value | None:
        """The value to compare with others; of several methods and conditions the one that is preferred."""
        found = self._values.get((measurement, side, pair), [])
        if method is not None:
            found = [(one, value) for one, value in found if one.method == method]
        if len(found) < 2:
            return found[0][1] if found else None
        working = tuple(one for one, _ in found)
        chosen = preferred_value(working, measurement, side, pair=pair, squint=self.squint)
        return next(value for one, value in found if one is chosen)

    def both(self, measurement: str, *, pair: int | None = None) -> tuple[Value, Value] | None:
        """Right and left, None unless both were taken."""
        right = self.value(measurement, "R", pair=pair)
        left = self.value(measurement, "L", pair=pair)
        return (right, left) if right is not None and left is not None else None

    def mean(self, measurement: str, *, pair: int | None = None) -> Value | None:
        """The single value, else the mean of right and left, else the one side that was taken."""
        single = self.value(measurement, pair=pair)
        if single is not None:
            return single
        sides = self.both(measurement, pair=pair)
        if sides is None:
            return self.value(measurement, "R", pair=pair) or self.value(measurement, "L", pair=pair)
        return Value(
            subject=Subject(measurement=measurement, pair=pair),
            number=(sides[0].number + sides[1].number) / 2,
            unit=sides[0].unit,
            parts=sides,
        )

    def sum_of_sides(self, measurement: str, *, pair: int | None = None) -> Value | None:
        """Right and left added up, None unless both were taken."""
        sides = self.both(measurement, pair=pair)
        if sides is None:
            return None
        return Value(
            subject=Subject(measurement=measurement, pair=pair),
            number=sides[0].number + sides[1].number,
            parts=sides,
        )

    def largest(self, measurement: str, *, pair: int | None = None) -> Value | None:
        """The largest of right, left and the single value."""
        found = [self.value(measurement, side, pair=pair) for side in (*SIDES, None)]
        return max((value for value in found if value is not None), key=lambda v: v.number, default=None)

    # PDs

    @property
    def single_eye_sum(self) -> Value | None:
        """The two single-eye PDs added up."""
        return self.sum_of_sides("pd_monocular")

    @property
    def pd(self) -> Value | None:
        """The PD: the pupil gauge's, else the rule's where no squint is recorded, else the single-eye sum."""
        gauge = self.value("pd_distance", method=GAUGE)
        if gauge is not None:
            return gauge
        if not self.squint:
            rule = self.value("pd_distance", method=RULE) or self.value("pd_distance")
            if rule is not None:
                return rule
        return self.single_eye_sum

    @property
    def far_pds(self) -> list[Value]:
        """Every far PD, off the face and with each pair on.

        In a squint without those taken with both eyes open, which are out by design.
        """
        taken = self.all("pd_distance")
        worn = [pair.worn_pd for pair in self.pairs]
        if self.squint:
            taken = [value for value in taken if value.subject.method == GAUGE or value.condition == COVERED]
            worn = [value for value in worn if value is not None and value.parts]
        return [*taken, *(value for value in (self.single_eye_sum, *worn) if value is not None)]

    # Pairs

    @property
    def pairs(self) -> tuple[PairFacts, ...]:
        """The pairs to be ordered."""
        return tuple(PairFacts(self, pair) for pair in self.fitting.pairs)

    def prescription_of(self, pair: Pair) -> Prescription | None:
        """The pair's own prescription, else the fitting's."""
        return self.fitting.prescription_for(pair)

    @property
    def prescriptions(self) -> tuple[tuple[str, Prescription], ...]:
        """Each prescription once, with the name of the part of the record that it stands in."""
        own = tuple(
            (f"pair.{pair.pair}.prescription", pair.prescription)
            for pair in self.fitting.pairs
            if pair.prescription is not None
        )
        first = self.fitting.prescription
        return own if first is None else (("prescription", first), *own)

    # Limits and words

    def limits(self, measurement: str, *, child: bool | None = None) -> Limits:
        """The single-reading limits of the person's age band, or of the one asked for."""
        return MEASUREMENTS[measurement].limits(child=self.child if child is None else child)

    def usual(self, value: Value) -> bool:
        """True where a value lies in the usual range."""
        return self.limits(value.subject.measurement).usual.holds(value.number)

    def unusual_one(self, *values: Value) -> Subject | None:
        """Of several values that do not go together, the only one outside its usual range: the likely culprit."""
        unusual = [value for value in values if not self.usual(value)]
        return unusual[0].subject if len(unusual) == 1 else None

    def stated(self, part: str, words: str | None = None, *, side: Side | None = None) -> Stated:
        """A part of the record and what it says."""
        return Stated(subject=Subject(measurement=part, side=side), words=words)


def unit_of(measurement: str) -> str:
    """The unit of a measurement."""
    return MEASUREMENTS[measurement].unit


def declared(value: Value) -> Measurement:
    """What the catalogue says about a value."""
    return MEASUREMENTS[value.subject.measurement]


def subject_of(one: WorkingValue | Reading) -> Subject:
    """What a working value or a single reading is a value of."""
    return Subject(measurement=one.measurement, side=one.side, pair=one.pair, method=one.method)


def name_of(subject: Subject) -> str:
    """A subject in words: “Length to tangent, patient's left”."""
    known = MEASUREMENTS.get(subject.measurement)
    words = [known.label if known is not None else subject.measurement.replace(".", " ").replace("_", " ")]
    if subject.side is not None:
        words.append(SIDE_WORDS[subject.side])
    method = known.method(subject.method) if known is not None else None
    if method is not None:
        words.append(method.label.lower())
    if subject.pair is not None:
        words.append(f"pair {subject.pair}")
    return ", ".join(words)

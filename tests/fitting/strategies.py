"""Invented fittings for laws: whatever the catalogue allows, in any combination."""

from dataclasses import replace
from datetime import date, datetime
from typing import Any

from hypothesis import strategies as st
from hypothesis.strategies import SearchStrategy

from app.catalogue.catalogue import MEASUREMENTS
from app.catalogue.choice import Choice
from app.catalogue.conditions import CONDITIONS
from app.catalogue.measurement import Measurement
from app.catalogue.reasons import REASONS
from app.fitting.cover_test import CoverFinding, CoverTest
from app.fitting.details import (
    COVER_DETAILS,
    EYE_DETAILS,
    PAIR_DETAILS,
    PRESCRIPTION_DETAILS,
    PRISM_DETAILS,
    SEGMENT_DETAILS,
    Detail,
)
from app.fitting.field_paths import HISTORY_QUESTIONS, PAIR_QUESTIONS
from app.fitting.file_readings import ROLES, SOURCES
from app.fitting.fitting import Fitting, Person, Taken
from app.fitting.fitting_file import in_file_order
from app.fitting.pair import Pair, Segment
from app.fitting.prescription import EyePrescription, Prescription, Prism
from app.fitting.reading import EnteredInError, NotTaken, Reading

TEN_THOUSANDTHS = 10_000

words = st.text(
    st.characters(exclude_categories=("Cs", "Cc", "Zs", "Zl", "Zp")), min_size=1, max_size=12
).filter(lambda text: text == text.strip())
days = st.dates(date(1900, 1, 1), date(2099, 12, 31)).map(date.isoformat)
moments = st.datetimes(datetime(2020, 1, 1), datetime(2099, 1, 1)).map(lambda at: at.isoformat() + "Z")


def whole_ten_thousandths(low: float, high: float) -> SearchStrategy[float]:
    """Values as they are kept: whole numbers of one ten-thousandth."""
    whole = st.integers(round(low * TEN_THOUSANDTHS), round(high * TEN_THOUSANDTHS))
    return whole.map(lambda number: number / TEN_THOUSANDTHS)


def values_of(measurement: Measurement) -> SearchStrategy[float]:
    """Any value that can be entered, believable or not."""
    high = 2 * measurement.adult.stop.high
    return whole_ten_thousandths(-high if measurement.signed else 0, high)


def details(declared: tuple[Detail, ...], *, always: tuple[str, ...] = ()) -> SearchStrategy[dict[str, Any]]:
    """Any of these details, those named in `always` among them."""
    kinds: dict[str, Any] = {"words": words, "date": days, "yes_no": st.booleans()}
    of = {
        detail.key: st.sampled_from(detail.options)
        if detail.kind == "one_of"
        else kinds.get(detail.kind, whole_ten_thousandths(*_range(detail)))
        for detail in declared
    }
    return st.fixed_dictionaries(
        {key: of[key] for key in always}, optional={key: of[key] for key in of if key not in always}
    )


def _range(detail: Detail) -> tuple[float, float]:
    possible = detail.possible
    return (possible.low, possible.high) if possible is not None else (-100, 100)


def answers(questions: dict[str, Choice]) -> SearchStrategy[dict[str, str]]:
    """Answers to a few of these questions."""

    def answer(choice: Choice) -> SearchStrategy[str]:
        return st.sampled_from([key for key, _ in choice.options]) if choice.options else words

    one = st.sampled_from(sorted(questions)).flatmap(
        lambda key: st.tuples(st.just(key), answer(questions[key]))
    )
    return st.lists(one, max_size=3).map(
        lambda pairs: {key: dict(pairs)[key] for key in questions if key in dict(pairs)}
    )


@st.composite
def readings(draw: st.DrawFn, *, pair: int | None) -> Reading:
    """Any reading of the face, or of one pair."""
    known = [one for one in MEASUREMENTS.values() if one.off_pair == (pair is not None)]
    measurement = draw(st.sampled_from(known))
    sides = {"one": st.none(), "each": st.sampled_from("RL"), "either": st.sampled_from(["R", "L", None])}
    methods = [None, *(method.key for method in measurement.methods)]
    errors = st.builds(EnteredInError, by=words, at=moments, reason=words)
    return Reading(
        measurement=measurement.key,
        value=draw(values_of(measurement)),
        text=draw(words.filter(lambda text: not any(map(str.isnumeric, text)))),
        side=draw(sides[measurement.sides]),  # type: ignore[arg-type]
        method=draw(st.sampled_from(methods)),
        condition=draw(st.sampled_from([None, *CONDITIONS])),
        instrument=draw(st.none() | words),
        pair=pair,
        by=draw(st.none() | words),
        role=draw(st.sampled_from([None, *ROLES])),
        at=draw(st.none() | moments),
        note=draw(st.none() | words),
        source=draw(st.sampled_from(SOURCES)),
        proposed=draw(st.booleans()),
        accepted_by=draw(st.none() | words),
        entered_in_error=draw(st.none() | errors),
    )


@st.composite
def with_corrections(draw: st.DrawFn, taken: list[Reading]) -> list[Reading]:
    """The same readings with identities, and a few corrections after them."""
    named = [replace(reading, identity=f"reading {number}") for number, reading in enumerate(taken)]
    corrected = [reading for reading in named if draw(st.booleans())]
    return [
        *(replace(one, identity=one.identity if one in corrected else None) for one in named),
        *(
            replace(one, identity=draw(st.none() | st.just(f"new {one.identity}")), replaces=one.identity)
            for one in corrected
        ),
    ]


eyes = st.builds(
    lambda given, prisms: EyePrescription(**given, prism=tuple(prisms)),
    details(EYE_DETAILS, always=("sphere",)),
    st.lists(
        details(PRISM_DETAILS, always=("amount",)).map(lambda given: Prism(**({"base": None} | given))),
        max_size=3,
    ),
)
prescriptions = st.builds(
    lambda right, left, given: Prescription(right=right, left=left, **given),
    st.none() | eyes,
    st.none() | eyes,
    details(PRESCRIPTION_DETAILS, always=("written",)),
)
cover_findings = details(COVER_DETAILS, always=("finding",)).map(lambda given: CoverFinding(**given))


def pairs(number: int) -> SearchStrategy[Pair]:
    """Any pair of that number."""
    segments = details(SEGMENT_DETAILS, always=("shape", "diameter")).map(lambda given: Segment(**given))
    return st.builds(
        lambda given, segment, prescription, choices: Pair(
            pair=number, segment=segment, prescription=prescription, choices=choices, **given
        ),
        details(PAIR_DETAILS, always=("kind",)),
        st.none() | segments,
        st.none() | prescriptions,
        answers(PAIR_QUESTIONS),
    )


not_taken = st.builds(
    NotTaken,
    measurement=st.sampled_from(sorted(MEASUREMENTS)),
    reason=st.sampled_from(sorted(REASONS)),
    side=st.sampled_from(["R", "L", None]),
    pair=st.sampled_from([1, 2, None]),
    detail=st.none() | words,
    by=st.none() | words,
    at=st.none() | moments,
)
persons = st.builds(
    Person,
    reference=words,
    born=st.none() | days,
    sex=st.sampled_from(["F", "M", None]),
    registered_sight_impaired=st.booleans(),
)
takens = st.builds(
    Taken,
    on=days,
    by=st.none() | words,
    role=st.sampled_from([None, *ROLES]),
    supervisor=st.none() | words,
    room_light=st.none() | words,
    from_paper=st.booleans(),
)


@st.composite
def fittings(draw: st.DrawFn) -> Fitting:
    """Any fitting, its readings in the order of the fitting file."""
    numbers = [number for number in (1, 2) if draw(st.booleans())]
    taken = draw(st.lists(readings(pair=None), max_size=4))
    taken += [reading for number in numbers for reading in draw(st.lists(readings(pair=number), max_size=2))]
    return in_file_order(
        Fitting(
            person=draw(persons),
            taken=draw(takens),
            readings=tuple(draw(with_corrections(taken))),
            not_taken=tuple(draw(st.lists(not_taken, max_size=2))),
            cover_test=CoverTest(
                distance=draw(st.none() | cover_findings), near=draw(st.none() | cover_findings)
            ),
            prescription=draw(st.none() | prescriptions),
            pairs=tuple(draw(pairs(number)) for number in numbers),
            history=draw(answers(HISTORY_QUESTIONS)),
        )
    )

"""Findings that are gone because something was measured again or corrected, seen from the readings themselves."""

from dataclasses import replace

from app.fitting.fitting import Fitting, Person, Taken
from app.fitting.reading import EnteredInError, Reading
from app.plausibility.judge import judge
from app.plausibility.put_right import as_first_taken, put_right

# A PD of 36 with single-eye PDs of 31.5 each: the usual exchange of two digits (63).
FIRST = Reading(measurement="pd_distance", method="pupil_gauge", value=36.0, text="36", identity="first")
EYES = tuple(
    Reading(measurement="pd_monocular", side=side, value=31.5, text="31.5", identity=f"eye {side}")
    for side in ("R", "L")
)


def fitting(*readings: Reading) -> Fitting:
    person = Person(reference="T-1", born="1980-01-01")
    taken = Taken(on="2026-10-02", by="A. Practitioner", role="practitioner")
    return Fitting(person=person, taken=taken, readings=(*EYES, *readings))


def told(now: Fitting) -> dict[str, str]:
    return {one.finding.check: one.how for one in put_right(judge(as_first_taken(now)), judge(now), now)}


def about_the_pd(now: Fitting, *, root_causes_only: bool = False) -> set[str]:
    found = judge(now)
    return {
        one.check
        for one in (found.findings if root_causes_only else (*found.findings, *found.held_back))
        if any(subject.measurement == "pd_distance" for subject in one.about) and one.severity != "note"
    } - {"missing-without-reason"}


def test_a_correction_is_recognised_as_one() -> None:
    right = replace(FIRST, value=63.0, text="63", identity="second", replaces="first")
    wrong = about_the_pd(fitting(FIRST), root_causes_only=True)
    assert wrong, "36 against 31.5 and 31.5 must be seen"
    assert about_the_pd(fitting(FIRST, right)) == set()
    assert {told(fitting(FIRST, right))[check] for check in wrong} == {"corrected"}


def test_a_reading_entered_in_error_and_taken_again_is_a_correction() -> None:
    struck = replace(FIRST, entered_in_error=EnteredInError(by="A", at="2026-10-02T10:00:00Z", reason="slip"))
    again = replace(FIRST, value=63.0, text="63", identity="second")
    assert set(told(fitting(struck, again)).values()) == {"corrected"}


def test_measuring_again_is_recognised_without_a_correction() -> None:
    # 66 against 31.5 and 31.5, then twice 63: the closest two of three count, so the sum fits again.
    first = replace(FIRST, value=66.0, text="66")
    more = [replace(FIRST, value=63.0, text="63", identity=f"again {number}") for number in (1, 2)]
    now = fitting(first, *more)
    gone = about_the_pd(fitting(first), root_causes_only=True) - about_the_pd(now)
    assert gone, "66 against 31.5 and 31.5 must be seen, and be gone with 63"
    assert {told(now)[check] for check in gone} == {"measured_again"}


def test_a_finding_that_still_stands_is_not_put_right() -> None:
    again = replace(FIRST, identity="second")
    now = fitting(FIRST, again)
    assert not about_the_pd(now) & set(told(now))


def test_nothing_taken_twice_puts_nothing_right() -> None:
    assert told(fitting(FIRST)) == {}

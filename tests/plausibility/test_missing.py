"""A practice that leaves a step out is not asked for its readings."""

from app.fitting.fitting import Fitting, Person, Taken
from app.plausibility.missing import missing_subjects

EMPTY = Fitting(person=Person(reference="D-0001"), taken=Taken(on="2026-10-02"))


def test_readings_of_a_step_that_the_practice_leaves_out_are_not_missing():
    asked = {subject.measurement for subject in missing_subjects(EMPTY)}
    without_head = {subject.measurement for subject in missing_subjects(EMPTY, ("head",))}

    assert "head_width" in asked
    assert asked - without_head == {
        "head_width",
        "temple_width",
        "head_height",
        "head_diagonal",
        "head_circumference",
    }


def test_a_cover_test_that_the_practice_leaves_out_is_not_missing():
    asked = {subject.measurement for subject in missing_subjects(EMPTY, ("cover_test",))}

    assert not any(measurement.startswith("cover_test") for measurement in asked)

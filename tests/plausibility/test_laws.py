"""Laws that hold for any readings: judging never fails, messages can be read, and order does not matter."""

from dataclasses import replace
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from app.catalogue.catalogue import MEASUREMENTS
from app.catalogue.measurement import SIDES, Measurement
from app.fitting.cover_test import CoverFinding, CoverTest
from app.fitting.fitting import Fitting, Person, Taken
from app.fitting.pair import Pair
from app.fitting.prescription import EyePrescription, Prescription, Prism
from app.fitting.reading import Reading
from app.plausibility.judge import judge

ARMS = st.sampled_from([None, "in", "out", "up", "down"])


def believable(measurement: Measurement) -> st.SearchStrategy[float]:
    """Values that may be stored: whole ten-thousandths, in and a little beyond what is believed."""
    limits = measurement.adult.stop
    room = (limits.high - limits.low) / 4
    low, high = round((limits.low - room) * 10_000), round((limits.high + room) * 10_000)
    return st.integers(low, high).map(lambda number: number / 10_000)


@st.composite
def readings(draw: st.DrawFn) -> Reading:
    """One reading of anything, with any of its methods and conditions."""
    measurement = draw(st.sampled_from(list(MEASUREMENTS.values())))
    sides: Any = {"one": [None], "each": SIDES, "either": [None, *SIDES]}[measurement.sides]
    value = draw(believable(measurement))
    return Reading(
        measurement=measurement.key,
        value=value,
        text=f"{value:g}",
        side=draw(st.sampled_from(sides)),
        method=draw(st.sampled_from([None, *(method.key for method in measurement.methods)])),
        condition=draw(st.sampled_from([None, *measurement.conditions])),
        pair=draw(st.sampled_from([1, 2])) if measurement.off_pair else None,
        proposed=draw(st.booleans()),
    )


def eyes() -> st.SearchStrategy[EyePrescription]:
    """Powers in quarters, axes that may be missing or wrong, prisms without a base among them."""
    quarters = st.integers(-80, 80).map(lambda number: number / 4)
    return st.builds(
        EyePrescription,
        sphere=quarters,
        cylinder=st.none() | quarters,
        axis=st.none() | st.integers(0, 190).map(float),
        add=st.none() | st.integers(0, 16).map(lambda number: number / 4),
        prism=st.lists(st.builds(Prism, amount=st.integers(0, 8).map(float), base=ARMS), max_size=2).map(
            tuple
        ),
    )


def cover_findings() -> st.SearchStrategy[CoverFinding | None]:
    """Cover tests, contradictory ones among them."""
    return st.none() | st.builds(
        CoverFinding,
        finding=st.sampled_from(["none", "latent", "manifest", "not_applicable"]),
        direction=ARMS,
        eye=st.sampled_from([None, "R", "L", "alternating"]),
        size=st.none() | st.integers(0, 60).map(float),
        known=st.sampled_from([None, "yes", "no", "not_known"]),
    )


def pairs(number: int) -> st.SearchStrategy[Pair]:
    """A pair with some of its plan."""
    length = st.none() | st.integers(10, 70).map(float)
    return st.builds(
        Pair,
        pair=st.just(number),
        kind=st.sampled_from(["handmade", "own_frame"]),
        use=st.sampled_from([None, "distance", "near"]),
        bridge_style=st.sampled_from([None, "regular", "pad", "keyhole", "inset_saddle"]),
        sheet_mm=length,
        lens_width=length,
        lens_height=length,
        distance_between_lenses=length,
        lug_width_mm=length,
        centre_line_above_lid_mm=length,
        lens_form=st.sampled_from([None, "bifocal", "progressive", "single_vision_near"]),
        index=st.sampled_from([None, 1.5, 1.67]),
        vertex_mm=length,
        longest_diameter_mm=length,
    )


def fittings() -> st.SearchStrategy[Fitting]:
    """Any fitting that could be stored."""
    born = st.none() | st.dates().map(lambda day: day.isoformat())
    return st.builds(
        Fitting,
        person=st.builds(Person, reference=st.just("T-1"), born=born),
        taken=st.just(Taken(on="2026-10-02")),
        readings=st.lists(readings(), max_size=40).map(tuple),
        cover_test=st.builds(CoverTest, distance=cover_findings(), near=cover_findings()),
        prescription=st.none()
        | st.builds(Prescription, right=st.none() | eyes(), left=st.none() | eyes(), written=born),
        pairs=st.tuples(pairs(1), pairs(2)),
    )


@given(fittings())
@settings(deadline=None, max_examples=150)
def test_any_fitting_is_judged_and_every_finding_can_be_read(fitting: Fitting) -> None:
    judgement = judge(fitting, previous=fitting)
    for finding in judgement.raw:
        assert finding.message.endswith(".")
        assert finding.suggest
        assert finding.source
        assert finding.fingerprint
        assert "None" not in finding.message
    named = {finding.check for finding in judgement.findings}
    assert {finding.held_back_by for finding in judgement.held_back} <= named


@given(fittings())
@settings(deadline=None, max_examples=60)
def test_the_order_in_which_different_things_were_taken_changes_nothing(fitting: Fitting) -> None:
    backwards = replace(fitting, readings=tuple(sorted(fitting.readings, key=lambda one: one.measurement)))
    forwards = {(one.check, one.severity, frozenset(one.about)) for one in judge(fitting).raw}
    assert forwards == {(one.check, one.severity, frozenset(one.about)) for one in judge(backwards).raw}


@given(st.integers(-100, 100), st.data())
@settings(deadline=None, max_examples=100)
def test_readings_in_the_middle_of_their_usual_range_are_never_questioned_alone(
    share: int, data: st.DataObject
) -> None:
    measurement = data.draw(st.sampled_from(list(MEASUREMENTS.values())))
    usual = measurement.adult.usual
    middle, half = (usual.low + usual.high) / 2, (usual.high - usual.low) / 2
    value = round(middle + half * share / 100, 4)
    side = SIDES[0] if measurement.sides == "each" else None
    reading = Reading(
        measurement=measurement.key,
        value=value,
        text=f"{value:g}",
        side=side,
        pair=2 if measurement.off_pair else None,
    )
    fitting = Fitting(
        person=Person(reference="T-1", born="1986-10-02"), taken=Taken(on="2026-10-02"), readings=(reading,)
    )
    assert "usual-range" not in {finding.check for finding in judge(fitting).raw}

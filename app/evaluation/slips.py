"""The catalogue of slips: what is done to one reading of an honest fitting, or to two."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from app.catalogue.catalogue import MEASUREMENTS
from app.catalogue.measurement import Side
from app.fitting.fitting import Fitting
from app.fitting.reading import Reading
from app.plausibility.expectation_hypotheses import EXCHANGED
from app.plausibility.expectation_slips import MILLIMETRES_IN_AN_INCH, exchanged_digits
from app.plausibility.finding import Subject

Box = Subject
Values = dict[Box, float]
"""The value of each box, repeats of one box being alike."""
Changes = dict[Box, float]
GROSS_MM = (5.0, 10.0, 20.0, 50.0)
GROSS_DEG = (5.0, 10.0, 15.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Slip:
    """One slip: its kind, and for each box it touches the value that is then written there."""

    kind: str
    changes: tuple[tuple[Box, float], ...]

    @property
    def boxes(self) -> frozenset[Box]:
        """The boxes with a wrong value."""
        return frozenset(box for box, _ in self.changes)


def box_of(one: Reading) -> Box:
    """The box that a reading stands in."""
    return Subject(measurement=one.measurement, side=one.side, pair=one.pair, method=one.method)


def values_of(fitting: Fitting) -> Values:
    """The last value of each box."""
    return {box_of(one): one.value for one in fitting.readings}


def with_slip(fitting: Fitting, slip: Slip) -> Fitting:
    """The fitting with the slip in it. A box read twice has both readings shifted alike, so that repeats do
    not tell."""
    first: Values = {}
    for one in fitting.readings:
        first.setdefault(box_of(one), one.value)
    wrong = dict(slip.changes)
    readings = tuple(
        _written(one, wrong[box_of(one)] + one.value - first[box_of(one)]) if box_of(one) in wrong else one
        for one in fitting.readings
    )
    return replace(fitting, readings=readings)


def _written(one: Reading, value: float) -> Reading:
    whole = round(value, 4) + 0.0
    return replace(one, value=whole, text=f"{whole:g}")


def all_slips(fitting: Fitting) -> dict[str, list[Slip]]:
    """Every slip that could be made in this fitting, by kind; those that change nothing are left out."""
    values: Values = {}
    for one in fitting.readings:
        values.setdefault(box_of(one), one.value)
    found: dict[str, list[Slip]] = {}
    for kind, make in KINDS.items():
        for changes in make(values):
            kept = tuple((box, value) for box, value in changes.items() if value != values[box])
            if kept:
                found.setdefault(kind, []).append(Slip(kind=kind, changes=kept))
    return found


def exceeds_repeatability(fitting: Fitting, slip: Slip) -> bool:
    """True where some box is changed by more than two readings of it may differ."""
    values = values_of(fitting)
    return any(
        abs(value - values[box]) > MEASUREMENTS[box.measurement].tolerance(box.method) + 1e-9
        for box, value in slip.changes
    )


def draw_slip(fitting: Fitting, kind: str | None, draw: np.random.Generator) -> Slip | None:
    """One slip of a kind (None: of any), all alike likely; None where none beyond repeatability can be made."""
    possible = all_slips(fitting)
    wanted = (
        possible.get(kind, []) if kind is not None else [one for many in possible.values() for one in many]
    )
    found = [slip for slip in wanted if exceeds_repeatability(fitting, slip)]
    return found[int(draw.integers(len(found)))] if found else None


def _each(change: Callable[[str, float], Iterator[float]]) -> Callable[[Values], Iterator[Changes]]:
    def make(values: Values) -> Iterator[Changes]:
        for box, value in values.items():
            for wrong in change(box.measurement, value):
                yield {box: wrong}

    return make


def _digits(key: str, value: float) -> Iterator[float]:
    yield from (wrong for wrong in exchanged_digits(value) if wrong >= 0 or MEASUREMENTS[key].signed)


def _units(key: str, value: float) -> Iterator[float]:
    if MEASUREMENTS[key].unit == "mm":
        yield round(value / 10, 4)
        yield round(value / MILLIMETRES_IN_AN_INCH, 2)


def _decimal(key: str, value: float) -> Iterator[float]:
    yield round(value * 10, 4)
    yield round(value / 10, 4)


def _diameter(key: str, value: float) -> Iterator[float]:
    if key == "apical_radius":
        yield value * 2


def _sign(key: str, value: float) -> Iterator[float]:
    if MEASUREMENTS[key].signed and value:
        yield -value


def _gross(size: float, unit: str) -> Callable[[Values], Iterator[Changes]]:
    """An error that nobody could believe (more than half of what is believed at all) is left out."""

    def change(key: str, value: float) -> Iterator[float]:
        believed = MEASUREMENTS[key].adult.stop
        if MEASUREMENTS[key].unit == unit and size <= (believed.high - believed.low) / 2:
            yield value + size
            yield value - size

    return _each(change)


def _sides(values: Values) -> Iterator[Changes]:
    for box, value in values.items():
        other = replace(box, side="L")
        if box.side == "R" and other in values:
            yield {box: values[other], other: value}


def _fields(values: Values) -> Iterator[Changes]:
    for box, value in values.items():
        for key in EXCHANGED.get(box.measurement, ()):
            for other, number in values.items():
                if (other.measurement, other.side, other.pair) == (key, box.side, box.pair):
                    yield {box: number, other: value}


def _whole_angle(values: Values) -> Iterator[Changes]:
    for key in ("frontal_angle", "splay_angle"):
        both = [_box(key, side) for side in ("R", "L")]
        if all(box in values for box in both):
            yield {both[0]: values[both[0]] * 2}
            yield {box: values[box] * 2 for box in both}


def _box(key: str, side: Side | None) -> Box:
    return Subject(measurement=key, side=side)


def _near_in_far(values: Values) -> Iterator[Changes]:
    near = values.get(_box("pd_near", None))
    for box in values:
        if box.measurement == "pd_distance" and near is not None:
            yield {box: near}
    for box, value in values.items():
        if box.measurement == "pd_worn":
            yield {box: values.get(replace(box, measurement="pd_near_worn"), value)}


def _typed_again(values: Values) -> Iterator[Changes]:
    order = list(values)
    for before, box in pairwise(order):
        if before.pair == box.pair:
            yield {box: values[before]}


KINDS: dict[str, Callable[[Values], Iterator[Changes]]] = {
    "digits exchanged": _each(_digits),
    "right and left exchanged": _sides,
    "two fields exchanged": _fields,
    "centimetres or inches": _each(_units),
    "decimal point": _each(_decimal),
    "whole angle for half": _whole_angle,
    "diameter for radius": _each(_diameter),
    "sign": _each(_sign),
    "near in the far box": _near_in_far,
    "previous value typed again": _typed_again,
    **{f"±{size:g} mm": _gross(size, "mm") for size in GROSS_MM},
    **{f"±{size:g}°": _gross(size, "deg") for size in GROSS_DEG},
}
"""Each kind of slip; a fitting's slip is drawn from a kind first, then from the boxes that it can happen in."""

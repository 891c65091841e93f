"""A box on a step page: one measurement, side and method, and its name in addresses and forms."""

from collections.abc import Iterator
from dataclasses import dataclass

from app.catalogue.catalogue import MEASUREMENTS
from app.catalogue.measurement import SIDE_WORDS, SIDES, Measurement, Side
from app.catalogue.step import Step
from app.records.errors import NotFound

PAIR_OF_STEP = {"pair_1": 1, "pair_2": 2}


@dataclass(frozen=True, slots=True)
class BoxKey:
    """Which box: written `frontal_angle.R`, `pd_distance~rule`, `head_width`."""

    measurement: Measurement
    side: Side | None = None
    method: str | None = None

    def __str__(self) -> str:
        side = f".{self.side}" if self.side else ""
        method = f"~{self.method}" if self.method else ""
        return f"{self.measurement.key}{side}{method}"

    @property
    def name(self) -> str:
        """Side first, then name, then method: the order in which a reading is said aloud."""
        words = [self.measurement.label]
        if self.method is not None:
            declared = self.measurement.method(self.method)
            words.append(declared.label.lower() if declared else self.method)
        text = ", ".join(words)
        return f"{SIDE_WORDS[self.side].capitalize()}: {text}" if self.side else text


def read_box(text: str) -> BoxKey:
    """The box of that name; NotFound where there is none."""
    place, _, method = text.partition("~")
    key, _, side = place.partition(".")
    measurement = MEASUREMENTS.get(key)
    if measurement is None or side not in ("", "R", "L"):
        raise NotFound("box")
    if method and measurement.method(method) is None:
        raise NotFound("box")
    return BoxKey(measurement, _side(side), method or None)


def _side(text: str) -> Side | None:
    return next((side for side in SIDES if side == text), None)


def boxes_of(measurement: Measurement) -> Iterator[BoxKey]:
    """The boxes of one measurement: right before left, each method where all are wanted."""
    methods = [method.key for method in measurement.methods] if measurement.each_method else [None]
    sides: dict[str, tuple[Side | None, ...]] = {"one": (None,), "each": SIDES, "either": (None, *SIDES)}
    for method in methods:
        for side in sides[measurement.sides]:
            yield BoxKey(measurement, side, method)


def boxes_of_step(step: Step) -> tuple[BoxKey, ...]:
    """All boxes of a step in reading order."""
    return tuple(box for measurement in step.measurements for box in boxes_of(measurement))


def pair_of(measurement: Measurement) -> int | None:
    """The pair that a reading belongs to: readings off or with a pair are of the patient's own, pair 2."""
    return 2 if measurement.off_pair else None

"""The worksheet of one pair: its readings and choices, each with its name where it is missing."""

from collections.abc import Callable
from dataclasses import dataclass

from app.catalogue.catalogue import MEASUREMENTS
from app.catalogue.measurement import SIDE_WORDS, Side
from app.fitting.fitting import Fitting
from app.fitting.pair import Pair
from app.fitting.preferred import preferred_value
from app.fitting.working import WorkingValue
from app.frame.ordered_dimension import AS_MEASURED, READING_SOURCE, Group, OrderedDimension
from app.practice.settings import Adjustments

DECIMALS = 4
"""Readings are whole ten-thousandths; sums of them are brought back to that, free of binary noise."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Needed:
    """A number that a dimension is worked out from; None where it is missing, with its name for people."""

    name: str
    value: float | None
    count: int = 1
    """How many readings it was made from; 0 where it was chosen or worked out."""
    lacking: tuple[str, ...] = ()
    """Names of what is missing for it, where it is itself worked out."""

    @property
    def known(self) -> float:
        """The number. Raises ValueError where it is missing: ask `missing` first."""
        if self.value is None:
            raise ValueError(f"{self.name} is missing")
        return self.value


def missing(*needed: Needed) -> tuple[str, ...]:
    """The names of those that are missing, each once; for what is worked out, of what it is worked out from."""
    names = (name for one in needed if one.value is None for name in one.lacking or (one.name,))
    return tuple(dict.fromkeys(names))


def worked_out(work_out: Callable[[], float], *needed: Needed) -> tuple[float | None, tuple[str, ...]]:
    """The value worked out, or None and the names of what is missing for it. Never a guess."""
    absent = missing(*needed)
    return (None, absent) if absent else (work_out(), ())


@dataclass(frozen=True, slots=True, kw_only=True)
class Worksheet:
    """Everything that the dimensions of one pair are worked out from."""

    fitting: Fitting
    pair: Pair
    adjustments: Adjustments
    working: tuple[WorkingValue, ...]

    def face(self, measurement: str, side: Side | None = None) -> Needed:
        """A reading of the face."""
        return self._reading(measurement, side, pair=None)

    def on_pair(self, measurement: str, side: Side | None = None) -> Needed:
        """A reading off or with this pair."""
        return self._reading(measurement, side, pair=self.pair.pair)

    def planned_or_measured(self, measurement: str, planned: float | None) -> Needed:
        """For a frame to be made the plan, for an existing one the reading; the other where that is blank."""
        read = self.on_pair(measurement)
        chosen = Needed(name=read.name, value=planned, count=0)
        first, second = (chosen, read) if self.handmade else (read, chosen)
        return first if first.value is not None else second

    @property
    def handmade(self) -> bool:
        """True for a frame that is still to be made."""
        return self.pair.kind == "handmade"

    @property
    def lens_width(self) -> Needed:
        """Boxed lens width, mm."""
        return self.planned_or_measured("lens_width", self.pair.lens_width)

    @property
    def lens_height(self) -> Needed:
        """Boxed lens height, mm."""
        return self.planned_or_measured("lens_height", self.pair.lens_height)

    @property
    def between_lenses(self) -> Needed:
        """Distance between lenses, mm."""
        return self.planned_or_measured("distance_between_lenses", self.pair.distance_between_lenses)

    @property
    def centre_line_above_lid_mm(self) -> float:
        """Height of the horizontal centre line above the lower lid: this pair's, else the practice's."""
        planned = self.pair.centre_line_above_lid_mm
        return self.adjustments.centre_line_above_lid_mm if planned is None else planned

    @property
    def lug_mm(self) -> float:
        """Width of one lug: this pair's, else the practice's allowance."""
        planned = self.pair.lug_width_mm
        return self.adjustments.lug_allowance_mm if planned is None else planned

    def _reading(self, measurement: str, side: Side | None, *, pair: int | None) -> Needed:
        squint = self.fitting.cover_test.squint
        found = preferred_value(self.working, measurement, side, pair=pair, squint=squint)
        return Needed(
            name=name_of(measurement, side, pair=pair),
            value=None if found is None else found.value,
            count=0 if found is None else found.count,
        )


def name_of(measurement: str, side: Side | None = None, *, pair: int | None = None) -> str:
    """A reading in words: “Length to tangent, patient's left”."""
    words = [MEASUREMENTS[measurement].label]
    if side is not None:
        words.append(SIDE_WORDS[side])
    if pair is not None:
        words.append(f"pair {pair}")
    return ", ".join(words)


def adjusted(
    facial: Needed,
    *,
    measurement: str,
    group: Group,
    dimension: str | None = None,
    label: str | None = None,
    side: Side | None = None,
    adjustment: float = 0.0,
    because: str = "",
    source: str = READING_SOURCE,
    reference_line: str | None = None,
    words: Callable[[float], str] | None = None,
) -> OrderedDimension:
    """A dimension that is a facial value and an adjustment, 0 where it is ordered as measured."""
    declared = MEASUREMENTS[measurement]
    ordered = None if facial.value is None else round(facial.value + adjustment, DECIMALS)
    return OrderedDimension(
        dimension=dimension or measurement,
        label=label or declared.label,
        group=group,
        unit=declared.unit,
        side=side,
        facial=facial.value,
        adjustment=adjustment,
        ordered=ordered,
        basis=" ".join(filter(None, (AS_MEASURED, because, _repeats(facial)))),
        source=source,
        reference_line=reference_line or declared.reference_line,
        words="" if ordered is None or words is None else words(ordered),
        missing=missing(facial),
    )


def _repeats(facial: Needed) -> str:
    return f"(from {facial.count} readings)" if facial.count > 1 else ""

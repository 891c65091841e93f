"""The worksheet of one pair: its readings and choices, each with its name where it is missing."""

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import wraps
from typing import Any, Concatenate, ParamSpec, TypeVar

from app.catalogue.catalogue import MEASUREMENTS
from app.catalogue.measurement import SIDE_WORDS, Side
from app.fitting.fitting import Fitting
from app.fitting.pair import Pair
from app.fitting.preferred import preferred_value
from app.fitting.working import WorkingValue
from app.frame.needed import Needed
from app.frame.repeatability import standard_deviation
from app.practice.settings import Adjustments


@dataclass(frozen=True, slots=True, kw_only=True)
class Worksheet:
    """Everything that the dimensions of one pair are worked out from."""

    fitting: Fitting
    pair: Pair
    adjustments: Adjustments
    working: tuple[WorkingValue, ...]
    _found: dict[tuple[str, Side | None, int | None], Needed] = field(
        init=False, repr=False, compare=False, default_factory=dict
    )
    worked_out: dict[tuple[object, ...], Any] = field(
        init=False, repr=False, compare=False, default_factory=dict
    )

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
        key = (measurement, side, pair)
        if key not in self._found:
            self._found[key] = self._look_up(measurement, side, pair)
        return self._found[key]

    def _look_up(self, measurement: str, side: Side | None, pair: int | None) -> Needed:
        squint = self.fitting.cover_test.squint
        found = preferred_value(self.working, measurement, side, pair=pair, squint=squint)
        name = name_of(measurement, side, pair=pair)
        if found is None:
            return Needed(name=name, value=None, count=0)
        return Needed(
            name=name, value=found.value, count=found.count, shares={name: standard_deviation(found)}
        )


Wanted = ParamSpec("Wanted")
Found = TypeVar("Found")


def once(
    work_out: Callable[Concatenate[Worksheet, Wanted], Found],
) -> Callable[Concatenate[Worksheet, Wanted], Found]:
    """Works out once for each sheet what several dimensions need."""

    @wraps(work_out)
    def kept(sheet: Worksheet, /, *wanted: Wanted.args, **named: Wanted.kwargs) -> Found:
        key = (work_out.__qualname__, *wanted)
        if key not in sheet.worked_out:
            sheet.worked_out[key] = work_out(sheet, *wanted, **named)
        found: Found = sheet.worked_out[key]
        return found

    return kept


def name_of(measurement: str, side: Side | None = None, *, pair: int | None = None) -> str:
    """A reading in words: “Length to tangent, patient's left”."""
    words = [MEASUREMENTS[measurement].label]
    if side is not None:
        words.append(SIDE_WORDS[side])
    if pair is not None:
        words.append(f"pair {pair}")
    return ", ".join(words)

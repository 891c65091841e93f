"""The rows of an order sheet: R and L on one line; facial value, adjustment, ordered value side by side."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from app.catalogue.conditions import CONDITIONS
from app.catalogue.measurement import UNIT_WORDS
from app.catalogue.reasons import REASONS
from app.fitting.entry import show_number
from app.fitting.fitting import Fitting
from app.fitting.reading import NotTaken, Reading
from app.fitting.working import WorkingValue, current_readings
from app.frame.ordered_dimension import Group, OrderedDimension
from app.plausibility.finding import Finding

GROUP_WORDS: dict[Group, str] = {
    "bridge": "Bridge",
    "front": "Front",
    "sides": "Sides",
    "lenses": "Lenses and how they stand",
}
COMES_FROM = {
    "length_to_bend": "length_to_tangent",
    "centration": "pd_monocular",
    "near_centration": "pd_near",
    "overall_length": "drop_length",
}
"""Reading behind a dimension of another name, whose notes therefore belong to it."""
TOLD_TO_THE_BENCH = ("at_fit_up", "estimated", "previous_record")
"""Reasons that a bench can use; why else a patient was not measured is not its business."""
HEIGHTS = ("segment_height", "fitting_height", "centre_height")
TENTH = Decimal("0.1")
"""Worked-out values are shown to a tenth of a millimetre or degree: finer than a bench works. Common practice."""
WRITTEN_NUMBER = re.compile(r"\d+(\.\d+)?")


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderRow:
    """One dimension. Values are text; `right` and `left` are both filled where the dimension has sides."""

    dimension: str
    label: str
    unit: str
    reference_line: str
    facial: str = ""
    adjustment: str = ""
    right: str = ""
    left: str = ""
    single: str = ""
    uncertainty: str = ""
    """From the repeatability of the readings, k = 2; empty where no reading enters."""
    remarks: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()

    @property
    def sided(self) -> bool:
        """True where right and left are ordered each."""
        return not self.single and not (self.missing and not self.right and not self.left)


@dataclass(frozen=True, slots=True)
class RowGroup:
    """Rows under one heading."""

    heading: str
    rows: tuple[OrderRow, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Behind:
    """What stands behind the ordered values: the readings, their repeats, and answers to findings on them."""

    fitting: Fitting
    working: tuple[WorkingValue, ...]
    both_sides_found: frozenset[str]
    """Measurements of which a finding says that right and left differ."""
    both_sides_answered: frozenset[str]
    """Those of them that a practitioner answered."""


def differing_sides(findings: Iterable[Finding]) -> frozenset[str]:
    """Measurements of which one finding names right and left and nothing else: the sides differ."""
    found = set()
    for finding in findings:
        names = {subject.measurement for subject in finding.about}
        if len(names) == 1 and {subject.side for subject in finding.about} == {"R", "L"}:
            found |= names
    return frozenset(found)


def row_groups(lines: Sequence[OrderedDimension], behind: Behind) -> tuple[RowGroup, ...]:
    """The rows in their groups, in the order in which they were worked out."""
    return tuple(
        RowGroup(heading, rows)
        for group, heading in GROUP_WORDS.items()
        if (rows := tuple(_rows([line for line in lines if line.group == group], behind)))
    )


def _rows(lines: Sequence[OrderedDimension], behind: Behind) -> Iterable[OrderRow]:
    for name in dict.fromkeys(line.dimension for line in lines):
        yield _row([line for line in lines if line.dimension == name], behind)


def _row(lines: Sequence[OrderedDimension], behind: Behind) -> OrderRow:
    first, sides = lines[0], {line.side: line for line in lines}
    return OrderRow(
        dimension=first.dimension,
        label=first.label,
        unit=UNIT_WORDS[first.unit],
        reference_line=first.reference_line,
        facial=_both({side: _number(line.facial) for side, line in sides.items()}),
        adjustment=_adjustment(lines),
        right=_number(sides["R"].ordered) if "R" in sides else "",
        left=_number(sides["L"].ordered) if "L" in sides else "",
        single=_number(sides[None].ordered) if None in sides else "",
        uncertainty=_uncertainty(lines),
        remarks=tuple(_remarks(lines, behind)),
        missing=tuple(dict.fromkeys(name for line in lines for name in line.missing)),
    )


def _number(value: float | None) -> str:
    return "" if value is None else show_number(to_a_tenth(value))


def to_a_tenth(value: float) -> float:
    """The value to a tenth, halves away from zero as people round.

    >>> to_a_tenth(2.25), to_a_tenth(-0.04)
    (2.3, 0.0)
    """
    return float(Decimal(repr(value)).quantize(TENTH, ROUND_HALF_UP)) + 0.0


def _words(text: str) -> str:
    """The words of a signed value with its number shown to a tenth, as in the box beside them."""
    return WRITTEN_NUMBER.sub(lambda found: _number(float(found[0])), text)


def _uncertainty(lines: Sequence[OrderedDimension]) -> str:
    """One figure for both sides where they are alike to a tenth."""
    found = [
        _number(line.uncertainty)
        for line in lines
        if line.ordered is not None and line.uncertainty is not None
    ]
    return " / ".join(dict.fromkeys(found))


def _both(values: dict[str | None, str]) -> str:
    if None in values:
        return values[None]
    return " ".join(f"{side} {values[side]}" for side in ("R", "L") if values.get(side))


def _adjustment(lines: Sequence[OrderedDimension]) -> str:
    given = {line.adjustment for line in lines if line.adjustment is not None}
    return " / ".join(f"+{show_number(one)}" if one > 0 else show_number(one) for one in sorted(given))


def _remarks(lines: Sequence[OrderedDimension], behind: Behind) -> Iterable[str]:
    """Signs in words, planned or measured, confirmations, and notes beside the value that they explain."""
    words = {line.side: _words(line.words) for line in lines if line.words}
    if len(set(words.values())) == 1 and len(words) == len(lines):
        yield next(iter(words.values()))
    else:
        yield from (f"{side}: {said}" for side, said in words.items())
    first = lines[0]
    if first.dimension in HEIGHTS and first.ordered is not None:
        yield "planned" if first.basis.startswith("planned") else "measured"
    yield from _needed(lines)
    yield from _gaps(lines, behind)
    yield from _confirmed(lines, behind)
    yield from _notes(lines, behind)


def _needed(lines: Sequence[OrderedDimension]) -> Iterable[str]:
    """What is missing, where it is not the dimension itself under its own name."""
    names = dict.fromkeys(name for line in lines for name in line.missing)
    others = [name for name in names if not name.startswith(lines[0].label)]
    if others:
        yield f"needs {'; '.join(others)}"


def _gaps(lines: Sequence[OrderedDimension], behind: Behind) -> Iterable[str]:
    """Why a reading behind the row was not taken, as far as the bench can use it."""
    wanted = {lines[0].dimension, COMES_FROM.get(lines[0].dimension, lines[0].dimension)}
    for gap in behind.fitting.not_taken:
        if gap.measurement in wanted and any(line.missing for line in lines):
            said = _why_not(gap)
            yield f"{gap.side}: {said}" if gap.side else said


def _why_not(gap: NotTaken) -> str:
    if gap.reason not in TOLD_TO_THE_BENCH:
        return "not taken"
    reason = REASONS[gap.reason].partition(" (")[0].lower()
    return f"{reason}: {gap.detail}" if gap.detail else reason


def _confirmed(lines: Sequence[OrderedDimension], behind: Behind) -> Iterable[str]:
    sides = {line.side: line.ordered for line in lines}
    measurement = COMES_FROM.get(lines[0].dimension, lines[0].dimension)
    if None in sides or len(set(sides.values())) == 1 or measurement not in behind.both_sides_found:
        return
    own = [value for value in behind.working if value.measurement == measurement]
    if {value.side for value in own if value.count > 1} == {"R", "L"}:
        yield "R and L differ: measured twice each"
    elif measurement in behind.both_sides_answered:
        yield "R and L differ: confirmed twice"
    else:
        yield "R and L differ: as measured"


def _notes(lines: Sequence[OrderedDimension], behind: Behind) -> Iterable[str]:
    """Notes and circumstances of the readings behind the row, right and left together where they are alike."""
    dimension = lines[0].dimension
    wanted = {dimension, COMES_FROM.get(dimension, dimension)}
    own = [reading for reading in current_readings(behind.fitting) if reading.measurement in wanted]
    several = len({reading.condition for reading in own}) > 1
    sides: dict[str, list[str]] = {}
    for reading in own:
        if said := _said(reading, with_value=several):
            sides.setdefault(said, []).append(reading.side or "")
    for said, places in sides.items():
        place = ", ".join(side for side in ("R", "L") if side in places)
        yield f"{place}: {said}" if place else said


def _said(reading: Reading, *, with_value: bool) -> str:
    circumstance = CONDITIONS.get(reading.condition or "", "").lower()
    value = show_number(reading.value) if with_value and circumstance else ""
    first = " ".join(part for part in (circumstance, value) if part)
    return ", ".join(part for part in (first, reading.note) if part)

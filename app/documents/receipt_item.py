"""What is measured on a pair that came in, and how one value of it is judged."""

from dataclasses import dataclass
from typing import Literal

from app.catalogue.measurement import Side

ReceiptUnit = Literal["mm", "deg", "D", "prism dioptres"]
Ruling = Literal["pass", "outside", "decision", "noted"]
"""pass; outside by how much; needs a decision; noted where nothing was ordered to compare with."""
Place = tuple[str, Side | None]
"""An item's key and its side."""
Measured = dict[Place, float]
ROUNDING = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class ReceiptItem:
    """One box on the page: what is measured, on which side, and what was ordered (None: nothing)."""

    key: str
    label: str
    group: str
    unit: ReceiptUnit
    side: Side | None = None
    ordered: float | None = None
    hint: str = ""

    @property
    def place(self) -> Place:
        """Its key and side."""
        return self.key, self.side


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """One judged value. `difference` is measured less ordered; `outside_by` is how far beyond the tolerance
    it lies.
    """

    item: str
    label: str
    side: Side | None
    unit: ReceiptUnit
    ordered: float | None
    measured: float | None
    difference: float | None
    tolerance: float | None
    ruling: Ruling
    outside_by: float | None = None
    source: str = ""
    note: str = ""


def judged(
    item: ReceiptItem, measured: float, *, tolerance: float | None, source: str, note: str = ""
) -> Verdict:
    """The verdict on one value by a tolerance, more or less, its edge included."""
    if item.ordered is None:
        return _verdict(item, measured, None, None, "noted", source="", note=note)
    difference = measured - item.ordered
    if tolerance is None:
        words = note or "No tolerance is agreed for it."
        return _verdict(item, measured, difference, None, "decision", source=source, note=words)
    beyond = abs(difference) - tolerance
    if beyond <= ROUNDING:
        return _verdict(item, measured, difference, tolerance, "pass", source=source, note=note)
    return _verdict(
        item, measured, difference, tolerance, "outside", source=source, note=note, outside_by=beyond
    )


def _verdict(
    item: ReceiptItem,
    measured: float | None,
    difference: float | None,
    tolerance: float | None,
    ruling: Ruling,
    *,
    source: str,
    note: str,
    outside_by: float | None = None,
) -> Verdict:
    return Verdict(
        item=item.key,
        label=item.label,
        side=item.side,
        unit=item.unit,
        ordered=item.ordered,
        measured=measured,
        difference=difference,
        tolerance=tolerance,
        ruling=ruling,
        outside_by=outside_by,
        source=source,
        note=note,
    )

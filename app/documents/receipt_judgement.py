"""A received pair judged as a whole: every measured value against its order, and what was not measured."""

from collections.abc import Iterator
from dataclasses import dataclass

from app.catalogue.measurement import SIDES, Side
from app.documents.receipt_item import Measured, Place, ReceiptItem, Verdict, judged
from app.documents.receipt_items import POWER, PRISM, receipt_items
from app.documents.receipt_lenses import lens_verdicts
from app.documents.receipt_standards import LensStandard
from app.documents.signed_order import SignedOrder
from app.reference.bench_tolerances import BENCH_TOLERANCES, BenchTolerance

OWN_TOLERANCE = "The order carries its own tolerances: decide by them."


@dataclass(frozen=True, slots=True, kw_only=True)
class ReceiptJudgement:
    """Verdicts in the order of the page, and the labels of what was ordered but not measured."""

    verdicts: tuple[Verdict, ...]
    not_measured: tuple[str, ...]

    @property
    def differences(self) -> tuple[Verdict, ...]:
        """What is outside or waits for a decision."""
        return tuple(one for one in self.verdicts if one.ruling in ("outside", "decision"))


def judge_receipt(order: SignedOrder, measured: Measured, by: LensStandard) -> ReceiptJudgement:
    """Judge what was measured. Frames by agreed bench tolerances, lenses by the standard; edges pass.

    Where the order carries tolerances of its own, a frame value outside the agreed ones waits for a decision
    instead.
    """
    items = {item.place: item for item in receipt_items(order)}
    own = bool(order.pair.choices.get("tolerance_note", "").strip())
    frame = [
        verdict
        for item in items.values()
        if item.group in ("Bridge", "Front", "Sides") and item.place in measured
        for verdict in (_frame(item, measured[item.place], own),)
    ]
    verdicts = (*frame, *_pairs(items, measured), *lens_verdicts(order, items, measured, by))
    left = [item for item in items.values() if item.ordered is not None and item.place not in measured]
    return ReceiptJudgement(
        verdicts=verdicts, not_measured=tuple(dict.fromkeys(_named(item) for item in left))
    )


def _frame(item: ReceiptItem, value: float, own_tolerances: bool) -> Verdict:
    agreed: BenchTolerance | None = BENCH_TOLERANCES.get(item.key)
    if agreed is None:
        return judged(item, value, tolerance=None, source="")
    found = judged(item, value, tolerance=agreed.amount, source=agreed.source)
    if found.ruling == "outside" and own_tolerances:
        return judged(item, value, tolerance=None, source=agreed.source, note=OWN_TOLERANCE)
    return found


def _pairs(items: dict[Place, ReceiptItem], measured: Measured) -> Iterator[Verdict]:
    """Right against left, beyond what was ordered."""
    for key, agreed in BENCH_TOLERANCES.items():
        places: tuple[tuple[str, Side], ...] = tuple((key, side) for side in SIDES)
        if agreed.pair_difference is None or not all(
            place in measured and place in items for place in places
        ):
            continue
        right, left = (items[place] for place in places)
        if right.ordered is None or left.ordered is None:
            continue
        item = ReceiptItem(
            key=f"{key}_pair",
            label=f"{right.label}, right less left",
            group=right.group,
            unit=right.unit,
            ordered=right.ordered - left.ordered,
        )
        value = measured[places[0]] - measured[places[1]]
        yield judged(item, value, tolerance=agreed.pair_difference, source=agreed.source)


def _named(item: ReceiptItem) -> str:
    words = item.label if item.group not in (POWER, PRISM) else item.label.partition(",")[0]
    return f"{words} {item.side}" if item.side else words

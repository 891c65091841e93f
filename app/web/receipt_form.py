"""The boxes in which a received pair is measured: what was typed, read as numbers, with a message where it
is none.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from app.catalogue.measurement import Range
from app.documents.order_rows import to_a_tenth
from app.documents.receipt_item import Measured, ReceiptItem
from app.fitting.details import Detail
from app.fitting.entry import NotUsable, show_number
from app.fitting.field_text import outside_sense, power_text, read_detail
from app.records.receipts import MeasuredValue, Receipt

SENSE = {"mm": Range(-60, 250), "deg": Range(-90, 180), "D": Range(-50, 50), "prism dioptres": Range(-60, 60)}
"""Outside this a typed number is a slip of the hand; ours."""
EXAMPLES = {"mm": "48.5", "deg": "12", "D": "-2.25", "prism dioptres": "0.5"}
UNIT_SHOWN = {"mm": "mm", "deg": "°", "D": "D", "prism dioptres": "Δ"}
SIGNED_POWERS = ("sphere", "cylinder", "add")


@dataclass(frozen=True, slots=True, kw_only=True)
class ReceiptBox:
    """One box: its name in the form, what was ordered, what stands in it, and what is wrong with it."""

    name: str
    item: ReceiptItem
    ordered: str
    unit: str
    text: str
    problem: str = ""


def box_name(item: ReceiptItem) -> str:
    """The name of an item's box in the form."""
    return f"m-{item.key}-{item.side or 'one'}"


def receipt_boxes(
    items: tuple[ReceiptItem, ...], receipt: Receipt, typed: Mapping[str, str], problems: Mapping[str, str]
) -> tuple[ReceiptBox, ...]:
    """Every box, with what was typed where it could not be used, else what is stored."""
    stored = {(value.item, value.side): value.text for value in receipt.values}
    return tuple(
        ReceiptBox(
            name=box_name(item),
            item=item,
            ordered="" if item.ordered is None else ordered_text(item),
            unit=UNIT_SHOWN[item.unit],
            text=typed.get(box_name(item), stored.get(item.place, "")),
            problem=problems.get(box_name(item), ""),
        )
        for item in items
    )


def ordered_text(item: ReceiptItem) -> str:
    """The ordered value as the sheet shows it."""
    if item.ordered is None:
        return ""
    if item.key in SIGNED_POWERS:
        return power_text(item.ordered).replace("-", "−")
    return show_number(to_a_tenth(item.ordered) if item.unit in ("mm", "deg") else item.ordered)


def read_receipt(
    items: tuple[ReceiptItem, ...], receipt: Receipt, typed: Mapping[str, str]
) -> tuple[list[MeasuredValue], dict[str, str]]:
    """What is new against what is stored, and a message for each box that is no number."""
    stored = {(value.item, value.side): value.text for value in receipt.values}
    values, problems = [], {}
    for item in items:
        name = box_name(item)
        text = typed.get(name, "").strip()
        if name not in typed or text == stored.get(item.place, ""):
            continue
        try:
            value = _read(item, text) if text else None
        except NotUsable as refusal:
            problems[name] = refusal.message
            continue
        values.append(MeasuredValue(item=item.key, side=item.side, value=value, text=text))
    return values, problems


def measured_of(receipt: Receipt) -> Measured:
    """The stored values by item and side."""
    return {(one.item, one.side): one.value for one in receipt.values if one.value is not None}


def _read(item: ReceiptItem, text: str) -> float:
    words = f"{item.label} {item.side or ''}".strip()
    detail = Detail(
        key=item.key,
        label=words,
        kind="power" if item.key in SIGNED_POWERS else "number",
        unit=item.unit if item.unit in ("mm", "deg", "D") else "",
        possible=SENSE[item.unit],
        example=EXAMPLES[item.unit],
    )
    value = read_detail(detail, text)
    refusal = outside_sense(detail, value)
    if refusal is not None or not isinstance(value, float):
        raise NotUsable(refusal or f"{words}: not a number.", EXAMPLES[item.unit])
    return value

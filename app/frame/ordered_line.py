"""From a number with its uncertainty to one line of an order."""

from collections.abc import Callable

from app.catalogue.catalogue import MEASUREMENTS
from app.catalogue.measurement import Side, Unit
from app.frame.needed import Needed, missing
from app.frame.ordered_dimension import AS_MEASURED, READING_SOURCE, Group, OrderedDimension

DECIMALS = 4
"""Readings are whole ten-thousandths; sums of them are brought back to that, free of binary noise."""


def ordered_line(
    needed: Needed,
    *,
    dimension: str,
    label: str,
    group: Group,
    unit: Unit,
    reference_line: str,
    basis: str,
    source: str,
    side: Side | None = None,
    facial: float | None = None,
    adjustment: float | None = None,
    words: Callable[[float], str] | None = None,
) -> OrderedDimension:
    """One line: the number as ordered, its uncertainty, or what is missing for it."""
    value = None if needed.value is None else round(needed.value, DECIMALS)
    low, high = needed.interval or (None, None)
    return OrderedDimension(
        dimension=dimension,
        label=label,
        group=group,
        unit=unit,
        side=side,
        facial=facial,
        adjustment=adjustment,
        ordered=value,
        basis=basis,
        source=source,
        reference_line=reference_line,
        words="" if value is None or words is None else words(value),
        missing=missing(needed),
        uncertainty=needed.uncertainty,
        low=low,
        high=high,
        dominated_by=needed.dominated_by,
        after_repeating=needed.after_repeating,
    )


def declared_line(
    needed: Needed,
    *,
    measurement: str,
    group: Group,
    basis: str,
    source: str,
    side: Side | None = None,
    dimension: str | None = None,
) -> OrderedDimension:
    """One line that has the label, unit and reference line of a measurement."""
    declared = MEASUREMENTS[measurement]
    return ordered_line(
        needed,
        dimension=dimension or measurement,
        label=declared.label,
        group=group,
        unit=declared.unit,
        side=side,
        basis=basis,
        source=source,
        reference_line=declared.reference_line,
    )


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
    ordered = facial
    if facial.value is not None:
        ordered = Needed(
            name=facial.name, value=facial.value + adjustment, count=facial.count, shares=facial.shares
        )
    return ordered_line(
        ordered,
        dimension=dimension or measurement,
        label=label or declared.label,
        group=group,
        unit=declared.unit,
        side=side,
        facial=facial.value,
        adjustment=adjustment,
        basis=" ".join(filter(None, (AS_MEASURED, because, repeats(facial)))),
        source=source,
        reference_line=reference_line or declared.reference_line,
        words=words,
    )


def repeats(facial: Needed) -> str:
    """How many readings a value was made from, where it was more than one."""
    return f"(from {facial.count} readings)" if facial.count > 1 else ""

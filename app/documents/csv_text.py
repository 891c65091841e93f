"""Readings and orders as CSV for a spreadsheet, safe against text that a spreadsheet would run as a formula.

Quoting as RFC 4180. A text that begins with =, +, -, @, a tab or a line break gets an apostrophe before it
(OWASP, CSV injection); a number is written by us alone and stays a number.
"""

from collections.abc import Iterable, Sequence

from app.catalogue.catalogue import MEASUREMENTS
from app.documents.signed_order import SignedOrder
from app.fitting.field_text import number_text
from app.fitting.fitting import Fitting
from app.fitting.reading import Reading

Cell = str | float | int | None
DANGEROUS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
"""The last four are the full-width forms, which some spreadsheets take for the same."""
END = "\r\n"
READING_COLUMNS = (
    *(
        "reference",
        "taken_on",
        "measurement",
        "label",
        "side",
        "pair",
        "value",
        "unit",
        "method",
        "condition",
    ),
    *("instrument", "by", "role", "state", "note"),
)
ORDER_COLUMNS = (
    *("order", "version", "signed_at", "pair", "group", "dimension", "label", "side", "facial", "adjustment"),
    *("ordered", "uncertainty", "unit", "words", "basis", "missing"),
)


def csv_text(columns: Sequence[str], rows: Iterable[Sequence[Cell]]) -> str:
    """A table as CSV with a heading line.

    >>> csv_text(("note", "value"), [("=1+1", -2.5)])
    "note,value\\r\\n'=1+1,-2.5\\r\\n"
    """
    lines = [columns, *rows]
    return "".join(",".join(_cell(cell) for cell in line) + END for line in lines)


def readings_csv(fittings: Iterable[Fitting]) -> str:
    """Every reading of these fittings, those replaced or entered in error too, with their state."""
    return csv_text(READING_COLUMNS, (row for fitting in fittings for row in _readings(fitting)))


def orders_csv(orders: Iterable[SignedOrder]) -> str:
    """Every ordered dimension of signed orders."""
    return csv_text(ORDER_COLUMNS, (row for order in orders for row in _order(order)))


def _readings(fitting: Fitting) -> Iterable[tuple[Cell, ...]]:
    replaced = {reading.replaces for reading in fitting.readings}
    return (_reading(fitting, one, replaced) for one in fitting.readings)


def _reading(fitting: Fitting, one: Reading, replaced: set[str | None]) -> tuple[Cell, ...]:
    declared = MEASUREMENTS[one.measurement]
    state = "counts"
    if one.entered_in_error is not None:
        state = "entered in error"
    elif one.identity is not None and one.identity in replaced:
        state = "replaced"
    elif one.proposed and one.accepted_by is None:
        state = "proposed"
    return (
        *(fitting.person.reference, fitting.taken.on, one.measurement, declared.label, one.side, one.pair),
        *(
            one.value,
            declared.unit,
            one.method,
            one.condition,
            one.instrument,
            one.by,
            one.role,
            state,
            one.note,
        ),
    )


def _order(order: SignedOrder) -> Iterable[tuple[Cell, ...]]:
    head = (order.number, order.signed.version, order.signed.at, order.pair.pair)
    for line in order.lines:
        yield (
            *(*head, line.group, line.dimension, line.label, line.side, line.facial, line.adjustment),
            *(line.ordered, line.uncertainty, line.unit, line.words, line.basis, "; ".join(line.missing)),
        )


def _cell(cell: Cell) -> str:
    if cell is None:
        return ""
    if isinstance(cell, int):
        return str(cell)
    if isinstance(cell, float):
        return number_text(round(cell, 4) + 0.0)
    safe = f"'{cell}" if cell.lstrip(" ").startswith(DANGEROUS) else cell
    return '"' + safe.replace('"', '""') + '"' if any(mark in safe for mark in '",\r\n') else safe

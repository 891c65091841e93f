"""CSV for a spreadsheet: numbers stay numbers, and no text is run as a formula."""

import csv
import io
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.documents.csv_text import (
    DANGEROUS,
    ORDER_COLUMNS,
    READING_COLUMNS,
    csv_text,
    orders_csv,
    readings_csv,
)
from tests.documents.orders import demo, signed_order


def rows(text: str) -> list[dict[str, str]]:
    """The table as a spreadsheet reads it."""
    return list(csv.DictReader(io.StringIO(text, newline="")))


@pytest.mark.parametrize(
    "text", ["=1+1", "+1", "-1+2", "@SUM(A1)", "\t=1", "\r=1", "  =1", "=cmd|' /C calc'!A0", "＝1"]
)
def test_a_text_that_a_spreadsheet_would_run_is_disarmed(text: str) -> None:
    """The beginnings that OWASP names: https://owasp.org/www-community/attacks/CSV_Injection."""
    cell = rows(csv_text(("note",), [(text,)]))[0]["note"]
    assert cell == f"'{text}"


@given(st.text(st.characters(exclude_categories=("Cs",), exclude_characters="\0"), max_size=30))
def test_no_text_begins_as_a_formula_and_none_is_lost(text: str) -> None:
    cells = list(csv.reader(io.StringIO(csv_text(("a", "b"), [(text, "end")]), newline="")))[1]
    assert not cells[0].startswith(DANGEROUS)
    assert cells[0].removeprefix("'") == text.removeprefix("'") or cells[0] == text
    assert cells[1] == "end"


def test_readings_are_numbers_and_notes_are_harmless() -> None:
    fitting = demo()
    first, *others = fitting.readings
    fitting = replace(fitting, readings=(replace(first, value=-2.5, note="=HYPERLINK(1)"), *others))
    table = rows(readings_csv([fitting]))
    assert tuple(table[0]) == READING_COLUMNS
    assert len(table) == len(fitting.readings)
    assert table[0]["value"] == "-2.5"
    assert table[0]["note"] == "'=HYPERLINK(1)"
    assert all(float(one["value"]) is not None for one in table)


def test_replaced_readings_are_told_from_those_that_count() -> None:
    first, second, *others = demo().readings
    readings = (replace(first, identity="a"), replace(second, replaces="a", identity="b"), *others)
    table = rows(readings_csv([replace(demo(), readings=readings)]))
    assert [one["state"] for one in table[:2]] == ["replaced", "counts"]


def test_orders_carry_facial_value_adjustment_and_ordered_value_as_numbers() -> None:
    table = rows(orders_csv([signed_order(), signed_order(number=2)]))
    assert tuple(table[0]) == ORDER_COLUMNS
    width = next(one for one in table if (one["dimension"], one["pair"]) == ("head_width", "1"))
    assert (width["facial"], width["adjustment"], width["ordered"]) == ("148", "-5", "143")
    assert {one["pair"] for one in table} == {"1", "2"}


def test_the_same_orders_give_the_same_bytes() -> None:
    assert orders_csv([signed_order()]) == orders_csv([signed_order()])
    assert readings_csv([demo()]) == readings_csv([demo()])

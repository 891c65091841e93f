"""JSON text in which decimals keep their figures: 2.00 stays 2.00, as FHIR asks of prescriptions."""

import json
from decimal import Decimal

Json = bool | int | str | Decimal | list["Json"] | dict[str, "Json"] | None
"""A JSON value. Numbers with decimals are Decimal."""

_STEP = "  "


def json_text(value: Json) -> str:
    """The value as indented JSON text, ending with a line break; the same value gives the same bytes.

    >>> print(json_text({"sphere": Decimal("-2.00"), "eye": "right"}), end="")
    {
      "sphere": -2.00,
      "eye": "right"
    }
    """
    return _written(value, "\n") + "\n"


def _written(value: Json, start: str) -> str:
    if isinstance(value, Decimal):
        return f"{value:f}"
    if isinstance(value, list):
        return _enclosed("[]", [_written(item, start + _STEP) for item in value], start)
    if isinstance(value, dict):
        members = [f"{_quoted(key)}: {_written(item, start + _STEP)}" for key, item in value.items()]
        return _enclosed("{}", members, start)
    return _quoted(value)


def _enclosed(brackets: str, items: list[str], start: str) -> str:
    if not items:
        return brackets
    inner = start + _STEP
    return f"{brackets[0]}{inner}{f',{inner}'.join(items)}{start}{brackets[1]}"


def _quoted(value: bool | int | str | None) -> str:
    return json.dumps(value, ensure_ascii=False)

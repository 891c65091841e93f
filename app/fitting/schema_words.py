"""The small words of JSON Schema from which the published schemas are put together."""

from collections.abc import Iterable
from typing import Any

from app.catalogue.choice import Choice
from app.fitting.details import Detail
from app.fitting.file_value import (
    DAY_PATTERN,
    GREATEST_NUMBER,
    LONGEST_NAME,
    LONGEST_TEXT,
    MOMENT_PATTERN,
)

Schema = dict[str, Any]
"""A JSON Schema, draft 2020-12."""

DIALECT = "https://json-schema.org/draft/2020-12/schema"
WORDS: Schema = {"type": "string", "pattern": r"\S", "maxLength": LONGEST_TEXT}
NAME: Schema = WORDS | {"maxLength": LONGEST_NAME}
NUMBER: Schema = {"type": "number", "minimum": -GREATEST_NUMBER, "maximum": GREATEST_NUMBER}
FLAG: Schema = {"type": "boolean"}
DAY: Schema = {"type": "string", "format": "date", "pattern": DAY_PATTERN}
MOMENT: Schema = {"type": "string", "pattern": MOMENT_PATTERN}
NOTHING: Schema = {"type": "null"}


def one_of(options: Iterable[object]) -> Schema:
    """One of these values."""
    return {"enum": list(options)}


def listed(entries: Schema, *, most: int | None = None) -> Schema:
    """A list of such entries."""
    return {"type": "array", "items": entries} | ({} if most is None else {"maxItems": most})


def closed_object(
    *, required: dict[str, Schema] | None = None, optional: dict[str, Schema] | None = None
) -> Schema:
    """An object with these members and no others; null stands for an optional member that is left out."""
    required, optional = required or {}, optional or {}
    return {
        "type": "object",
        "properties": required | {key: or_null(schema) for key, schema in optional.items()},
        "required": list(required),
        "additionalProperties": False,
    }


def or_null(schema: Schema) -> Schema:
    """Such a value, or null."""
    return {"anyOf": [schema, NOTHING]}


def described(schema: Schema, words: str) -> Schema:
    """The same schema with words for people."""
    return schema | {"description": words}


def of_detail(detail: Detail) -> Schema:
    """The schema of one single-valued detail."""
    limits = detail.in_file
    number = NUMBER if limits is None else NUMBER | {"minimum": limits.low, "maximum": limits.high}
    by_kind: dict[str, Schema] = {
        "words": WORDS,
        "number": number,
        "power": number,
        "yes_no": FLAG,
        "date": DAY,
        "one_of": one_of(detail.options),
    }
    unit = f", {detail.unit}" if detail.unit else ""
    return described(by_kind[detail.kind], f"{detail.label}{unit}")


def of_details(details: Iterable[Detail]) -> dict[str, Schema]:
    """The schemas of details by key."""
    return {detail.key: of_detail(detail) for detail in details}


def of_question(choice: Choice) -> Schema:
    """The schema of the answer to one of the catalogue's questions."""
    options = [key for key, _ in choice.options]
    if not options:
        return described(WORDS, choice.label)
    if not choice.several:
        return described(one_of(options), choice.label)
    one = "|".join(options)
    return described({"type": "string", "pattern": rf"^\s*({one})\s*(,\s*({one})\s*)*$"}, choice.label)


def any_case(words: str) -> str:
    """A pattern of the words in capitals or small letters, since patterns of a schema have no flags.

    >>> any_case("in.")
    '[iI][nN][.]'
    """
    return "".join(
        f"[{letter}{letter.upper()}]" if letter.isalpha() else f"[{letter}]" if letter == "." else letter
        for letter in words
    )

"""JSON text of files and of what callers send, read so that whatever is wrong in it is named with its place."""

import json
from dataclasses import dataclass
from typing import Any

from app.fitting.file_place import entry_place, member_place
from app.fitting.file_value import NotAFitting

LONGEST_NUMBER = 400
"""Figures of one whole number; ours, far beyond any number of a fitting."""


@dataclass(frozen=True, slots=True)
class _Wrong:
    """What stands where something cannot be read; `key` where it is a member of the object that stands there."""

    reason: str
    key: str | None = None


def read_json_text(text: str | bytes, *, whole: str) -> Any:
    """The document in a JSON text (UTF-8). Raises NotAFitting with the place; `whole` names the document itself."""
    try:
        decoded = text if isinstance(text, str) else text.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise NotAFitting(whole, f"is not UTF-8 text at byte {error.start}") from None
    try:
        document = json.loads(
            decoded, object_pairs_hook=_object, parse_constant=_no_constant, parse_int=_whole_number
        )
        _refuse_wrong(document, "", whole)
    except json.JSONDecodeError as error:
        raise NotAFitting(f"line {error.lineno}, column {error.colno}", f"is not JSON: {error.msg}") from None
    except RecursionError:
        raise NotAFitting(whole, "is nested too deeply") from None
    return document


def _object(pairs: list[tuple[str, Any]]) -> Any:
    document = dict(pairs)
    if len(document) == len(pairs):
        return document
    keys = [key for key, _ in pairs]
    return _Wrong("is there twice in one object", next(key for key in keys if keys.count(key) > 1))


def _no_constant(name: str) -> _Wrong:
    return _Wrong(f"is {name}, which is no number in JSON")


def _whole_number(figures: str) -> int | _Wrong:
    return int(figures) if len(figures) <= LONGEST_NUMBER else _Wrong("is a number that is too long")


def _refuse_wrong(part: Any, place: str, whole: str) -> None:
    if isinstance(part, _Wrong):
        where = place if part.key is None else member_place(place, part.key)
        raise NotAFitting(where or whole, part.reason)
    if isinstance(part, dict):
        for key, value in part.items():
            _refuse_wrong(value, member_place(place, key), whole)
    if isinstance(part, list):
        for index, value in enumerate(part):
            _refuse_wrong(value, entry_place(place, index), whole)

"""The practice's settings: one document with a version, every version kept."""

import json
from dataclasses import asdict, fields
from typing import Any

from sqlalchemy import Connection, insert, select

from app.practice.settings import Adjustments, PracticeSettings
from app.records.actor import Actor
from app.records.database import Database
from app.records.errors import Conflict
from app.records.field_value import FieldValue
from app.records.identity import now
from app.records.requests import Answer, Request, write_once
from app.records.rights import require
from app.records.tables.practice import SETTINGS_VERSION

_NEWEST = select(SETTINGS_VERSION).order_by(SETTINGS_VERSION.c.number.desc()).limit(1)


def load_settings(database: Database) -> PracticeSettings:
    """The settings that hold now; the defaults where nobody has set anything."""
    return load_settings_version(database)[0]


def load_settings_version(database: Database) -> tuple[PracticeSettings, int]:
    """The settings that hold now, and their version for the next save (0: the defaults)."""
    with database.read() as connection:
        row = connection.execute(_NEWEST).first()
    if row is None:
        return PracticeSettings(), 0
    return settings_of(json.loads(row.document)), int(row.number)


def save_settings(
    database: Database, *, key: str, actor: Actor, settings: PracticeSettings, base_version: int
) -> int:
    """Save the settings that were made from `base_version`; gives the new version.

    Raises Conflict with the settings that somebody changed meanwhile to something else.
    """
    require(actor, "change the practice's settings")
    document = json.dumps(asdict(settings), ensure_ascii=False)
    wish = Request(key=key, actor=actor, action="save_settings", body=[document, base_version])

    def work(connection: Connection) -> Answer:
        newest = connection.execute(_NEWEST).first()
        number = int(newest.number) if newest is not None else 0
        there = settings_of(json.loads(newest.document)) if newest is not None else PracticeSettings()
        if there == settings:
            return {"version": number}
        if number != base_version:
            by, at = (newest.by, newest.at) if newest is not None else ("", "")
            raise Conflict(_differences(there, settings, version=number, by=by, at=at))
        row = {"number": number + 1, "document": document, "account": actor.account}
        connection.execute(insert(SETTINGS_VERSION), {**row, "by": actor.name, "at": now()})
        return {"version": number + 1}

    return int(write_once(database, wish, work).answer["version"])


def settings_of(document: dict[str, Any]) -> PracticeSettings:
    """Settings from a stored document: defaults where it names nothing, without what we no longer know."""
    known = {field.name for field in fields(PracticeSettings)}
    values = {name: value for name, value in document.items() if name in known}
    adjustments = {field.name for field in fields(Adjustments)}
    stored = values.pop("adjustments", {})
    given = {name: value for name, value in stored.items() if name in adjustments}
    lists = {name: _as_tuple(value) for name, value in values.items() if isinstance(value, list)}
    return PracticeSettings(**{**values, **lists, "adjustments": Adjustments(**given)})


def _as_tuple(stored: list[Any]) -> tuple[Any, ...]:
    """A stored list as it is in the settings; lists within it too, so that equal settings compare as equal."""
    return tuple(_as_tuple(one) if isinstance(one, list) else one for one in stored)


def _differences(
    there: PracticeSettings, mine: PracticeSettings, *, version: int, by: str, at: str
) -> dict[str, FieldValue]:
    stands, sent = _flat(asdict(there)), _flat(asdict(mine))
    return {
        name: FieldValue(str(stands[name]), version, by, at) for name in stands if stands[name] != sent[name]
    }


def _flat(document: dict[str, Any]) -> dict[str, Any]:
    adjustments = {f"adjustments.{name}": value for name, value in document["adjustments"].items()}
    return {name: value for name, value in document.items() if name != "adjustments"} | adjustments

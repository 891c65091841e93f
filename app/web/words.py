"""Filters for templates: how values, dates and people are written for people."""

from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

from app.documents.written import day as day
from app.documents.written import number as number
from app.documents.written import power as power


def moment(text: str | None) -> str:
    """A stored moment (UTC, ISO 8601) as local day and time."""
    if not text:
        return ""
    then = datetime.fromisoformat(text)
    if then.tzinfo is None:
        then = then.replace(tzinfo=UTC)
    local = then.astimezone()
    return f"{day(local.date().isoformat())} {local:%H:%M}"


def tenth(value: float | None) -> str:
    """A measured or worked-out value for people: at most two decimals, real minus sign; a dash for nothing."""
    return number(None if value is None else round(value, 2) + 0.0)


def signed(value: float | None) -> str:
    """A difference with its sign."""
    text = tenth(value)
    return f"+{text}" if value is not None and round(value, 2) > 0 else text


FILTERS: dict[str, Callable[..., Any]] = {
    "day": day,
    "moment": moment,
    "number": number,
    "power": power,
    "tenth": tenth,
    "signed": signed,
}

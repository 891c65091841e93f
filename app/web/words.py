"""Filters for templates: how values, dates and people are written for people."""

from collections.abc import Callable
from datetime import UTC, date, datetime
from typing import Any

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def day(text: str | None) -> str:
    """2026-10-02 as 02-Oct-2026; nothing for nothing."""
    if not text:
        return ""
    then = date.fromisoformat(text[:10])
    return f"{then.day:02d}-{MONTHS[then.month - 1]}-{then.year}"


def moment(text: str | None) -> str:
    """A stored moment (UTC, ISO 8601) as local day and time."""
    if not text:
        return ""
    then = datetime.fromisoformat(text)
    if then.tzinfo is None:
        then = then.replace(tzinfo=UTC)
    local = then.astimezone()
    return f"{day(local.date().isoformat())} {local:%H:%M}"


def number(value: float | None) -> str:
    """A number for people: real minus sign, no trailing zeros; a dash for nothing."""
    if value is None:
        return "–"
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return ("0" if text == "-0" else text).replace("-", "\u2212")


def power(value: float | None) -> str:
    """A lens power with its sign and two decimals."""
    if value is None:
        return "–"
    return f"{value:+.2f}".replace("-", "\u2212")


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

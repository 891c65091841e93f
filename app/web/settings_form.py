"""The forms of the practice's own choices: reading them, with a message beside each box that cannot be right."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from app.fitting.written_number import NotWritten, read_written_number
from app.practice.adjustment_fields import ADJUSTMENT_FIELDS, DAYS_FIELDS, AdjustmentField, DaysField
from app.practice.settings import PracticeSettings
from app.web.person_form import telephone_problem

LONGEST_NAME = 100
TICKED = "yes"


@dataclass(frozen=True, slots=True, kw_only=True)
class SettingsForm:
    """What was typed, the problem of each box that has one, and the settings where nothing is wrong."""

    text: dict[str, str]
    problems: dict[str, str] = field(default_factory=dict)
    settings: PracticeSettings | None = None


def written(value: float) -> str:
    """A number as it stands in a box."""
    return f"{value:g}"


def practice_form(settings: PracticeSettings) -> SettingsForm:
    """Name, telephone, ways of working and time limits as they stand."""
    text = {
        "name": settings.name,
        "telephone": settings.telephone,
        "second_reading_blind": TICKED if settings.second_reading_blind else "",
    }
    text |= {days.key: str(getattr(settings, days.key)) for days in DAYS_FIELDS}
    return SettingsForm(text=text, settings=settings)


def read_practice(typed: Mapping[str, str], stands: PracticeSettings) -> SettingsForm:
    """The settings with name, telephone, ways of working and time limits as typed."""
    text = {key: typed.get(key, "").strip() for key in practice_form(stands).text}
    problems: dict[str, str] = {}
    days: dict[str, Any] = {}
    if not text["name"] or len(text["name"]) > LONGEST_NAME:
        problems["name"] = f"Name of the practice: please fill this in, with at most {LONGEST_NAME} letters."
    if text["telephone"] and (words := telephone_problem(text["telephone"])):
        problems["telephone"] = words
    for one in DAYS_FIELDS:
        try:
            days[one.key] = read_days(one, text[one.key])
        except ValueError as error:
            problems[one.key] = str(error)
    if problems:
        return SettingsForm(text=text, problems=problems)
    blind = text["second_reading_blind"] == TICKED
    changed = replace(
        stands, name=text["name"], telephone=text["telephone"], second_reading_blind=blind, **days
    )
    return SettingsForm(text=text, settings=changed)


def read_days(days: DaysField, text: str) -> int:
    """A whole number of days in its range; ValueError in words."""
    if not (text.isdecimal() and len(text) <= 5 and days.low <= int(text) <= days.high):
        raise ValueError(f"{days.label}: a whole number of days from {days.low} to {days.high}, please.")
    return int(text)


def adjustments_form(settings: PracticeSettings) -> SettingsForm:
    """Each adjustment as it stands."""
    text = {one.key: written(getattr(settings.adjustments, one.key)) for one in ADJUSTMENT_FIELDS}
    return SettingsForm(text=text, settings=settings)


def read_adjustments(typed: Mapping[str, str], stands: PracticeSettings) -> SettingsForm:
    """The settings with the adjustments as typed; a box left empty takes the default."""
    text = {one.key: typed.get(one.key, "").strip() for one in ADJUSTMENT_FIELDS}
    problems: dict[str, str] = {}
    values: dict[str, float] = {}
    for one in ADJUSTMENT_FIELDS:
        try:
            values[one.key] = read_adjustment(one, text[one.key]) if text[one.key] else one.default_mm
        except ValueError as error:
            problems[one.key] = str(error)
    if problems:
        return SettingsForm(text=text, problems=problems)
    return SettingsForm(
        text=text, settings=replace(stands, adjustments=replace(stands.adjustments, **values))
    )


def read_adjustment(one: AdjustmentField, text: str) -> float:
    """An adjustment in mm within its range; ValueError in words."""
    example = f"Example: {written(one.default_mm)}."
    try:
        number = read_written_number(text)
    except NotWritten as reason:
        raise ValueError(f"{one.label}: “{text}” {reason}. {example}") from None
    if number.unit not in (None, "mm") or number.words:
        raise ValueError(f"{one.label}: write it in mm. {example}")
    value_mm = float(-number.number if number.sign == "-" else number.number)
    if not one.holds(value_mm):
        allowed = f"{written(one.low_mm)} to {written(one.high_mm)} mm"
        raise ValueError(f"{one.label}: {text} is outside {allowed}. {example}")
    if round(value_mm * 100) != value_mm * 100:
        raise ValueError(f"{one.label}: at most two decimals. {example}")
    return value_mm


@dataclass(frozen=True, slots=True)
class Merged:
    """What was typed, with what others changed in other boxes; and words for each box that two people changed."""

    typed: dict[str, str]
    clashes: dict[str, str]


def merged(typed: Mapping[str, str], stands: Mapping[str, str]) -> Merged:
    """Bring what was typed together with what stands now; `was.<box>` is what stood when the form was shown."""
    both, clashes = dict(typed), {}
    for key, now in stands.items():
        before, mine = typed.get(f"was.{key}", now), typed.get(key, "").strip()
        if before == now or mine == now:
            continue
        if mine == before:
            both[key] = now
        else:
            shown_now = now or "nothing"
            clashes[key] = (
                f"Somebody else set this to “{shown_now}” meanwhile. Store again if yours is right."
            )
    return Merged(both, clashes)

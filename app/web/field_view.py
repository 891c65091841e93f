"""One field as shown: its label, how it is answered, its text and version, and what is wrong with it."""

from dataclasses import dataclass

from app.catalogue.choice import Choice
from app.catalogue.choices import CHOICES
from app.catalogue.choices_person import YES_NO
from app.fitting.details import Detail
from app.fitting.field_paths import detail_at
from app.records.field_value import FieldValue


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldBox:
    """A field of a form."""

    path: str
    label: str
    kind: str
    """chips, ticks, number, date or words."""
    options: tuple[tuple[str, str], ...] = ()
    text: str = ""
    stored: str = ""
    """What the form was served with: tells a change from a page that has grown old."""
    version: int = 0
    unit: str = ""
    hint: str = ""
    example: str = ""
    signed: bool = False
    required: bool = False
    problem: str = ""

    @property
    def identity(self) -> str:
        """The path as an element's id."""
        return self.path.replace(".", "-")

    @property
    def answers(self) -> tuple[str, ...]:
        """The ticked answers of a question that takes several."""
        return tuple(self.text.split(",")) if self.text else ()


def choice_at(path: str) -> Choice | None:
    """The question that a path answers, where it is one of the catalogue's."""
    detail = detail_at(path)
    if isinstance(detail, Choice):
        return detail
    steps = path.split(".")
    key = f"segment_{steps[-1]}" if steps[-2] == "segment" else steps[-1]
    return CHOICES.get(key)


def field_box(
    path: str, fields: dict[str, FieldValue], typed: str | None = None, problem: str = ""
) -> FieldBox:
    """The field at a path, with what is stored, or what was typed where that could not be used."""
    detail, choice, value = detail_at(path), choice_at(path), fields.get(path)
    stored = (value.text or "") if value else ""
    declared = detail if isinstance(detail, Detail) else None
    options, kind = _answering(declared, choice)
    return FieldBox(
        path=path,
        label=choice.label if choice else detail.label,
        kind=kind,
        options=options,
        text=stored if typed is None else typed,
        stored=stored,
        version=value.version if value else 0,
        unit=_unit(declared, choice),
        hint=choice.hint if choice else "",
        example=declared.example if declared else "",
        signed=bool(declared and declared.possible and declared.possible.low < 0),
        required=bool(choice and choice.required),
        problem=problem,
    )


def _unit(detail: Detail | None, choice: Choice | None) -> str:
    """The unit, unless the label names it already."""
    unit = detail.unit if detail else ""
    return "" if choice is not None and f"({unit})" in choice.label else unit


def _answering(detail: Detail | None, choice: Choice | None) -> tuple[tuple[tuple[str, str], ...], str]:
    """The answers to choose from, and the kind of control."""
    if choice is not None and choice.options:
        return choice.options, "ticks" if choice.several else "chips"
    if detail is not None and detail.kind == "one_of":
        return tuple((option, option.replace("_", " ")) for option in detail.options), "chips"
    if detail is not None and detail.kind == "yes_no":
        return YES_NO, "chips"
    if detail is not None and detail.kind in ("number", "power"):
        return (), "number"
    return (), "date" if detail is not None and detail.kind == "date" else "words"

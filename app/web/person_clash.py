"""Two people changed the same details of a person: what each wrote, to be chosen from."""

from dataclasses import dataclass

from app.records.errors import Conflict
from app.records.people import PersonRecord
from app.web.person_form import LABELS, PersonForm, shown, texts_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Clash:
    """One detail with both values, as they stand in a box and as they read."""

    key: str
    label: str
    mine: str
    theirs: str
    mine_shown: str
    theirs_shown: str
    by: str
    at: str


def clashes_of(error: Conflict, form: PersonForm, stands: PersonRecord) -> tuple[Clash, ...]:
    """Both values of each detail that two people changed."""
    theirs = texts_of(stands.details)
    return tuple(
        Clash(
            key=key,
            label=LABELS[key],
            mine=form.text[key],
            theirs=theirs[key],
            mine_shown=shown(key, form.text[key]),
            theirs_shown=shown(key, theirs[key]),
            by=value.by,
            at=value.at,
        )
        for key, value in error.fields.items()
    )


def with_their_other_changes(form: PersonForm, base: PersonRecord, stands: PersonRecord) -> PersonForm:
    """The form with what the other person changed where this one changed nothing, so that nothing is undone."""
    before, now = texts_of(base.details), texts_of(stands.details)
    mine = texts_of(form.details) if form.details is not None else form.text
    text = {key: now[key] if mine[key] == before[key] else form.text[key] for key in form.text}
    return PersonForm(text=text, problems=form.problems, details=form.details)

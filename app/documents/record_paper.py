"""The patient record on one page: every working value, the cover test, the prescription, what was chosen, and open
findings. It belongs to the patient's file, not to the bench.
"""

from collections.abc import Iterable, Iterator

from app.catalogue.catalogue import MEASUREMENTS
from app.catalogue.conditions import CONDITIONS
from app.catalogue.measurement import SIDE_WORDS, UNIT_WORDS, Measurement
from app.catalogue.reasons import REASONS
from app.documents.answer_words import cover_words, eye_rows, history_said, pair_said
from app.documents.order_paper import Paper, eye_cells
from app.documents.printed import to_pdf
from app.documents.written import day, number
from app.fitting.entry import show_number
from app.fitting.fitting import Fitting
from app.fitting.working import WorkingValue
from app.plausibility.judgement import Judgement

SEX_WORDS = {"F": "female", "M": "male"}


def record(fitting: Fitting, judgement: Judgement, *, practice: str = "", paper: Paper = "a4") -> bytes:
    """The record as one page; the print is set smaller where there is much to say, and nothing is cut off."""
    data = {
        "title": f"Record {fitting.person.reference}",
        "paper": paper,
        "reference": fitting.person.reference,
        "head": list(_head(fitting, practice)),
        "readings": list(_readings(judgement.working)),
        "cover": [
            _said(words, cover_words(one) or "not tested")
            for words, one in (("Far", fitting.cover_test.distance), ("Near", fitting.cover_test.near))
        ],
        "eyes": [eye_cells(eye) for eye in eye_rows(fitting.prescription)],
        "prescription": _prescription(fitting),
        "pairs": [
            {"pair": pair.pair, "said": [_said(one.label, one.words) for one in pair_said(pair)]}
            for pair in fitting.pairs
        ],
        "history": [_said(one.label, one.words) for one in history_said(fitting)],
        "gaps": list(_gaps(fitting)),
        "findings": [
            _said(finding.severity.value, f"{finding.message} {finding.suggest}".strip())
            for finding in judgement.findings
        ],
    }
    return to_pdf("record.typ", data)


def _said(label: str, words: str) -> dict[str, str]:
    return {"label": label, "words": words}


def _head(fitting: Fitting, practice: str) -> Iterator[dict[str, str]]:
    person, taken = fitting.person, fitting.taken
    age = fitting.age
    born = f"{day(person.born)}{f' (aged {age})' if age is not None else ''}" if person.born else "not given"
    yield _said("Reference", person.reference)
    yield _said("Born", born)
    yield _said("Sex", SEX_WORDS.get(person.sex or "", "not stated"))
    yield _said("Measured", day(taken.on))
    yield _said("By", ", ".join(part for part in (taken.by, taken.role) if part) or "not named")
    if taken.supervisor:
        yield _said("Registered practitioner present", taken.supervisor)
    if person.registered_sight_impaired:
        yield _said("Registered sight impaired", "yes")
    if practice:
        yield _said("Practice", practice)


def _readings(working: Iterable[WorkingValue]) -> Iterator[list[str]]:
    """One row for each measurement, pair, method and condition, in the order of the catalogue."""
    rows: dict[tuple[str, int | None, str | None, str | None], dict[str, WorkingValue]] = {}
    for value in working:
        key = (value.measurement, value.pair, value.method, value.condition)
        rows.setdefault(key, {})[value.side or ""] = value
    order = {name: place for place, name in enumerate(MEASUREMENTS)}
    for key in sorted(rows, key=lambda one: (order[one[0]], one[1] or 0, one[2] or "", one[3] or "")):
        declared, sides = MEASUREMENTS[key[0]], rows[key]
        yield [
            _name(declared, *key[1:]),
            *(_value(sides.get(side)) for side in ("R", "", "L")),
            UNIT_WORDS[declared.unit],
            _repeats(sides.values()),
        ]


def _name(declared: Measurement, pair: int | None, method: str | None, condition: str | None) -> str:
    by = declared.method(method)
    parts = (
        f"pair {pair}" if pair else "",
        by.label.lower() if by is not None else "",
        CONDITIONS.get(condition or "", "").lower(),
    )
    said = ", ".join(part for part in parts if part)
    return f"{declared.label} ({said})" if said else declared.label


def _value(value: WorkingValue | None) -> str:
    return "" if value is None else show_number(value.value)


def _repeats(values: Iterable[WorkingValue]) -> str:
    """How many readings, and how far apart, where there was more than one."""
    told = [f"{value.count}, {show_number(value.spread)} apart" for value in values if value.count > 1]
    return "; ".join(dict.fromkeys(told))


def _prescription(fitting: Fitting) -> str:
    written = fitting.prescription
    if written is None:
        return "No prescription."
    by = written.prescriber or "prescriber not named"
    return f"{day(written.written) or 'no date'}, {by}; tested at {number(written.tested_at_mm)} mm."


def _gaps(fitting: Fitting) -> Iterator[dict[str, str]]:
    for gap in fitting.not_taken:
        declared = MEASUREMENTS.get(gap.measurement)
        label = declared.label if declared is not None else gap.measurement.replace("_", " ")
        name = f"{label}, {SIDE_WORDS[gap.side]}" if gap.side else label
        reason = REASONS.get(gap.reason, gap.reason)
        yield _said(name, f"{reason}: {gap.detail}" if gap.detail else reason)

"""What a step page shows, gathered from the fitting, its judgement and the catalogue."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from app.catalogue.measurement import Measurement
from app.catalogue.reasons import REASONS
from app.catalogue.step import Step
from app.fitting.entry import in_words, show_value
from app.fitting.reading import NotTaken, Reading
from app.fitting.working import WorkingValue, counting, current_readings, waits
from app.plausibility.finding import Finding, Subject
from app.web.box import BoxKey, boxes_of, pair_of
from app.web.chair import SAID_AT_REVIEW, Chair
from app.web.screens import Screen

SEVERITY_ORDER = ("refer", "stop", "ask", "note")
SEVERITY_WORDS = {"note": "Note", "ask": "Please check", "stop": "Cannot stand", "refer": "Pause"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """One box as shown."""

    key: BoxKey
    place: str
    """R, L, or the method: what tells this box from its neighbours."""
    value: str = ""
    small: str = ""
    """Second line: how many readings, spread, reason, who proposed it."""
    state: str = "open"
    """open, done, proposed, not_taken, hidden."""
    worst: str = ""
    worst_words: str = ""
    armed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One measurement and its boxes."""

    measurement: Measurement
    boxes: tuple[Box, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """One reading already in a box, as listed beside the armed entry."""

    reading: Reading
    value: str
    standing: bool
    """False where it was entered in error or replaced."""
    typed: str
    """What was typed, where that differs from the value shown."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """One finding beside the entry, with whether it has been answered."""

    finding: Finding
    label: str
    open: bool
    answer: str = ""

    @property
    def now(self) -> str:
        """What to do now; what it costs later stands on the check's own page."""
        return self.finding.suggest.partition(" If ignored:")[0]


def measurements_of(step: Step, screen: Screen) -> tuple[Measurement, ...]:
    """The measurements on this screenful."""
    return tuple(measurement for measurement in step.measurements if measurement.key in screen.holds)


def box_keys(step: Step, screen: Screen) -> tuple[BoxKey, ...]:
    """The boxes of this screenful in reading order."""
    return tuple(key for measurement in measurements_of(step, screen) for key in boxes_of(measurement))


def fits(key: BoxKey, subject: Subject | WorkingValue | Reading | NotTaken) -> bool:
    """True where the subject, value or reading belongs in the box."""
    if subject.measurement != key.measurement.key or subject.side != key.side:
        return False
    method = getattr(subject, "method", None)
    if key.method is not None and method is not None and method != key.method:
        return False
    return subject.pair in (None, pair_of(key.measurement))


def readings_in(chair: Chair, key: BoxKey) -> tuple[Reading, ...]:
    """Every reading ever taken in a box, in order."""
    return tuple(reading for reading in chair.fitting.readings if fits(key, reading))


def standing_in(chair: Chair, key: BoxKey) -> tuple[Reading, ...]:
    """The readings of a box that count."""
    return tuple(
        reading for reading in chair.standing.get((key.measurement.key, key.side), ()) if fits(key, reading)
    )


def not_taken_in(chair: Chair, key: BoxKey) -> NotTaken | None:
    """The reason why a box was left out, if it was."""
    whole = BoxKey(key.measurement)
    found = [
        gap for gap in chair.fitting.not_taken if fits(key, gap) or (gap.side is None and fits(whole, gap))
    ]
    return found[-1] if found else None


def is_open(chair: Chair, key: BoxKey) -> bool:
    """True where the box has neither a reading nor a reason, and is not one that may stay blank."""
    if standing_in(chair, key) or not_taken_in(chair, key):
        return False
    return not may_stay_blank(chair, key)


def may_stay_blank(chair: Chair, key: BoxKey) -> bool:
    """True for optional measurements, and where a single value stands for both sides or the sides for it."""
    if key.measurement.optional:
        return True
    if key.measurement.sides != "either":
        return False
    return key.side is not None or any(
        standing_in(chair, other) for other in boxes_of(key.measurement) if other.side
    )


def findings_about(findings: Iterable[Finding], key: BoxKey) -> tuple[Finding, ...]:
    """The findings that concern a box, worst first."""
    about = [finding for finding in findings if any(fits(key, subject) for subject in finding.about)]
    return tuple(sorted(about, key=lambda finding: SEVERITY_ORDER.index(finding.severity)))


def make_box(chair: Chair, key: BoxKey, *, armed: bool, hidden: bool) -> Box:
    """One box with its value, state and worst open finding."""
    values = [value for value in chair.judgement.working if fits(key, value)]
    gap = not_taken_in(chair, key)
    worst = next(iter(findings_about(chair.beside, key)), None)
    plain = Box(
        key=key,
        place=_place(key),
        armed=armed,
        worst=str(worst.severity) if worst else "",
        worst_words=SEVERITY_WORDS[worst.severity] if worst else "",
    )
    if hidden and values:
        return replace(plain, value="•••", small="first reading hidden", state="hidden")
    if values:
        proposed = next((reading for reading in counting(standing_in(chair, key)) if waits(reading)), None)
        small = f"proposed by {proposed.by}" if proposed else _how_taken(key.measurement, values)
        return replace(
            plain, value=_values(key, values), small=small, state="proposed" if proposed else "done"
        )
    if gap is not None:
        return replace(plain, value="not taken", small=REASONS.get(gap.reason, gap.reason), state="not_taken")
    return replace(plain, small="may stay blank" if may_stay_blank(chair, key) else "")


def _place(key: BoxKey) -> str:
    if key.side is not None:
        return key.side
    declared = key.measurement.method(key.method)
    return declared.label if declared else ""


def _values(key: BoxKey, values: Sequence[WorkingValue]) -> str:
    spoken = in_words if key.measurement.sign_words else show_value
    return " / ".join(spoken(key.measurement, value.value) for value in values)


def _how_taken(measurement: Measurement, values: Sequence[WorkingValue]) -> str:
    if len(values) > 1:
        return " / ".join(_condition(value) for value in values)
    value = values[0]
    words = {
        "single": "",
        "agree": f"{value.count} readings, agree",
        "third_needed": f"2 readings, {show_value(measurement, value.spread)} apart: take a third",
        "median": f"{value.count} readings, unstable",
        "mean_of_closest": f"{value.count} readings, closest two agree",
    }
    return words[value.state]


def _condition(value: WorkingValue) -> str:
    parts = [part.replace("_", " ") for part in (value.method, value.condition) if part]
    return ", ".join(parts) or "plain"


def rows(chair: Chair, step: Step, screen: Screen, armed: BoxKey, *, again: bool) -> tuple[Row, ...]:
    """All rows of a screenful. While a repeat is entered the armed box's value may be hidden."""
    hide = again and chair.settings.second_reading_blind
    return tuple(
        Row(
            measurement=measurement,
            boxes=tuple(
                make_box(chair, key, armed=key == armed, hidden=hide and key == armed)
                for key in boxes_of(measurement)
            ),
        )
        for measurement in measurements_of(step, screen)
    )


def taken_in(chair: Chair, key: BoxKey) -> tuple[Taken, ...]:
    """The history of a box: every reading, whether it still counts or not."""
    standing = {reading.identity for reading in current_readings(chair.fitting)}
    return tuple(
        Taken(
            reading=reading,
            value=in_words(key.measurement, reading.value),
            standing=reading.identity in standing,
            typed=reading.text if reading.text != f"{reading.value:g}" else "",
        )
        for reading in readings_in(chair, key)
    )


def shown_findings(chair: Chair, findings: Iterable[Finding]) -> tuple[Shown, ...]:
    """Findings with their answers, open ones first, worst first; without what is said at the review alone."""
    still_open = set(map(id, chair.open_findings))
    shown = [
        Shown(
            finding=finding,
            label=SEVERITY_WORDS[finding.severity],
            open=id(finding) in still_open,
            answer=chair.answer_words(finding),
        )
        for finding in findings
        if finding.check not in SAID_AT_REVIEW
    ]
    return tuple(sorted(shown, key=lambda one: (not one.open, SEVERITY_ORDER.index(one.finding.severity))))

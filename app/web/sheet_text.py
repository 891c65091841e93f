"""What stands in words on the whole-record sheet: reasons, notes, crossed-out readings, answers."""

from collections.abc import Iterable
from dataclasses import dataclass

from app.catalogue.catalogue import MEASUREMENTS
from app.catalogue.conditions import CONDITIONS
from app.catalogue.measurement import SIDE_WORDS, Side
from app.catalogue.reasons import REASONS
from app.documents.answer_words import Said
from app.fitting.entry import in_words
from app.fitting.fitting import Fitting
from app.fitting.reading import Reading
from app.fitting.working import current_readings
from app.web.words import moment


@dataclass(frozen=True, slots=True)
class Struck:
    """A reading that no longer counts, still legible."""

    name: str
    value: str
    why: str


@dataclass(frozen=True, slots=True)
class Fitted:
    """Lines that have room on the printed sheet, and how many have not."""

    lines: tuple[Said, ...]
    left_over: int


def name_of(measurement: str, side: Side | None, pair: int | None = None) -> str:
    """A reading's name in words, with its side and its pair."""
    declared = MEASUREMENTS.get(measurement)
    label = declared.label if declared is not None else measurement.replace("_", " ").replace(".", ", ")
    of_pair = f" (pair {pair})" if pair and not (declared and declared.off_pair) else ""
    return f"{SIDE_WORDS[side].capitalize()}: {label}{of_pair}" if side else f"{label}{of_pair}"


def gaps_said(fitting: Fitting) -> tuple[Said, ...]:
    """Every reading that was left out, with its reason."""
    return tuple(
        Said(
            name_of(gap.measurement, gap.side),
            ": ".join(part for part in (REASONS.get(gap.reason, gap.reason), gap.detail) if part),
        )
        for gap in fitting.not_taken
    )


def notes_said(fitting: Fitting) -> tuple[Said, ...]:
    """Notes and circumstances of the readings that count, each beside the value that it explains."""
    return tuple(
        Said(f"{name_of(reading.measurement, reading.side)} {_value(reading)}", said)
        for reading in current_readings(fitting)
        if (said := _beside(reading))
    )


def _beside(reading: Reading) -> str:
    circumstance = CONDITIONS.get(reading.condition or "", "")
    paper = "entered from paper" if reading.source == "paper" else ""
    return ", ".join(part for part in (circumstance, paper, reading.note) if part)


def struck_readings(fitting: Fitting) -> tuple[Struck, ...]:
    """Readings entered in error or replaced, with who, when and why."""
    standing = set(map(id, current_readings(fitting)))
    return tuple(
        Struck(name_of(reading.measurement, reading.side), _value(reading), _why_struck(fitting, reading))
        for reading in fitting.readings
        if id(reading) not in standing
    )


def _why_struck(fitting: Fitting, reading: Reading) -> str:
    error = reading.entered_in_error
    if error is not None:
        return f"entered in error: {error.reason} ({error.by}, {moment(error.at)})"
    after = next(
        (one for one in fitting.readings if reading.identity and one.replaces == reading.identity), None
    )
    if after is None:
        return "replaced"
    who = ", ".join(part for part in (after.by, moment(after.at)) if part)
    return f"replaced by {_value(after)}" + (f" ({who})" if who else "")


def _value(reading: Reading) -> str:
    return in_words(MEASUREMENTS[reading.measurement], reading.value)


def fit(lines: Iterable[Said], *, characters: int) -> Fitted:
    """As many lines as have room on paper, whole ones only; the rest is counted, never cut off in silence."""
    taken: list[Said] = []
    left_over = 0
    room = characters
    for line in lines:
        needed = len(line.label) + len(line.words) + 4
        if needed <= room:
            taken.append(line)
            room -= needed
        else:
            room = 0  # the lines stay in their order: nothing later takes the place of one left over
            left_over += 1
    return Fitted(tuple(taken), left_over)

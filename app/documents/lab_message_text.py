"""The lab message as text, both ways: ASCII records `LABEL=value;value` ended by CR LF, right eye before left.

Framing: `?` stands for what is unknown. A file holds the records alone. The characters FS and GS that open
and close a packet on a line between two machines are passed over when they come in, and never written: a file
is no packet. Source: ISO 16284 and Data Communication Standard, from memory; check the current edition.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation

from app.documents.lab_labels import LABELS, SENT, TRACE_LABELS, LabLabel
from app.documents.lab_message import (
    BothEyes,
    Eyes,
    ForeignRecord,
    LabMessage,
    NotAnOutline,
    OutlineRadii,
)
from app.documents.trace_record import NumberedTrace, UnreadableTrace, trace_lines, traces_by_line

END = "\r\n"
UNKNOWN = "?"
LONGEST_TEXT = 2_000_000
"""Characters of a message that are read: an order with outlines has about ten thousand. Ours."""
LARGEST = Decimal(100_000)
"""No value of an order is larger. Ours."""
FRAMING = "\x1c\x1d\x0d\x0a\x11\x13"
NOT_IN_TEXT = re.compile(r"[^ -~]|;")
LABEL = re.compile(r"[A-Z_][A-Z0-9_]{0,15}")


@dataclass(frozen=True, slots=True, kw_only=True)
class BadLine:
    """A line that could not be used: its number in the text, the line, and why."""

    number: int
    line: str
    why: str

    def __str__(self) -> str:
        return f"Line {self.number}: {self.why}."


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadMessage:
    """What was understood of a message, and what was not."""

    message: LabMessage
    bad_lines: tuple[BadLine, ...]


def write_lab_message(message: LabMessage) -> str:
    """The message as text: sent labels in the order of their list, then outlines, then what is kept of others.

    >>> print(write_lab_message(LabMessage(job="A-1", eyes="B", both_eyes={"SPH": (-2.0, None)})))
    JOB=A-1\r
    DO=B\r
    SPH=-2.00;?\r
    <BLANKLINE>
    """
    records = [record for label in SENT for record in _record(message, label)]
    for outline in message.outlines:
        records += trace_lines(
            outline.radii_hundredths_mm,
            outline.angles_hundredths_deg,
            side=outline.side,
            source=outline.source,
        )
    records += [f"{foreign.label}={foreign.value}" for foreign in message.foreign]
    return "".join(record + END for record in records)


def read_lab_message(text: str) -> ReadMessage:
    """What a text says, labels in any order; never raises. A line that cannot be used is named with its number.

    >>> read = read_lab_message("SPH=-2.00;-1.50\\r\\nHUE=7\\r\\nCYL=x;0\\r\\n")
    >>> read.message.both_eyes, read.message.foreign, str(read.bad_lines[0])
    ({'SPH': (-2.0, -1.5)}, (ForeignRecord(label='HUE', value='7'),), 'Line 3: “x” is not a number.')
    """
    if len(text) > LONGEST_TEXT:
        return ReadMessage(
            message=LabMessage(),
            bad_lines=(BadLine(number=1, line="", why="the text is too long to be an order"),),
        )
    reading = _Reading(lines=tuple(_lines(text)))
    reading.read()
    return ReadMessage(
        message=reading.message(), bad_lines=tuple(sorted(reading.bad, key=lambda one: one.number))
    )


def plain_text_for(text: str) -> str:
    """Text as a record can carry it: printable ASCII without the separator."""
    return NOT_IN_TEXT.sub(" ", text).strip()


def _record(message: LabMessage, label: LabLabel) -> list[str]:
    name = label.label
    if label.form == "text":
        text = plain_text_for(message.job)
        return [f"{name}={text}"] if text else []
    if label.form == "eyes":
        return [f"{name}={message.eyes}"] if message.eyes else []
    if label.form == "number":
        return [f"{name}={_figure(message.numbers[name], label)}"] if name in message.numbers else []
    if name not in message.both_eyes:
        return []
    return [f"{name}={';'.join(_figure(value, label) for value in message.both_eyes[name])}"]


def _figure(value: float | None, label: LabLabel) -> str:
    if value is None:
        return UNKNOWN
    return f"{round(value, label.decimals) + 0.0:.{label.decimals}f}"


def _lines(text: str) -> Iterator[tuple[int, str]]:
    """Numbered lines that say something, without framing characters."""
    for number, line in enumerate(re.split(r"\r\n|\n|\r", text), start=1):
        plain = line.strip(FRAMING + " \t")
        if plain:
            yield number, plain


class _Reading:
    """A message in the course of being read."""

    def __init__(self, lines: tuple[tuple[int, str], ...]) -> None:
        self.lines = lines
        self.bad: list[BadLine] = []
        self.job = ""
        self.eyes: Eyes | None = None
        self.both_eyes: dict[str, BothEyes] = {}
        self.numbers: dict[str, float] = {}
        self.outlines: list[OutlineRadii] = []
        self.foreign: list[ForeignRecord] = []
        self.seen: dict[str, int] = {}

    def message(self) -> LabMessage:
        """What was understood."""
        return LabMessage(
            job=self.job,
            eyes=self.eyes,
            both_eyes=self.both_eyes,
            numbers=self.numbers,
            outlines=tuple(self.outlines),
            foreign=tuple(self.foreign),
        )

    def read(self) -> None:
        """Read every line, then the outlines."""
        for number, line in self.lines:
            label, equals, value = (part.strip() for part in line.partition("="))
            if not equals or LABEL.fullmatch(label) is None:
                self._refuse(number, line, "this is not LABEL=value")
            elif label in TRACE_LABELS:
                continue
            elif label in LABELS:
                self._known(number, line, LABELS[label], value)
            else:
                self.foreign.append(ForeignRecord(label=label, value=value))
        self._read_outlines()

    def _refuse(self, number: int, line: str, why: str) -> None:
        self.bad.append(BadLine(number=number, line=line[:80], why=why))

    def _known(self, number: int, line: str, label: LabLabel, value: str) -> None:
        if label.label in self.seen:
            first = self.seen[label.label]
            self._refuse(number, line, f"{label.label} stands in line {first} already; that one is kept")
            return
        try:
            self._take(label, value)
            self.seen[label.label] = number
        except ValueError as refusal:
            self._refuse(number, line, str(refusal))

    def _take(self, label: LabLabel, value: str) -> None:
        if label.form == "text":
            self.job = value
        elif label.form == "eyes":
            self.eyes = _eyes(value)
        elif label.form == "number":
            found = _number(value)
            if found is not None:
                self.numbers[label.label] = found
        else:
            self.both_eyes[label.label] = _both(value)

    def _read_outlines(self) -> None:
        traces, refused = traces_by_line(self.lines)
        self.bad += [BadLine(number=number, line="", why=why) for number, why in refused]
        for trace in traces:
            try:
                self.outlines.append(_outline(trace))
            except (NotAnOutline, UnreadableTrace) as refusal:
                self._refuse(trace.line, f"TRCFMT of {trace.side}", str(refusal).removesuffix("."))


def _outline(trace: NumberedTrace) -> OutlineRadii:
    return OutlineRadii(
        side=trace.side,
        radii_hundredths_mm=trace.radii,
        angles_hundredths_deg=trace.angles,
        source=trace.source,
    )


def _eyes(value: str) -> Eyes:
    found: dict[str, Eyes] = {"B": "B", "R": "R", "L": "L"}
    if value not in found:
        raise ValueError(f"“{value[:20]}” is none of B, R, L")
    return found[value]


def _both(value: str) -> BothEyes:
    parts = value.split(";")
    if len(parts) != 2:
        raise ValueError("right and left eye are needed, with ; between them")
    return _number(parts[0]), _number(parts[1])


def _number(text: str) -> float | None:
    plain = text.strip()
    if plain in (UNKNOWN, ""):
        return None
    if not re.fullmatch(r"[+-]?[0-9]{0,12}\.?[0-9]{0,12}", plain):
        raise ValueError(f"“{plain[:20]}” is not a number")
    try:
        number = Decimal(plain)
    except InvalidOperation:
        raise ValueError(f"“{plain[:20]}” is not a number") from None
    if abs(number) > LARGEST:
        raise ValueError(f"{plain[:20]} is too large for an order")
    return float(number) + 0.0

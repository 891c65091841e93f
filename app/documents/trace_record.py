"""Lens-trace records of the open interchange standard (ISO 16284).
The record layout `TRCFMT=format;radii;spacing;side;source` was seen in a trace published at
https://forums.thevisioncouncil.org/topic/5182-how-to-read-trace-information/; the meaning of its fields,
and that radii are hundredths of a mm counter-clockwise from the observer's right, is from memory of the
standard.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal

import numpy as np
from numpy.typing import NDArray

ASCII_ABSOLUTE = 1  # the only format read here: plain numbers, each radius written out
FORMATS = {1: "ASCII absolute", 2: "binary absolute", 3: "binary differential", 4: "packed binary"}
SPACINGS = {"E": "equal angles", "U": "unequal angles"}
SIDES = {"R": "right", "L": "left", "B": "both"}
WHOLE = re.compile(r"[+-]?[0-9]{1,7}")  # seven figures are a hundred metres
SOURCES = {"F": "frame", "P": "pattern", "D": "demo lens"}


class UnreadableTrace(ValueError):
    """Raised for a trace that is not what the standard describes; the message says which part."""


@dataclass(frozen=True, slots=True)
class TraceHeader:
    """What one TRCFMT record announces: format number, number of radii, spacing, side and source letters."""

    format: int
    radii: int
    spacing: Literal["E", "U"]
    side: str
    source: str


@dataclass(frozen=True, slots=True)
class Trace:
    """A header with its radii in mm, shape (n,), and angles in degrees, shape (n,)."""

    header: TraceHeader
    radii_mm: NDArray[np.float64]
    angles_deg: NDArray[np.float64]


def read_trace_header(record: str) -> TraceHeader:
    """The fields of one TRCFMT record.

    >>> read_trace_header("TRCFMT=4;512;E;R;F")
    TraceHeader(format=4, radii=512, spacing='E', side='R', source='F')
    """
    label, _, value = record.strip().partition("=")
    fields = [field.strip() for field in value.split(";")]
    if label.strip() != "TRCFMT" or len(fields) != 5:
        raise UnreadableTrace("A trace header reads TRCFMT=format;radii;spacing;side;source.")
    whole = all(WHOLE.fullmatch(part) for part in fields[:2])
    if not whole or int(fields[0]) not in FORMATS or int(fields[1]) < 0:
        raise UnreadableTrace(f"The trace header names format {fields[0]} with {fields[1]} radii.")
    if fields[2] not in SPACINGS or fields[3] not in SIDES or fields[4] not in SOURCES:
        raise UnreadableTrace(f"Spacing {fields[2]}, side {fields[3]} or source {fields[4]} is not known.")
    spacing: Literal["E", "U"] = "E" if fields[2] == "E" else "U"
    return TraceHeader(int(fields[0]), int(fields[1]), spacing, fields[3], fields[4])


def radii_from_hundredths(hundredths_mm: list[int]) -> NDArray[np.float64]:
    """Radii in mm from whole hundredths of a mm.

    >>> radii_from_hundredths([2500, 2499]).tolist()
    [25.0, 24.99]
    """
    return np.asarray(hundredths_mm, dtype=float) / 100


def read_traces(text: str) -> list[Trace]:
    """All traces of a message.

    A trace is each TRCFMT record with the R (and, for unequal angles, A) records that follow it.
    Only plain-number traces (format 1) are read. Other records are passed over. Raises UnreadableTrace when
    the number of radii is not the one announced.

    >>> trace = read_traces("TRCFMT=1;4;E;R;F\\r\\nR=2500;2000\\r\\nR=2500;2000\\r\\n")[0]
    >>> trace.radii_mm.tolist(), trace.angles_deg.tolist()
    ([25.0, 20.0, 25.0, 20.0], [0.0, 90.0, 180.0, 270.0])
    """
    traces: list[Trace] = []
    header: TraceHeader | None = None
    numbers: dict[str, list[int]] = {"R": [], "A": []}
    for line in text.splitlines():
        label, _, value = line.strip().partition("=")
        if label == "TRCFMT":
            if header:
                traces.append(_finished(header, numbers))
            header, numbers = read_trace_header(line), {"R": [], "A": []}
        elif label in numbers and header and header.format == ASCII_ABSOLUTE:
            numbers[label] += _whole_numbers(value)
    if header:
        traces.append(_finished(header, numbers))
    return traces


def _whole_numbers(value: str) -> list[int]:
    """Whole numbers between semicolons."""
    parts = [part.strip() for part in value.split(";") if part.strip()]
    if not all(WHOLE.fullmatch(part) for part in parts):
        raise UnreadableTrace(f"A radius or angle is not a whole number of hundredths: {value[:40]}")
    return [int(part) for part in parts]


def _finished(header: TraceHeader, numbers: dict[str, list[int]]) -> Trace:
    """The trace of one header and its numbers, checked against what the header announced."""
    if header.format != ASCII_ABSOLUTE:
        raise UnreadableTrace(f"This trace is {FORMATS[header.format]}; ask for format 1, plain numbers.")
    if len(numbers["R"]) != header.radii:
        raise UnreadableTrace(f"The header announces {header.radii} radii, {len(numbers['R'])} came.")
    if header.spacing == "U" and len(numbers["A"]) != header.radii:
        raise UnreadableTrace(f"The header announces {header.radii} angles, {len(numbers['A'])} came.")
    radii = radii_from_hundredths(numbers["R"])
    if np.any(radii <= 0):
        raise UnreadableTrace("A radius is not above 0 mm.")
    if header.spacing == "U":
        return Trace(header, radii, np.asarray(numbers["A"], dtype=float) / 100)
    return Trace(header, radii, np.arange(header.radii) * 360.0 / header.radii)


RADII_IN_A_RECORD = 10
"""Ten radii keep a record under 80 characters, the usual longest line of the standard, from memory."""
TraceSide = Literal["R", "L", "B"]
TraceSource = Literal["F", "P", "D"]
_SIDES: dict[str, TraceSide] = {"R": "R", "L": "L", "B": "B"}
_SOURCES: dict[str, TraceSource] = {"F": "F", "P": "P", "D": "D"}


@dataclass(frozen=True, slots=True, kw_only=True)
class NumberedTrace:
    """A trace in whole hundredths as it was written, with the number of the line of its header."""

    line: int
    side: TraceSide
    source: TraceSource
    radii: tuple[int, ...]
    angles: tuple[int, ...] | None


def trace_lines(
    radii: Sequence[int], angles: Sequence[int] | None = None, *, side: TraceSide, source: TraceSource
) -> list[str]:
    """The records of one trace in format 1: radii in whole hundredths of a mm, angles of a degree.

    >>> trace_lines([2500, 2000, 2500, 2000], side="R", source="P")
    ['TRCFMT=1;4;E;R;P', 'R=2500;2000;2500;2000']
    """
    spacing = "E" if angles is None else "U"
    header = f"TRCFMT={ASCII_ABSOLUTE};{len(radii)};{spacing};{side};{source}"
    return [header, *_records("R", radii), *_records("A", angles or ())]


def _records(label: str, numbers: Sequence[int]) -> list[str]:
    places = range(0, len(numbers), RADII_IN_A_RECORD)
    return [
        f"{label}={';'.join(str(number) for number in numbers[place : place + RADII_IN_A_RECORD])}"
        for place in places
    ]


_NO_HEADER = TraceHeader(ASCII_ABSOLUTE, 0, "E", "R", "F")


@dataclass
class _Open:
    """A trace whose records are still coming. `bad` is true once one of them could not be read."""

    line: int
    header: TraceHeader
    radii: list[int] = field(default_factory=list)
    angles: list[int] = field(default_factory=list)
    bad: bool = False


def traces_by_line(
    lines: Sequence[tuple[int, str]],
) -> tuple[list[NumberedTrace], list[tuple[int, str]]]:
    """The traces among numbered lines, and every line that is wrong with the reason; never raises.

    A trace with a wrong line is refused whole: half an outline is none.
    """
    traces: list[NumberedTrace] = []
    refused: list[tuple[int, str]] = []
    current: _Open | None = None
    for number, line in lines:
        label, _, value = (part.strip() for part in line.partition("="))
        try:
            if label == "TRCFMT":
                _close(current, traces, refused)
                current = _Open(number, _NO_HEADER, bad=True)  # should the header itself be unreadable
                current = _Open(number, read_trace_header(line))
            elif label in ("R", "A"):
                _add(current, label, value)
        except UnreadableTrace as refusal:
            refused.append((number, str(refusal).removesuffix(".")))
            if current is not None:
                current.bad = True
    _close(current, traces, refused)
    return traces, refused


def _add(current: _Open | None, label: str, value: str) -> None:
    if current is None:
        raise UnreadableTrace("radii without a TRCFMT record before them")
    if current.header.format == ASCII_ABSOLUTE:
        (current.radii if label == "R" else current.angles).extend(_whole_numbers(value))


def _close(current: _Open | None, traces: list[NumberedTrace], refused: list[tuple[int, str]]) -> None:
    if current is None or current.bad:
        return
    header = current.header
    try:
        _finished(header, {"R": current.radii, "A": current.angles})
    except UnreadableTrace as refusal:
        refused.append((current.line, str(refusal).removesuffix(".")))
        return
    traces.append(
        NumberedTrace(
            line=current.line,
            side=_SIDES[header.side],
            source=_SOURCES[header.source],
            radii=tuple(current.radii),
            angles=tuple(current.angles) if header.spacing == "U" else None,
        )
    )

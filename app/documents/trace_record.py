"""Lens-trace records of the open interchange standard (ISO 16284).
The record layout `TRCFMT=format;radii;spacing;side;source` was seen in a trace published at
https://forums.thevisioncouncil.org/topic/5182-how-to-read-trace-information/; the meaning of its fields,
and that radii are hundredths of a mm counter-clockwise from the observer's right, is from memory of the
standard.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

ASCII_ABSOLUTE = 1  # the only format read here: plain numbers, each radius written out
FORMATS = {1: "ASCII absolute", 2: "binary absolute", 3: "binary differential", 4: "packed binary"}
SPACINGS = {"E": "equal angles", "U": "unequal angles"}
SIDES = {"R": "right", "L": "left", "B": "both"}
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
    if not (fields[0].isdecimal() and fields[1].isdecimal() and int(fields[0]) in FORMATS):
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
    try:
        return [int(part) for part in value.split(";") if part.strip()]
    except ValueError:
        raise UnreadableTrace(
            f"A radius or angle is not a whole number of hundredths: {value[:40]}"
        ) from None


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

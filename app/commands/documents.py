"""Reading fitting files named on the command line, one document each or one a line."""

import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from app.commands.refusal import Refused
from app.fitting.fitting import Fitting
from app.fitting.fitting_file import NotAFitting, read_fitting_text

STANDARD_INPUT = "-"


@dataclass(frozen=True, slots=True)
class FittingDocument:
    """A fitting, the bytes that it was read from, and their place in the file: “line 3: ”, or nothing."""

    fitting: Fitting
    content: bytes
    place: str


def read_documents(name: str, *, lines: bool) -> tuple[FittingDocument, ...]:
    """Every fitting of a file (`-`: standard input), all read before anything is done. Raises Refused."""
    content = _content(name)
    if not lines:
        return (_document(content, place=""),)
    return tuple(_document(line, place=f"line {number}: ") for number, line in _filled_lines(content))


def _content(name: str) -> bytes:
    try:
        return sys.stdin.buffer.read() if name == STANDARD_INPUT else Path(name).read_bytes()
    except OSError as error:
        raise Refused(f"{name}: cannot be read: {error.strerror}") from None
    except ValueError:
        raise Refused("the name of the file cannot be one") from None


def _filled_lines(content: bytes) -> Iterator[tuple[int, bytes]]:
    # only line ends of JSON lines: a line separator inside a text is part of that text
    numbered = enumerate(content.split(b"\n"), start=1)
    return ((number, line) for number, line in numbered if line.strip())


def _document(content: bytes, *, place: str) -> FittingDocument:
    try:
        return FittingDocument(read_fitting_text(content), content, place)
    except NotAFitting as error:
        # a line of its own counts as line 1 to whoever reads it alone
        raise Refused(f"{place}{str(error).removeprefix('line 1, ') if place else error}") from None

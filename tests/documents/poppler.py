"""Papers looked at from outside: rendered to pixels and read by poppler (https://poppler.freedesktop.org)."""

import os
import shutil
import subprocess
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

THERE = all(shutil.which(tool) for tool in ("pdftoppm", "pdftotext", "pdffonts", "pdfinfo"))
needs_poppler = pytest.mark.skipif(
    not THERE and not os.environ.get("BROWSER_REQUIRED"),
    reason="no poppler on this machine: papers were NOT measured (Debian: apt install poppler-utils)",
)
DOTS_PER_INCH = 508
PIXELS_PER_MM = DOTS_PER_INCH / 25.4
"""20 to the millimetre."""

Pixels = NDArray[np.int16]


def run(tool: str, *arguments: str) -> bytes:
    return subprocess.run([tool, *arguments], check=True, capture_output=True).stdout


def pixels(pdf: Path, page: int) -> Pixels:
    """One page as an array (height, width, 3) of red, green and blue."""
    ppm = run("pdftoppm", "-r", str(DOTS_PER_INCH), "-f", str(page), "-l", str(page), str(pdf))
    magic, width, height, depth = ppm[:60].split()[:4]
    assert (magic, depth) == (b"P6", b"255")
    start = ppm.index(b"255") + 4
    shape = (int(height), int(width), 3)
    return np.frombuffer(ppm, dtype=np.uint8, offset=start).reshape(shape).astype(np.int16)


def text(pdf: Path) -> str:
    """The words of all pages."""
    return " ".join(run("pdftotext", "-layout", str(pdf), "-").decode().split())


def pages(pdf: Path) -> int:
    words = run("pdfinfo", str(pdf)).decode().split()
    return int(words[words.index("Pages:") + 1])


def places(strong: NDArray[np.bool_]) -> list[float]:
    """The middles of the runs of true, in pixels."""
    at = np.flatnonzero(strong)
    runs = np.split(at, np.flatnonzero(np.diff(at) > 1) + 1)
    return [float(run.mean()) for run in runs if len(run)]


def blue(page: Pixels) -> NDArray[np.bool_]:
    """The lines of the boxes."""
    return np.asarray(page[..., 2] - page[..., 0] > 80)


def purple(page: Pixels) -> NDArray[np.bool_]:
    """The centration crosses."""
    return np.asarray(page[..., 0] - page[..., 1] > 90)


def dark(page: Pixels) -> NDArray[np.bool_]:
    """Black lines and letters."""
    return np.asarray(page.max(axis=2) < 128)

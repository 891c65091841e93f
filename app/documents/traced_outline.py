"""Outlines that stand in a fitting itself: a trace record or a list of points written as the pair's tracing."""

import re
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from app.documents.trace_record import (
    NumberedTrace,
    UnreadableTrace,
    radii_from_hundredths,
    traces_by_line,
)
from app.fitting.fitting import Fitting
from app.frame.outline_import import outline_from_text, outline_from_tracing
from app.optics.outline_size import Outline, mirrored_outline
from app.optics.refusal import NotPossible

RECORD = "TRCFMT"
PAIR_OF_NUMBERS = re.compile(r"-?\d+(?:\.\d+)?\s*[, ]\s*-?\d+(?:\.\d+)?\s*[;\n]")


def traced_outlines(fitting: Fitting) -> dict[int, Outline]:
    """Outlines of right lenses, (n, 2) in mm, by the pair's number, of those pairs that carry a readable one."""
    found: dict[int, Outline] = {}
    for pair in fitting.pairs:
        outline, _ = outline_in(pair.tracing or "")
        if outline is not None:
            found[pair.pair] = outline
    return found


def outline_in(text: str) -> tuple[Outline | None, str]:
    """The outline written in a text and, where it is written but not usable, why. A mere reference is neither."""
    try:
        if RECORD in text:
            return _of_record(text), ""
        if PAIR_OF_NUMBERS.search(text):
            return outline_from_text(text), ""
    except (UnreadableTrace, NotPossible) as refusal:
        return None, str(refusal)
    return None, ""


def _of_record(text: str) -> Outline:
    """The right lens of a trace message; where only the left was traced, its mirror image.

    Raises UnreadableTrace, which names the line, for a record that is none, for radii that are not as many as
    announced, for angles out of order, and for an outline that is none.
    """
    records = re.sub(r"\s+(?=(?:TRCFMT|R|A)=)", "\n", text.strip()).splitlines()
    traces, refused = traces_by_line(list(enumerate(records, start=1)))
    if refused:
        raise UnreadableTrace("; ".join(f"line {number}: {why}" for number, why in refused))
    if not traces:
        raise UnreadableTrace("The tracing holds no outline.")
    right = next((trace for trace in traces if trace.side in ("R", "B")), None)
    chosen = right or traces[0]
    try:
        outline = outline_from_tracing(radii_from_hundredths(list(chosen.radii)), _angles(chosen))
    except NotPossible as refusal:
        raise UnreadableTrace(f"line {chosen.line}: {refusal}") from None
    return outline if right is not None else mirrored_outline(outline)


def _angles(trace: NumberedTrace) -> NDArray[np.float64] | None:
    """The angles in degrees, None where they are equally spaced. Raises UnreadableTrace where they do not rise."""
    if trace.angles is None:
        return None
    for place, (before, angle) in enumerate(pairwise(trace.angles), start=2):
        if angle <= before:
            order = f"its angle {angle / 100:g} follows {before / 100:g}"
            raise UnreadableTrace(f"line {trace.line}: radius {place} is out of order, {order}")
    return np.asarray(trace.angles, dtype=float) / 100

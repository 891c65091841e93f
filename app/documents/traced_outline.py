"""Outlines that stand in a fitting itself: a trace record or a list of points written as the pair's tracing."""

import re

from app.documents.trace_record import UnreadableTrace, read_traces
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
    """The right lens of a trace message; where only the left was traced, its mirror image."""
    traces = read_traces(re.sub(r"\s+(?=(?:TRCFMT|R|A)=)", "\n", text))
    if not traces:
        raise UnreadableTrace("The tracing holds no outline.")
    right = next((trace for trace in traces if trace.header.side in ("R", "B")), None)
    chosen = right or traces[0]
    outline = outline_from_tracing(chosen.radii_mm, chosen.angles_deg)
    return outline if right is not None else mirrored_outline(outline)

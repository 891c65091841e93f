"""How long the specification takes, how long its table of sizes and its drawing, and how much memory it keeps."""

import json
import resource
import statistics
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from app.fitting.fitting import Fitting
from app.fitting.fitting_file import read_fitting
from app.frame.front_geometry import front_drawing
from app.frame.specification import specification
from app.frame.what_if import what_if
from app.practice.settings import PracticeSettings
from app.web.rendering import ENVIRONMENT
from app.web.specification_view import becomes

DEMO = Path(__file__).resolve().parent.parent.parent / "demo"
SETTINGS = PracticeSettings()
TIMES = 30
SPECIFICATIONS = 1000
FRONT = "{% from 'specification/front.html' import front %}{{ front(shown) }}"


def specifications(line: Callable[[str, str, str], None]) -> None:
    """The lines of the table that concern the specification; the slowest of the eight demo fittings each."""
    fittings = [
        read_fitting(json.loads(file.read_text(encoding="utf-8")))
        for file in sorted(DEMO.glob("patient_*.json"))
    ]
    whole = max(
        _milliseconds(lambda turn, one=one: specification(_another(one, turn), SETTINGS)) for one in fittings
    )
    line("the specification of both pairs (slowest of eight)", f"{whole:.1f} ms", "under 20 ms")
    made = [specification(one, SETTINGS).pairs[0] for one in fittings]
    sizes = max(_milliseconds(lambda turn, one=one: what_if(one.sheet, one.outline)) for one in made)
    line("25 lens widths, edge all round and weight", f"{sizes:.1f} ms", "under 50 ms")
    drawing = max(_milliseconds(lambda turn, one=one: front_drawing(one)) for one in made)
    template, shown = ENVIRONMENT.from_string(FRONT), [becomes(one) for one in made]
    written = max(_milliseconds(lambda turn, one=one: template.render(shown=one)) for one in shown)
    line("drawing one front: geometry and SVG", f"{drawing + written:.2f} ms", "under 5 ms")
    for turn in range(SPECIFICATIONS):
        specification(_another(fittings[turn % len(fittings)], turn), SETTINGS)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    line(f"memory at most, after {SPECIFICATIONS} specifications", f"{peak:.0f} MB", "under 150 MB")


def _another(fitting: Fitting, turn: int) -> Fitting:
    """The same face with another lens width and PD each time, so that nothing kept from before helps."""
    moved = (turn % 97) / 200
    readings = tuple(
        replace(one, value=one.value + moved) if one.measurement == "pd_monocular" else one
        for one in fitting.readings
    )
    pairs = tuple(
        replace(one, lens_width=None if one.lens_width is None else one.lens_width + moved)
        for one in fitting.pairs
    )
    return replace(fitting, readings=readings, pairs=pairs)


def _milliseconds(work: Callable[[int], object]) -> float:
    """Median of several timings, in ms."""
    found = []
    for turn in range(TIMES):
        began = time.perf_counter()
        work(turn)
        found.append((time.perf_counter() - began) * 1000)
    return statistics.median(found)

"""The lenses of an order in one line each: what the lab can expect to come out."""

from typing import Any

from app.catalogue.measurement import SIDES
from app.documents.assessment_lenses import write_lens
from app.documents.traced_outline import traced_outlines
from app.fitting.entry import show_number
from app.fitting.fitting import Fitting
from app.fitting.pair import Pair
from app.frame.specification import pair_specification
from app.practice.settings import PracticeSettings

NAMED = (
    ("centre_thickness", "centre", ""),
    ("edge_thickness_max", "thickest edge", ""),
    ("edge_thickness_min", "thinnest edge", ""),
    ("weight_g", "weight", " g"),
)
LensDocument = dict[str, dict[str, Any]]


def lenses_of(fitting: Fitting, pair: Pair, settings: PracticeSettings) -> LensDocument:
    """Both lenses as they are worked out now."""
    traced = traced_outlines(fitting).get(pair.pair)
    made = pair_specification(fitting, pair, settings, traced_mm=traced)
    return {side: write_lens(made.lens(side)) for side in SIDES}


def lens_lines(lenses: LensDocument) -> tuple[str, ...]:
    """One line for each lens of which a thickness is known.

    >>> lens_lines({"R": {"centre_thickness": 1.2, "weight_g": 5.93, "uncertainty": {"weight_g": 0.2}}})
    ('R centre 1.2; weight 5.9 ± 0.2 g',)
    """
    lines = []
    for side, lens in lenses.items():
        said = [
            f"{words} {show_number(round(lens[key], 1))}{_sure(lens, key)}{unit}"
            for key, words, unit in NAMED
            if key in lens
        ]
        if "centre_thickness" in lens:
            lines.append(f"{side} {'; '.join(said)}")
    return tuple(lines)


def _sure(lens: dict[str, Any], key: str) -> str:
    uncertainty = lens.get("uncertainty", {}).get(key, 0)
    return f" ± {show_number(round(uncertainty, 1))}" if uncertainty >= 0.05 else ""

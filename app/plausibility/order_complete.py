"""What an order cannot do without: chosen, or said not to be needed, before anybody signs."""

from collections.abc import Iterator

from app.fitting.field_paths import detail_at
from app.fitting.pair import Pair
from app.plausibility.check import Seen, check
from app.plausibility.facts import Facts
from app.plausibility.finding import Severity, Subject
from app.reference.bibliography import COMMON_PRACTICE

CUT_FROM_SHEET = ("acetate", "plant_based")
SAMPLES = ("attached", "held")
"""A bench works from a sample of the colour as well as from its code."""


@check(
    "order-incomplete",
    family="record",
    title="An order that lacks what it cannot do without",
    looks_at="what was chosen for each pair",
    why="A bench that has to ask loses a week, one that guesses makes the wrong frame.",
    limits="ask where a handmade frame lacks use, route, bridge, material, sheet (acetate or its like) or colour "
    "(code or sample), and where a pair lacks its lens form or its lens material and index",
    suggest="Choose it, or say that it is not needed.",
    cost="The order comes back with questions, or is made by guess.",
    source=COMMON_PRACTICE,
    severities=(Severity.ASK,),
    holds_back=False,
)
def order_incomplete(facts: Facts) -> Iterator[Seen]:
    """One finding for each pair, about every field that is blank."""
    for pair in facts.fitting.pairs:
        blank = tuple(_blank(pair))
        if blank:
            names = "; ".join(detail_at(path).label.lower() for path in blank)
            yield Seen(
                severity=Severity.ASK,
                on=(),
                about=tuple(Subject(measurement=path, pair=pair.pair) for path in blank),
                message=f"Pair {pair.pair} cannot be ordered as it stands; not chosen: {names}.",
            )


def _blank(pair: Pair) -> Iterator[str]:
    place = f"pair.{pair.pair}"
    if pair.kind == "handmade":
        for key in ("use", "route", "bridge_style", "material"):
            if getattr(pair, key) is None:
                yield f"{place}.{key}"
        if pair.material in CUT_FROM_SHEET and pair.sheet_mm is None:
            yield f"{place}.sheet_mm"
        if "colour_front" not in pair.choices and pair.choices.get("colour_sample") not in SAMPLES:
            yield f"{place}.choices.colour_front"
    if pair.lens_form is None:
        yield f"{place}.lens_form"
    if pair.index is None and "lens_material" not in pair.choices:
        yield f"{place}.choices.lens_material"

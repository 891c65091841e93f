"""The near portion of a multifocal: addition, form and height go together."""

from collections.abc import Iterator

from app.catalogue.measurement import SIDE_WORDS, SIDES, Side
from app.plausibility.check import Seen, check
from app.plausibility.facts import Facts
from app.plausibility.finding import Severity
from app.plausibility.pair_facts import PairFacts
from app.reference.bibliography import COMMON_PRACTICE

FAMILY = "lenses"


@check(
    "add-and-height",
    family=FAMILY,
    title="Addition and near portion",
    looks_at="lens form, addition, and segment or fitting height",
    why="An addition needs a near portion and a height, and the other way round.",
    limits="ask where a multifocal has no addition, a frame that exists has no height for its multifocal, a height "
    "was taken on one side only, a frame made and glazed in one go has no planned centre line, or there is a "
    "height and no addition",
    suggest="Complete the prescription, the lens form or the height.",
    cost="The lens maker stops and asks.",
    source=COMMON_PRACTICE,
    severities=(Severity.ASK,),
    holds_back=False,
)
def add_and_height(facts: Facts) -> Iterator[Seen]:
    """Addition without height, height without addition."""
    for pair in facts.pairs:
        for message in _incomplete(facts, pair):
            form = facts.stated(f"pair.{pair.number}.lens_form", pair.pair.lens_form)
            yield Seen(
                severity=Severity.ASK,
                on=(form, facts.stated(f"pair.{pair.number}.height", message)),
                message=f"Pair {pair.number}: {message}.",
                about=(form.subject,),
            )


def _incomplete(facts: Facts, pair: PairFacts) -> Iterator[str]:
    prescription = pair.prescription
    eyes = () if prescription is None else (prescription.right, prescription.left)
    add = any(eye is not None and eye.add for eye in eyes)
    heights = [
        name
        for name in ("segment_height", "fitting_height")
        if facts.mean(name, pair=pair.number) is not None
    ]
    if pair.pair.multifocal:
        if prescription is not None and not add:
            yield "a multifocal lens, and no addition is prescribed"
        wanted = "segment_height" if pair.pair.lens_form in ("bifocal", "trifocal") else "fitting_height"
        if not pair.handmade and wanted not in heights and not _reason_given(facts, wanted, pair.number):
            yield f"a multifocal lens, and no {wanted.replace('_', ' ')} was taken"
        yield from _one_side_only(facts, pair, wanted)
        straight_through = pair.handmade and pair.pair.route == "straight_through"
        if straight_through and wanted not in heights and pair.pair.centre_line_above_lid_mm is None:
            yield "made and glazed in one go, and no height is measured or planned"
    elif heights:
        yield f"a {heights[0].replace('_', ' ')}, and the lens form has no near portion"
    if heights and prescription is not None and not add and not pair.pair.multifocal:
        yield f"a {heights[0].replace('_', ' ')}, and no addition is prescribed"


def _one_side_only(facts: Facts, pair: PairFacts, height: str) -> Iterator[str]:
    """The side on which a height is still missing, unless a reason is given or only one eye is to be fitted."""
    missing = [side for side in SIDES if pair.reading(height, side) is None]
    if len(missing) != 1 or facts.one_eye or _reason_given(facts, height, pair.number, missing[0]):
        return
    yield f"a multifocal lens, and the {height.replace('_', ' ')} at the {SIDE_WORDS[missing[0]]} was not taken"


def _reason_given(facts: Facts, measurement: str, number: int, side: Side | None = None) -> bool:
    return any(
        left_out.measurement == measurement
        and left_out.pair in (None, number)
        and (side is None or left_out.side in (None, side))
        for left_out in facts.fitting.not_taken
    )

"""The bridge to be made: its projection against its style, its sheet and the nose that it goes on."""

from collections.abc import Iterator

from app.frame.ordered_bridge import projection as projection_ordered
from app.plausibility.check import Seen, check, exceeds
from app.plausibility.facts import Facts
from app.plausibility.finding import Severity
from app.plausibility.pair_facts import PairFacts
from app.plausibility.value import Value, amount, rounded
from app.reference.bibliography import COMMON_PRACTICE

ASK, NOTE = Severity.ASK, Severity.NOTE
FAMILY = "bridge"
LOW_CREST_MM = 2.0
"""A crest this low or lower, with nothing in front of the lashes, is a flat nose. Common practice."""


def frame_projection(facts: Facts, pair: PairFacts) -> Value | None:
    """Projection of the frame as ordered; minus is inset."""
    facial, ordered = facts.value("bridge_projection"), projection_ordered(pair.sheet).ordered
    return None if facial is None or ordered is None else facial.with_number(ordered)


def in_words(projection: float) -> str:
    """“inset 3.5 mm”, “flush”, “outset 1.5 mm”."""
    if projection == 0:
        return "flush"
    return f"{'inset' if projection < 0 else 'outset'} {rounded(abs(projection))}"


@check(
    "bridge-style-projection",
    family=FAMILY,
    title="Bridge style against the ordered projection",
    looks_at="an inset bridge style, and the projection of the frame",
    why="The word and the sign have to say the same; a bench cannot know which of the two is meant.",
    limits="ask where an inset bridge is chosen and the projection ordered is flush or outset",
    suggest="Inset or outset? Look from the side again, and settle style and sign together.",
    cost="The bench stops and asks, or makes the bridge the wrong way.",
    source=COMMON_PRACTICE,
    severities=(ASK,),
)
def bridge_style_projection(facts: Facts) -> Iterator[Seen]:
    """An inset style with a projection that is not inset."""
    for pair in facts.pairs:
        projection = frame_projection(facts, pair)
        if projection is None or not pair.handmade or pair.pair.bridge_style != "inset_saddle":
            continue
        if projection.number >= 0:
            style = facts.stated(f"pair.{pair.number}.bridge_style", pair.pair.bridge_style)
            yield Seen(
                severity=ASK,
                on=(projection, style),
                message=f"Pair {pair.number} is to have an inset bridge; the projection worked out is "
                f"{in_words(projection.number)}.",
            )


@check(
    "sheet-projection",
    family=FAMILY,
    title="Sheet against the projection of the bridge",
    looks_at="projection of the frame without its sign, depth of the rim, and the thickness of the sheet",
    why="Bridge and rim are cut from one sheet: it has to hold both.",
    limits="ask where projection and rim together are more than the sheet, unless a built-up bridge is chosen",
    suggest="Choose a thicker sheet, or a built-up bridge.",
    cost="The bench cannot cut it and asks back.",
    source=COMMON_PRACTICE,
    severities=(ASK,),
)
def sheet_projection(facts: Facts) -> Iterator[Seen]:
    """|frame projection| + rim depth > sheet thickness."""
    rim = facts.settings.adjustments.rim_depth_mm
    for pair in facts.pairs:
        sheet, projection = pair.pair.sheet_mm, frame_projection(facts, pair)
        if projection is None or sheet is None or not pair.handmade:
            continue
        if pair.pair.choices.get("bridge_build") == "built_up":
            continue
        needed = abs(projection.number) + rim
        if exceeds(needed, sheet):
            yield Seen(
                severity=ASK,
                on=(projection, facts.stated(f"pair.{pair.number}.sheet_mm", amount(sheet))),
                message=f"{in_words(projection.number).capitalize()} and {amount(rim)} of rim need "
                f"{rounded(needed)}; "
                f"the sheet of pair {pair.number} is {amount(sheet)}.",
            )


@check(
    "keyhole-flat-nose",
    family=FAMILY,
    title="Keyhole bridge on a flat nose",
    looks_at="a keyhole bridge, crest height and projection",
    why="A keyhole stands clear of the crest and bears on the flanks, which a flat nose hardly has.",
    limits="note where the crest is 2 mm high or less and not in front of the lashes",
    suggest="Show the patient how a keyhole would sit, or choose a bridge that bears all round.",
    cost="It slides down.",
    source=COMMON_PRACTICE,
    severities=(NOTE,),
)
def keyhole_flat_nose(facts: Facts) -> Iterator[Seen]:
    """Keyhole, low crest, nothing in front of the lashes."""
    projection, crest = facts.value("bridge_projection"), facts.mean("crest_height")
    for pair in facts.pairs:
        if pair.pair.bridge_style != "keyhole" or projection is None or crest is None:
            continue
        if crest.number <= LOW_CREST_MM and projection.number <= 0:
            yield Seen(
                severity=NOTE,
                on=(projection, crest, facts.stated(f"pair.{pair.number}.bridge_style", "keyhole")),
                message=f"Pair {pair.number} is to have a keyhole bridge; the crest is {crest} above the lid and "
                "not in front of the lashes.",
            )


@check(
    "pads-without-place",
    family=FAMILY,
    title="Pads without their place",
    looks_at="a bridge with pads, and where the pads are to sit",
    why="A bench cannot guess separation, height and set-back of pads.",
    limits="ask where a handmade pair has pads and their place is not given",
    suggest="Give the separation of the pad centres, their height from the centre line, and the set-back.",
    cost="The bench stops and asks.",
    source=COMMON_PRACTICE,
    severities=(ASK,),
    holds_back=False,
)
def pads_without_place(facts: Facts) -> Iterator[Seen]:
    """Pads, and no place for them."""
    for pair in facts.pairs:
        style = pair.pair.bridge_style
        if pair.handmade and style in ("pad", "pads_on_arms") and not pair.pair.choices.get("pad_centres"):
            yield Seen(
                severity=ASK,
                on=(facts.stated(f"pair.{pair.number}.bridge_style", style),),
                message=f"Pair {pair.number} is to have pads; where they sit is not given.",
            )

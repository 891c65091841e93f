"""The front of a pair against the head it goes on: widths, let-back, decentration and blank."""

from collections.abc import Iterator

from app.catalogue.measurement import SIDE_WORDS, SIDES
from app.frame.ordered_sides import head_width, let_back_angle, temple_width
from app.optics.boxed_system import smallest_blank_by_rule
from app.plausibility.check import Seen, above, check, exceeds
from app.plausibility.facts import Facts
from app.plausibility.finding import Severity
from app.plausibility.value import amount, rounded
from app.reference.bibliography import COMMON_PRACTICE, ISO_8624

ASK, NOTE, STOP = Severity.ASK, Severity.NOTE, Severity.STOP
FAMILY = "pair"
USUAL_LET_BACK_DEG = 92.5
"""Middle of what a bench sets without asking, 89 to 96. Common practice."""
BENCH_ASKS = "The bench asks back: it cannot set the sides neatly."


@check(
    "front-temple-width",
    family=FAMILY,
    title="Front against temple width",
    looks_at="width between the joints of the handmade front (two lens widths, distance between lenses, two lugs) "
    "and the temple width",
    why="A front much narrower or wider than the temples needs an extreme let-back.",
    limits="note above 12 mm, ask above 20 mm",
    suggest="Wider lugs, or another lens width?",
    cost=BENCH_ASKS,
    source=COMMON_PRACTICE,
    severities=(NOTE, ASK),
)
def front_temple_width(facts: Facts) -> Iterator[Seen]:
    """|joint width − temple width|."""
    temple = facts.value("temple_width")
    for pair in facts.pairs:
        front = pair.joint_width
        if temple is None or front is None or not pair.handmade:
            continue
        severity = above(abs(front.number - temple.number), note=12, ask=20)
        if severity is not None:
            yield Seen(
                severity=severity,
                on=(front, temple),
                message=f"Pair {pair.number} is {front} wide between its joints, the temples are {temple}: "
                f"{rounded(abs(front.number - temple.number))} apart.",
            )


@check(
    "let-back",
    family=FAMILY,
    title="Angle of let-back",
    looks_at="90° + arctan((ordered head width − width between joints) / 2 / length to bend) of the handmade front",
    why="The sides open from the joints to the ordered head width; joints can be set only so far.",
    limits="note outside 89° to 96°, ask outside 86° to 100°",
    suggest="Wider lugs, another lens width, or agree the angle with the bench.",
    cost=BENCH_ASKS,
    source=f"geometry of a straight side; {COMMON_PRACTICE} for what a bench can set",
    severities=(NOTE, ASK),
)
def let_back(facts: Facts) -> Iterator[Seen]:
    """Let-back of each side, said once for the worse."""
    head = facts.value("head_width")
    for pair in facts.pairs:
        front, ordered = pair.joint_width, head_width(pair.sheet).ordered
        if head is None or front is None or ordered is None or not pair.handmade:
            continue
        angles = [
            (angle, length)
            for side in SIDES
            if (angle := let_back_angle(pair.sheet, side).ordered) is not None
            and (length := facts.value("length_to_tangent", side)) is not None
        ]
        if not angles:
            continue
        angle, length = max(angles, key=lambda one: abs(one[0] - USUAL_LET_BACK_DEG))
        severity = above(angle, note=96, ask=100) or above(-angle, note=-89, ask=-86)
        if severity is not None:
            yield Seen(
                severity=severity,
                on=(head, front, length),
                message=f"Let-back of pair {pair.number} comes to {rounded(angle, 'deg', digits=2)} "
                f"(head {amount(ordered)} ordered, {front} between joints); 89° to 96° is usual.",
            )


@check(
    "ordered-widths",
    family=FAMILY,
    title="Ordered head and temple width",
    looks_at="ordered against facial temple width, ordered against facial head width, and the two ordered widths",
    why="A frame must not press at the temples, must hold at the head, and must open backwards.",
    limits="ask where the ordered temple width is below the facial one, the ordered head width above the facial "
    "one, or the ordered head width below the ordered temple width",
    suggest="Look at head and temple width and at the practice's adjustments.",
    cost="The frame presses, or flies away from the head.",
    source=COMMON_PRACTICE,
    severities=(ASK,),
)
def ordered_widths(facts: Facts) -> Iterator[Seen]:
    """Ordered widths that cannot be worn."""
    head, temple = facts.value("head_width"), facts.value("temple_width")
    made = next((pair for pair in facts.pairs if pair.handmade), None)
    if head is None or temple is None or made is None:
        return
    at_head, at_temple = head_width(made.sheet).ordered, temple_width(made.sheet).ordered
    if at_head is None or at_temple is None:
        return
    wrong = []
    if exceeds(temple.number, at_temple):
        wrong.append(f"temple width {amount(at_temple)} is ordered for {temple} on the face")
    if exceeds(at_head, head.number):
        wrong.append(f"head width {amount(at_head)} is ordered for {head} on the face")
    if exceeds(at_temple, at_head):
        wrong.append(f"head width {amount(at_head)} is ordered with a temple width of {amount(at_temple)}")
    if wrong:
        words = "; ".join(wrong)
        yield Seen(severity=ASK, on=(head, temple), message=f"{words[0].upper()}{words[1:]}.")


@check(
    "decentration",
    family=FAMILY,
    title="Decentration of each lens",
    looks_at="half the distance between boxed centres less the single-eye PD; minus is outward",
    why="A lens far off centre needs a larger blank and is thick on one side.",
    limits="note above 3 mm inward, ask above 5 mm inward or more than 1 mm outward",
    suggest="A smaller lens, or a wider bridge?",
    cost="A large blank, a thick edge, and the eyes do not look centred in the frame.",
    source=f"boxing system of {ISO_8624}; limits: {COMMON_PRACTICE}",
    severities=(NOTE, ASK),
)
def decentration(facts: Facts) -> Iterator[Seen]:
    """(a + distance between lenses) / 2 − single-eye PD."""
    for pair in facts.pairs:
        for side in SIDES:
            inward = pair.decentration(side)
            if inward is None:
                continue
            severity = ASK if exceeds(-inward.number, 1) else above(inward.number, note=3, ask=5)
            if severity is not None:
                width, between, centration = inward.parts
                way = "in" if inward.number >= 0 else "out"
                yield Seen(
                    severity=severity,
                    on=(inward,),
                    message=f"Pair {pair.number}, {SIDE_WORDS[side]}: {rounded(abs(inward.number))} {way} "
                    f"(lens {width}, between lenses {between}, centred at {centration}); "
                    "1 mm out to 3 mm in is usual.",
                )


@check(
    "smallest-blank",
    family=FAMILY,
    title="Smallest blank",
    looks_at="longest diameter + 2 × the larger decentration + edging allowance",
    why="Blanks come in sizes; beyond about 70 mm choice is small.",
    limits="note above 65 mm, ask above 70 mm, stop above 80 mm",
    suggest="A smaller lens, a wider bridge, or ask the lens maker which blanks there are.",
    cost="The lens cannot be cut from the blank that comes.",
    source=COMMON_PRACTICE,
    severities=(NOTE, ASK, STOP),
)
def smallest_blank(facts: Facts) -> Iterator[Seen]:
    """Longest diameter + 2 × decentration + edging."""
    for pair in facts.pairs:
        longest, inward = pair.longest_diameter, pair.largest_decentration
        if longest is None or inward is None:
            continue
        blank = smallest_blank_by_rule(
            effective_diameter_mm=longest.number,
            decentration_mm=inward.number,
            allowance_mm=facts.settings.adjustments.edging_allowance_mm,
        )
        severity = above(blank, note=65, ask=70, stop=80)
        if severity is not None:
            yield Seen(
                severity=severity,
                on=(longest, inward),
                message=f"Pair {pair.number} needs a blank of {rounded(blank)} (longest diameter {longest}, "
                f"decentration {rounded(abs(inward.number))}); up to 65 mm is usual.",
                root=(),
            )

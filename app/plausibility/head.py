"""The head: widths, circumference, diagonals and length against one another."""

from collections.abc import Iterator
from dataclasses import dataclass
from statistics import fmean

from app.catalogue.measurement import SIDE_WORDS, SIDES, Side
from app.fitting.entry import show_number
from app.plausibility import geometry
from app.plausibility.check import Seen, above, check, exceeds, swapped
from app.plausibility.facts import Facts
from app.plausibility.finding import Severity
from app.plausibility.slips import exchanged_offers
from app.plausibility.value import Value, amount, rounded
from app.reference.bibliography import ANSUR_2, COMMON_PRACTICE

ASK, NOTE, STOP = Severity.ASK, Severity.NOTE, Severity.STOP
FAMILY = "head"
SIDES_COST = "Sides set to a wrong width press at the temples or let the frame slip."
LEAST_RATIO, GREATEST_RATIO = 3.4, 4.65
OTHER_SIDE: dict[Side, Side] = {"R": "L", "L": "R"}


@check(
    "head-temple-width",
    family=FAMILY,
    title="Head width against temple width",
    looks_at="head width less temple width",
    why="The head is wider at the ears than at the temples.",
    limits="ask below 4 mm or above 25 mm, stop where the head width is not the larger",
    suggest="See whether the two stand in each other's box; else take both again over hair pressed flat.",
    cost="Sides that open the wrong way: the frame crawls forward.",
    source="teaching notes on facial measurement: temple width must be less than head width "
    f"(knowt.com/flashcards/9b6d31fb-1cf0-443b-b937-647e1ccbaab6); 4 to 25 mm: {COMMON_PRACTICE}",
    severities=(ASK, STOP),
)
def head_temple_width(facts: Facts) -> Iterator[Seen]:
    """Head width − temple width."""
    head, temple = facts.value("head_width"), facts.value("temple_width")
    if head is None or temple is None:
        return
    more = head.number - temple.number
    if more > 0 and not exceeds(4, more) and not exceeds(more, 25):
        return
    yield Seen(
        severity=STOP if more <= 0 else ASK,
        on=(head, temple),
        message=f"Head width {head}, temple width {temple}: the head is usually 4 to 25 mm wider, "
        f"here {amount(more)}.",
        suspect=facts.unusual_one(head, temple),
        offers=(swapped(head, temple),) if more < 0 else (),
    )


@check(
    "circumference-head-width",
    family=FAMILY,
    title="Head circumference against head width",
    looks_at="head circumference divided by head width",
    why="A head is nearly an ellipse, so the tape reads 3.4 to 4.65 times the width at the ears.",
    limits="ask below 3.4 or above 4.65",
    suggest="Was the tape level and snug, and the caliper at the ear points? Take both again.",
    cost=SIDES_COST,
    source=f"{ANSUR_2}: circumference 3.45 to 4.07 times the greatest breadth; the width at the ear points lies "
    "about 8 mm inside that",
    severities=(ASK,),
)
def circumference_head_width(facts: Facts) -> Iterator[Seen]:
    """Circumference ÷ head width."""
    around, width = facts.value("head_circumference"), facts.value("head_width")
    if around is None or width is None or width.number <= 0:
        return
    ratio = around.number / width.number
    if exceeds(LEAST_RATIO, ratio) or exceeds(ratio, GREATEST_RATIO):
        yield Seen(
            severity=ASK,
            on=(around, width),
            message=f"Circumference {around} is {ratio:.2f} times the head width of {width}; "
            f"{show_number(LEAST_RATIO)} to {show_number(GREATEST_RATIO)} is usual: "
            f"{rounded(LEAST_RATIO * width.number)} to {rounded(GREATEST_RATIO * width.number)}.",
            suspect=facts.unusual_one(around, width),
        )


@check(
    "head-diagonals",
    family=FAMILY,
    title="The two head diagonals",
    looks_at="diagonal from right temple to left ear against the other",
    why="They are equal in a square head; a difference shows one ear set back, or a slip.",
    limits="note above 3 mm, ask above 6 mm",
    suggest="Does the length to tangent differ as well? Measure both diagonals again.",
    cost="One side long, one short: the front sits askew.",
    source=COMMON_PRACTICE,
    severities=(NOTE, ASK),
)
def head_diagonals(facts: Facts) -> Iterator[Seen]:
    """R − L diagonal."""
    both = facts.both("head_diagonal")
    if both is None:
        return
    right, left = both
    apart = abs(right.number - left.number)
    severity = above(apart, note=3, ask=6)
    if severity is not None:
        yield Seen(
            severity=severity,
            on=both,
            message=f"Diagonals {right} (right temple to left ear) and {left}: {amount(apart)} apart.",
            suspect=facts.unusual_one(right, left),
            offers=exchanged_offers(right, left),
        )


@check(
    "diagonal-widths-length",
    family=FAMILY,
    title="Diagonals against widths and length",
    looks_at="the mean of the diagonals, and √(((temple width + head width) / 2)² + (length to tangent − 25)²) as "
    "the mean for the ears that they end at",
    why="Two widths and a length settle the diagonal of the trapezium between temples and ears.",
    limits="note above 4 mm, ask above 8 mm between the two means",
    suggest="Which of the three is off? Take first the one that is unusual.",
    cost=SIDES_COST,
    source=f"geometry; the temple width lies 25 mm behind the front; limits: {COMMON_PRACTICE}",
    severities=(NOTE, ASK),
)
def diagonal_widths_length(facts: Facts) -> Iterator[Seen]:
    """Mean diagonal − the mean of the trapeziums'."""
    head, temple = facts.value("head_width"), facts.value("temple_width")
    if head is None or temple is None:
        return
    ends = [one for side in SIDES if (one := _diagonal_to(facts, side, head=head, temple=temple)) is not None]
    if not ends:
        return
    found, expected = (
        fmean(numbers) for numbers in zip(*((one.found, one.expected) for one in ends), strict=True)
    )
    severity = above(abs(found - expected), note=4, ask=8)
    if severity is None:
        return
    worst = max(ends, key=lambda one: abs(one.found - one.expected))
    shown = " and ".join(dict.fromkeys(str(one.diagonal) for one in ends))
    lengths = " and ".join(dict.fromkeys(str(one.length) for one in ends))
    values = (*(one.diagonal for one in ends), temple, head, *(one.length for one in ends))
    yield Seen(
        severity=severity,
        on=values,
        message=f"Diagonals of {shown}; widths {temple} and {head} and lengths of {lengths} make about "
        f"{rounded(expected)}. The one to the ear at the {SIDE_WORDS[worst.ear]} is furthest off.",
        suspect=facts.unusual_one(*values) or worst.diagonal.subject,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Diagonal:
    """One diagonal, the ear that it ends at with its length, and what widths and length make of it."""

    diagonal: Value
    ear: Side
    length: Value
    expected: float

    @property
    def found(self) -> float:
        return self.diagonal.number


def _diagonal_to(facts: Facts, ear: Side, *, head: Value, temple: Value) -> _Diagonal | None:
    diagonal, length = facts.value("head_diagonal", OTHER_SIDE[ear]), facts.value("length_to_tangent", ear)
    if diagonal is None or length is None:
        return None
    expected = geometry.diagonal_mm(
        temple_width_mm=temple.number, head_width_mm=head.number, length_to_tangent_mm=length.number
    )
    return _Diagonal(diagonal=diagonal, ear=ear, length=length, expected=expected)

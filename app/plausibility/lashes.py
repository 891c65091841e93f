"""Lashes: room behind the lens, and right against left."""

from collections.abc import Iterator

from app.plausibility.check import Seen, at_least, check, exceeds
from app.plausibility.facts import Facts
from app.plausibility.finding import Severity
from app.plausibility.value import amount
from app.plausibility.wording import PAUSE, PAUSE_COST
from app.reference.bibliography import COMMON_PRACTICE

ASK, NOTE, STOP, REFER = Severity.ASK, Severity.NOTE, Severity.STOP, Severity.REFER
FAMILY = "lashes"
MUCH_ROOM_MM, LEAST_ROOM_MM = 6.0, 1.0


@check(
    "lash-room",
    family=FAMILY,
    title="Room for the lashes",
    looks_at="vertex distance, worn or planned, less the longer lash projection",
    why="Lashes that brush the lens smear it at every blink; much room means a lens far out.",
    limits="note above 6 mm, ask below the practice's least room (2 mm), stop below 1 mm",
    suggest="Plan more projection or a greater vertex distance, or measure the lashes again.",
    cost="Lashes brush: the pair comes back on the first day.",
    source=COMMON_PRACTICE,
    severities=(NOTE, ASK, STOP),
)
def lash_room(facts: Facts) -> Iterator[Seen]:
    """Vertex − lash projection."""
    lash = facts.largest("lash_projection")
    for pair in facts.pairs:
        vertex = pair.vertex
        if lash is None or vertex is None:
            continue
        room = vertex.number - lash.number
        severity = NOTE if exceeds(room, MUCH_ROOM_MM) else None
        if exceeds(LEAST_ROOM_MM, room):
            severity = STOP
        elif exceeds(facts.settings.adjustments.least_lash_room_mm, room):
            severity = ASK
        if severity is not None:
            yield Seen(
                severity=severity,
                on=(vertex, lash),
                message=f"Pair {pair.number}: vertex distance {vertex} and lashes of {lash} leave {amount(room)}; "
                f"{amount(facts.settings.adjustments.least_lash_room_mm)} to {amount(MUCH_ROOM_MM)} is usual.",
                suspect=facts.unusual_one(vertex, lash),
            )


@check(
    "lash-projection-sides",
    family=FAMILY,
    title="Lash projection right and left",
    looks_at="right against left lash projection",
    why="Both eyes usually stand equally far forward; a difference may be a slip or something to be seen.",
    limits="note from 1 mm, refer from 2 mm; left out with a prosthesis",
    suggest=f"Measure both again. {PAUSE}",
    cost=PAUSE_COST,
    source=f"{COMMON_PRACTICE}; of 1,063 adults none differed by more than 2 mm in how far the eyes stand forward "
    "(Tehran exophthalmometry study, PMID 18832980)",
    severities=(NOTE, REFER),
)
def lash_projection_sides(facts: Facts) -> Iterator[Seen]:
    """R − L lash projection."""
    both = facts.both("lash_projection")
    if both is None or facts.one_eye:
        return
    right, left = both
    severity = at_least(abs(right.number - left.number), note=1, refer=2)
    if severity is not None:
        yield Seen(
            severity=severity,
            on=both,
            message=f"Lash projection right {right}, left {left}: {amount(abs(right.number - left.number))} apart.",
            suggest="Measure both again." if severity is NOTE else "",
        )


@check(
    "lashes-touch",
    family=FAMILY,
    title="Lashes touch on blinking",
    looks_at="what was seen on a hard blink, and the room worked out",
    why="What was seen goes before what was worked out.",
    limits="ask where the lashes were seen to touch the lenses",
    suggest="Plan more projection or a greater vertex distance.",
    cost="Lashes brush: the pair comes back on the first day.",
    source=COMMON_PRACTICE,
    severities=(ASK,),
    holds_back=False,
)
def lashes_touch(facts: Facts) -> Iterator[Seen]:
    """Observed contact of lashes and lens."""
    if facts.history("blink") == "touch":
        yield Seen(
            severity=ASK,
            on=(facts.stated("history.blink", "touch"),),
            message="On blinking hard the lashes were seen to touch the lenses.",
        )

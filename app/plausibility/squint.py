"""PDs where a squint is recorded: what the rule reads then, and how single-eye PDs have to be taken."""

from collections.abc import Iterator

from app.fitting.preferred import COVERED
from app.plausibility import geometry
from app.plausibility.check import Seen, check
from app.plausibility.facts import RULE, Facts
from app.plausibility.finding import Severity
from app.plausibility.value import amount, rounded
from app.plausibility.wording import PRISM_COST
from app.reference.bibliography import COMMON_PRACTICE

ASK, NOTE = Severity.ASK, Severity.NOTE
FAMILY = "pupil distances"


@check(
    "squint-shift",
    family=FAMILY,
    title="Rule with both eyes open in a squint",
    looks_at="the rule's PD against the single-eye PDs, and the deviation found at distance",
    why="A turned eye's pupil is carried sideways, about 0.1 mm for each prism dioptre, so the rule with both eyes "
    "open is wrong by design.",
    limits="shown as information wherever a squint is recorded and both were taken",
    suggest="Use the covered single-eye values; the rule's reading is only kept.",
    cost=PRISM_COST,
    source=f"0.1 mm for each prism dioptre: {COMMON_PRACTICE}; a prism dioptre is 1 in 100, and the pupil turns "
    "about a centre some 10.5 mm behind it (from memory of schematic eyes)",
    severities=(NOTE,),
)
def squint_shift(facts: Facts) -> Iterator[Seen]:
    """Rule − (R + L), and what the deviation would make it."""
    rule, total = facts.value("pd_distance", method=RULE), facts.single_eye_sum
    if not facts.squint or rule is None or total is None:
        return
    found = rule.number - total.number
    message = f"The rule reads {rule}, the two single eyes add up to {total}: {amount(found)} apart."
    far = facts.fitting.cover_test.distance
    if far is not None and far.finding == "manifest" and far.size and far.direction in ("in", "out"):
        sign = 1 if far.direction == "out" else -1
        expected = sign * geometry.squint_shift_mm(deviation_prism=far.size)
        message += f" About {rounded(expected)} is expected with the squint recorded."
    yield Seen(severity=NOTE, on=(rule, *total.parts), message=message)


@check(
    "squint-not-covered",
    family=FAMILY,
    title="Single-eye PDs in a squint without covering",
    looks_at="whether each single-eye PD was taken with the other eye covered, where a squint is recorded",
    why="With both eyes open the turned eye does not look straight ahead.",
    limits="ask where a single-eye PD is not marked as taken with the other eye covered",
    suggest="Cover the other eye and take each single-eye PD again.",
    cost=PRISM_COST,
    source=COMMON_PRACTICE,
    severities=(ASK,),
)
def squint_not_covered(facts: Facts) -> Iterator[Seen]:
    """A squint, and a single-eye PD taken with both eyes open."""
    if not facts.squint:
        return
    eyes = (facts.value("pd_monocular", "R"), facts.value("pd_monocular", "L"))
    uncovered = [eye for eye in eyes if eye and COVERED not in (eye.subject.method, eye.condition)]
    if uncovered:
        shown = " and ".join(str(eye) for eye in uncovered)
        yield Seen(
            severity=ASK,
            on=tuple(uncovered),
            message=f"A squint is recorded, and the single-eye PD of {shown} is not marked “other eye covered”.",
        )


@check(
    "pd-without-method",
    family=FAMILY,
    title="A distance PD without its method in a squint",
    looks_at="distance PDs whose method was not recorded, where a squint is recorded",
    why="In a squint only a PD taken eye by eye can be used, and this one does not say how it was taken.",
    limits="note where a squint is recorded and a distance PD has no method",
    suggest="Say how it was taken; until then it is not compared with anything.",
    cost=PRISM_COST,
    source=COMMON_PRACTICE,
    severities=(NOTE,),
)
def pd_without_method(facts: Facts) -> Iterator[Seen]:
    """A PD that cannot be judged in a squint."""
    unnamed = [value for value in facts.all("pd_distance") if value.subject.method is None]
    if facts.squint and unnamed:
        yield Seen(
            severity=NOTE,
            on=tuple(unnamed),
            message=f"A squint is recorded, and the distance PD of {unnamed[0]} does not say how it was taken.",
        )

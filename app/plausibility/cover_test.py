"""The cover test as recorded: what has to be seen by the practitioner, and what contradicts itself."""

from collections.abc import Iterator

from app.fitting.cover_test import CoverFinding
from app.plausibility.check import Seen, check, exceeds
from app.plausibility.facts import Facts
from app.plausibility.finding import Severity
from app.plausibility.value import Stated, amount
from app.plausibility.wording import PAUSE, PAUSE_COST, REFERRAL_SOURCE
from app.reference.bibliography import COMMON_PRACTICE

ASK, NOTE, REFER = Severity.ASK, Severity.NOTE, Severity.REFER
FAMILY = "cover test"
WHERE = {"distance": "at distance", "near": "at near"}
LATENT_NOTE = {("distance", "in"): 4, ("distance", "out"): 6, ("near", "in"): 4, ("near", "out"): 10}
LATENT_NOTE_VERTICAL = 2


def _parts(facts: Facts) -> Iterator[tuple[str, CoverFinding]]:
    test = facts.fitting.cover_test
    for where, part in (("distance", test.distance), ("near", test.near)):
        if part is not None:
            yield where, part


def _stated(facts: Facts, where: str, part: CoverFinding) -> tuple[Stated, ...]:
    size = None if part.size is None else f"{part.size:g}"
    return (
        facts.stated(f"cover_test.{where}.finding", part.finding),
        facts.stated(f"cover_test.{where}.direction", part.direction),
        facts.stated(f"cover_test.{where}.size", size),
        facts.stated(f"cover_test.{where}.known", part.known),
    )


@check(
    "cover-test-manifest",
    family=FAMILY,
    title="A manifest deviation that the prescriber may not know of",
    looks_at="the cover test at distance and near, and whether the prescriber knows of what was seen",
    why="A deviation that is new, or not known, has to be seen before anything is dispensed.",
    limits="refer where it is manifest and not known to the prescriber, or this is not known; "
    "ask where it was not said",
    suggest=PAUSE,
    cost=PAUSE_COST,
    source=REFERRAL_SOURCE,
    severities=(ASK, REFER),
)
def cover_test_manifest(facts: Facts) -> Iterator[Seen]:
    """Manifest and not known to the prescriber."""
    for where, part in _parts(facts):
        if part.finding != "manifest" or part.known == "yes":
            continue
        stated = _stated(facts, where, part)
        if part.known is None:
            yield Seen(
                severity=ASK,
                on=stated,
                about=(stated[0].subject,),
                message=f"A manifest deviation is recorded {WHERE[where]}; "
                "whether the prescriber knows of it is not.",
                suggest="Does it match the prescriber's note? Say yes, no or not known.",
            )
        else:
            known = (
                "not known to the prescriber" if part.known == "no" else "perhaps not known to the prescriber"
            )
            yield Seen(
                severity=REFER,
                on=stated,
                about=(stated[0].subject,),
                message=f"A manifest deviation is recorded {WHERE[where]}, {known}.",
            )


@check(
    "cover-test-contradiction",
    family=FAMILY,
    title="A cover test that contradicts itself",
    looks_at="finding, direction, eye, size and recovery at each distance",
    why="No movement has no size; a deviation has a direction; one that is manifest has an eye.",
    limits="ask where something is recorded that the finding excludes, or left out that it needs",
    suggest="Complete or correct the cover test.",
    cost="A record that says two things says nothing to the next who reads it.",
    source=COMMON_PRACTICE,
    severities=(ASK,),
)
def cover_test_contradiction(facts: Facts) -> Iterator[Seen]:
    """Findings that exclude one another, or are not complete."""
    for where, part in _parts(facts):
        wrong = _contradictions(part)
        if wrong:
            stated = _stated(facts, where, part)
            yield Seen(
                severity=ASK,
                on=stated,
                about=(stated[0].subject,),
                message=f"Cover test {WHERE[where]}: {'; '.join(wrong)}.",
            )


def _contradictions(part: CoverFinding) -> list[str]:
    wrong = []
    if part.finding in ("none", "not_applicable"):
        if part.size or part.direction or part.size_words:
            wrong.append("a direction or size without a movement")
        return wrong
    if part.direction is None:
        wrong.append("a movement without its direction")
    if part.finding == "manifest" and part.eye is None:
        wrong.append("a manifest deviation without its eye")
    if part.finding == "manifest" and part.recovery in ("quick", "slow"):
        wrong.append("a recovery, which only a latent movement has")
    return wrong


@check(
    "cover-test-latent",
    family=FAMILY,
    title="A latent deviation larger than most",
    looks_at="direction and size of a latent movement, and how it recovers",
    why="Most people have a small latent movement; a large one, or one that recovers slowly with the "
    "spectacles on, is worth a word to the prescriber.",
    limits="note above 4 in or 6 out at distance, 4 in or 10 out at near, 2 up or down (prism dioptres), or where "
    "recovery is slow or absent with spectacles on",
    suggest="Compare it with the prescriber's note.",
    cost="A prism that is needed and was not copied shows only when the pair is worn.",
    source="Morgan's expected values: 1 ± 2 out at distance, 3 ± 3 out at near (Scheiman and Wick, Clinical "
    "Management of Binocular Vision), taken at 2.5 standard deviations; common practice for the vertical",
    severities=(NOTE,),
)
def cover_test_latent(facts: Facts) -> Iterator[Seen]:
    """Latent and large, or slow to recover."""
    for where, part in _parts(facts):
        if part.finding != "latent" or part.direction is None:
            continue
        limit = LATENT_NOTE.get((where, part.direction), LATENT_NOTE_VERTICAL)
        large = part.size is not None and exceeds(part.size, limit)
        slow = part.recovery in ("slow", "none") and part.with_spectacles is True
        if large or slow:
            size = amount(part.size, "prism") if part.size is not None else "of unstated size"
            stated = _stated(facts, where, part)
            yield Seen(
                severity=NOTE,
                on=stated,
                about=(stated[0].subject,),
                message=f"A latent movement {part.direction} {WHERE[where]}, {size}"
                + (f", recovery {part.recovery}" if part.recovery else "")
                + f"; up to {limit} is usual.",
            )


@check(
    "objects-to-cover",
    family=FAMILY,
    title="Objects when one eye is covered",
    looks_at="whether the patient objects to the cover on one side",
    why="Somebody who objects to one side only may be seeing with that eye only.",
    limits="refer where the patient objects to one side",
    suggest=PAUSE,
    cost=PAUSE_COST,
    source=REFERRAL_SOURCE,
    severities=(REFER,),
)
def objects_to_cover(facts: Facts) -> Iterator[Seen]:
    """Objects to cover of one side."""
    side = facts.history("objects_to_cover")
    if side in ("R", "L"):
        yield Seen(
            severity=REFER,
            on=(facts.stated("history.objects_to_cover", side),),
            message=f"The patient objects when the {'right' if side == 'R' else 'left'} eye is covered.",
        )

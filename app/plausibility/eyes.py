"""Pupils, irises and lids: each against the other eye's, and against one another."""

from collections.abc import Iterator

from app.catalogue.measurement import SIDE_WORDS, SIDES
from app.plausibility.check import Seen, at_least, check, exceeds, reaches
from app.plausibility.facts import Facts, declared
from app.plausibility.finding import Severity
from app.plausibility.value import Value, amount, rounded
from app.plausibility.wording import PAUSE, PAUSE_COST, REFERRAL_SOURCE
from app.reference.bibliography import COMMON_PRACTICE, LAM_1987, LAM_1995, READ_2006, RUFER_2005

ASK, NOTE, STOP, REFER = Severity.ASK, Severity.NOTE, Severity.STOP, Severity.REFER
FAMILY = "pupils and lids"
HEIGHTS_COST = "Heights taken from this lid, and a segment planned from it, will be off."


@check(
    "pupil-iris",
    family=FAMILY,
    title="Pupil against iris",
    looks_at="horizontal pupil and iris of each eye",
    why="The pupil is the opening in the iris: always smaller, seldom more than 0.6 of it in room light.",
    limits="ask above 0.6 of the iris, stop where the pupil is not smaller than the iris",
    suggest="Is the room dim, were drops given, or do the two stand in each other's box?",
    cost="None at the bench; centration on a wide pupil is less certain.",
    source=f"anatomy; irises {RUFER_2005}; share of 0.6: {COMMON_PRACTICE}",
    severities=(ASK, STOP),
)
def pupil_iris(facts: Facts) -> Iterator[Seen]:
    """Pupil > 0.6 × iris, pupil ≥ iris."""
    for side in SIDES:
        pupil, iris = facts.value("pupil_horizontal", side), facts.value("iris_diameter", side)
        if pupil is None or iris is None:
            continue
        if not exceeds(pupil.number, 0.6 * iris.number):
            continue
        yield Seen(
            severity=STOP if reaches(pupil.number, iris.number) else ASK,
            on=(pupil, iris),
            message=f"Pupil {pupil} in an iris of {iris}, {SIDE_WORDS[side]}: usually less than 0.6 of it, "
            f"here below {rounded(0.6 * iris.number)}.",
            suspect=facts.unusual_one(pupil, iris),
        )


def _compare(facts: Facts, measurement: str, severity: Severity, more: str = "") -> Iterator[Seen]:
    both = facts.both(measurement)
    if both is None:
        return
    right, left = both
    apart = abs(right.number - left.number)
    yield Seen(
        severity=severity,
        on=both,
        message=f"{declared(right).label} right {right}, left {left}: {amount(apart)} apart{more}.",
        suggest="" if severity is REFER else "Measure both again in the same light.",
    )


def _apart(facts: Facts, measurement: str) -> float:
    """Difference of right and left; 0 where not both were taken, or one eye is a prosthesis."""
    both = None if facts.one_eye else facts.both(measurement)
    return 0.0 if both is None else abs(both[0].number - both[1].number)


@check(
    "pupils-unequal",
    family=FAMILY,
    title="Pupils right and left",
    looks_at="right against left horizontal pupil; with it the lid apertures",
    why="About one in five has a small, harmless difference; a larger one, or one with a lid that hangs, "
    "has to be seen.",
    limits="note from 0.5 mm; refer from 1.0 mm, or from 0.5 mm where the lid apertures differ by 1 mm or more; "
    "left out with a prosthesis",
    suggest=PAUSE,
    cost=PAUSE_COST,
    source=f"{LAM_1987}: 19 % of healthy people differ by 0.4 mm or more at one look; {REFERRAL_SOURCE}",
    severities=(NOTE, REFER),
)
def pupils_unequal(facts: Facts) -> Iterator[Seen]:
    """R − L pupil."""
    apart = _apart(facts, "pupil_horizontal")
    severity = at_least(apart, note=0.5, refer=1.0)
    if severity is None:
        return
    lids_apart = _apart(facts, "lid_aperture")
    with_lids = severity is NOTE and reaches(lids_apart, 1.0)
    more = f", and the lid apertures {amount(lids_apart)}" if with_lids else ""
    yield from _compare(facts, "pupil_horizontal", REFER if with_lids else severity, more)


@check(
    "irises-unequal",
    family=FAMILY,
    title="Irises right and left",
    looks_at="right against left iris",
    why="Both irises are nearly always the same size; a prosthesis or an eye of another size shows here.",
    limits="note above 0.5 mm, refer above 1.0 mm (under 16: above 0.5 mm); left out with a prosthesis",
    suggest=f"A prosthesis? Known? {PAUSE}",
    cost=PAUSE_COST,
    source=f"{RUFER_2005}: no difference between right and left; {REFERRAL_SOURCE}",
    severities=(NOTE, REFER),
)
def irises_unequal(facts: Facts) -> Iterator[Seen]:
    """R − L iris."""
    apart = _apart(facts, "iris_diameter")
    if exceeds(apart, 0.5 if facts.child else 1.0):
        yield from _compare(facts, "iris_diameter", REFER)
    elif exceeds(apart, 0.5):
        yield from _compare(facts, "iris_diameter", NOTE)


@check(
    "lids-unequal",
    family=FAMILY,
    title="Lid apertures right and left",
    looks_at="right against left lid aperture",
    why="A difference of 1 mm is found in 1 of 18 people; a larger one has to be seen, above all if it is new.",
    limits="note from 1 mm, refer from 2 mm; left out with a prosthesis",
    suggest=PAUSE,
    cost=PAUSE_COST,
    source=f"{LAM_1995}: 1 mm or more in 5.7 %, at most 2.1; {REFERRAL_SOURCE}",
    severities=(NOTE, REFER),
)
def lids_unequal(facts: Facts) -> Iterator[Seen]:
    """R − L lid aperture."""
    severity = at_least(_apart(facts, "lid_aperture"), note=1, refer=2)
    if severity is not None:
        yield from _compare(facts, "lid_aperture", severity)


@check(
    "lids-iris",
    family=FAMILY,
    title="Lid aperture against iris",
    looks_at="lid aperture and iris of each eye",
    why="The lids usually cover a little of the iris above, and touch it below.",
    limits="note below 0.6 of the iris, ask above the whole iris",
    suggest="Is the brow relaxed? Measure again. If the lid is new like this, let the registered practitioner "
    "see it.",
    cost=HEIGHTS_COST,
    source=f"{READ_2006}: aperture 9.7 ± 1.2 mm; {RUFER_2005}: iris 11.7 mm; shares: {COMMON_PRACTICE}",
    severities=(NOTE, ASK),
)
def lids_iris(facts: Facts) -> Iterator[Seen]:
    """Aperture < 0.6 × iris, aperture > iris."""
    for side in SIDES:
        lids, iris = facts.value("lid_aperture", side), facts.value("iris_diameter", side)
        if lids is None or iris is None:
            continue
        wide, narrow = exceeds(lids.number, iris.number), exceeds(0.6 * iris.number, lids.number)
        if wide or narrow:
            yield Seen(
                severity=ASK if wide else NOTE,
                on=(lids, iris),
                message=f"Lid aperture {lids} with an iris of {iris}, {SIDE_WORDS[side]}: usually "
                f"{rounded(0.6 * iris.number)} to {iris}.",
                suspect=facts.unusual_one(lids, iris),
            )


@check(
    "lids-pupil",
    family=FAMILY,
    title="Lid aperture against pupil",
    looks_at="lid aperture and horizontal pupil of each eye",
    why="Lids so close cover part of the pupil.",
    limits="note where the aperture is less than the pupil and 1 mm",
    suggest="Heights may need the registered practitioner's judgement.",
    cost=HEIGHTS_COST,
    source=COMMON_PRACTICE,
    severities=(NOTE,),
)
def lids_pupil(facts: Facts) -> Iterator[Seen]:
    """Aperture < pupil + 1."""
    for side in SIDES:
        lids, pupil = facts.value("lid_aperture", side), facts.value("pupil_horizontal", side)
        if lids is not None and pupil is not None and exceeds(pupil.number + 1, lids.number):
            yield Seen(
                severity=NOTE,
                on=(lids, pupil),
                message=f"Lid aperture {lids} and pupil {pupil}, {SIDE_WORDS[side]}: the lids may cover part "
                "of it.",
            )


@check(
    "pupil-shape",
    family=FAMILY,
    title="Pupil across and upright",
    looks_at="horizontal against vertical pupil of each eye",
    why="A pupil seen from straight ahead is nearly round; a turned head makes it look narrow.",
    limits="ask where the smaller is less than 0.8 of the larger and they differ by 1 mm or more",
    suggest="Is the head turned? Measure again. If it is so, let the registered practitioner see it.",
    cost="Centration on a pupil seen askew is off.",
    source="narrower by the cosine of the angle of view (Mathur and others 2013, doi 10.1167/13.6.3); "
    f"share: {COMMON_PRACTICE}",
    severities=(ASK,),
)
def pupil_shape(facts: Facts) -> Iterator[Seen]:
    """Smaller ÷ larger of the two diameters."""
    for side in SIDES:
        across, upright = facts.value("pupil_horizontal", side), facts.value("pupil_vertical", side)
        if across is None or upright is None:
            continue
        if _out_of_round(across, upright):
            yield Seen(
                severity=ASK,
                on=(across, upright),
                message=f"Pupil {across} across and {upright} upright, {SIDE_WORDS[side]}: usually nearly "
                "the same.",
            )


def _out_of_round(across: Value, upright: Value) -> bool:
    small, large = sorted((across.number, upright.number))
    return reaches(large - small, 1.0) and small < 0.8 * large

"""Heights on the lens: segment and fitting heights against the lens, the lid and one another."""

from collections.abc import Iterator

from app.catalogue.measurement import SIDE_WORDS, SIDES
from app.plausibility.check import Seen, above, check, exceeds, reaches
from app.plausibility.facts import Facts
from app.plausibility.finding import Severity
from app.plausibility.slips import exchanged_offers
from app.plausibility.value import amount, rounded
from app.reference.bibliography import COMMON_PRACTICE

ASK, NOTE, STOP = Severity.ASK, Severity.NOTE, Severity.STOP
FAMILY = "heights"
HEIGHT_COST = "A segment too high trips the patient on kerbs; one too low cannot be reached to read."
LID_SOURCE = (
    "bifocal top at the lower lid margin or lower limbus: textbooks of dispensing (Brooks and Borish)"
)
LEAST_BELOW_LID_MM, LEAST_PROGRESSIVE_MM, LEAST_ABOVE_CROSS_MM = 14.0, 14.0, 10.0
LOW_LENS_SHARE = 2.0
CENTRE_OFF_MM = 4.0


@check(
    "segment-height-lens",
    family=FAMILY,
    title="Segment height against lens height",
    looks_at="segment height of each side and the lens height",
    why="The top of a segment lies below the middle of the lens, or little above it.",
    limits="ask above half the lens height and 3 mm, stop at or above the lens height",
    suggest="Measured straight down to the bottom of the box? Take it again.",
    cost=HEIGHT_COST,
    source=COMMON_PRACTICE,
    severities=(ASK, STOP),
)
def segment_height_lens(facts: Facts) -> Iterator[Seen]:
    """Segment height > b / 2 + 3, ≥ b."""
    for pair in facts.pairs:
        lens = pair.lens_height
        for side in SIDES:
            segment = pair.reading("segment_height", side)
            if lens is None or segment is None or not exceeds(segment.number, lens.number / 2 + 3):
                continue
            stop = reaches(segment.number, lens.number)
            yield Seen(
                severity=STOP if stop else ASK,
                on=(segment, lens),
                message=f"Segment height {segment}, {SIDE_WORDS[side]}, in a lens {lens} high; usually not above "
                f"{rounded(lens.number / 2 + 3)}.",
                suspect=segment.subject,
                root=(segment.subject,),
            )


@check(
    "fitting-height-lens",
    family=FAMILY,
    title="Fitting height against lens height",
    looks_at="fitting height of each side and the lens height",
    why="The fitting cross lies on the lens.",
    limits="stop at or above the lens height",
    suggest="Measured straight down to the bottom of the box? Take it again.",
    cost="The cross would lie on the rim or above it: the lens cannot be made.",
    source="geometry",
    severities=(STOP,),
)
def fitting_height_lens(facts: Facts) -> Iterator[Seen]:
    """Fitting height ≥ b."""
    for pair in facts.pairs:
        lens = pair.lens_height
        for side in SIDES:
            fitting = pair.reading("fitting_height", side)
            if lens is not None and fitting is not None and reaches(fitting.number, lens.number):
                yield Seen(
                    severity=STOP,
                    on=(fitting, lens),
                    message=f"Fitting height {fitting}, {SIDE_WORDS[side]}, in a lens {lens} high.",
                    suspect=fitting.subject,
                    root=(fitting.subject,),
                )


@check(
    "segment-height-lid",
    family=FAMILY,
    title="Segment height against the lower lid",
    looks_at="segment height, and half the lens height less the planned height of the centre line above the lid",
    why="The lower lid is where a segment top usually lies, so the two agree.",
    limits="note above 2 mm, ask above 4 mm",
    suggest="Chin level, your eyes level with the patient's? Or is another height meant, as worn until now?",
    cost=HEIGHT_COST,
    source=f"{LID_SOURCE}; limits: {COMMON_PRACTICE}",
    severities=(NOTE, ASK),
)
def segment_height_lid(facts: Facts) -> Iterator[Seen]:
    """Segment height − (b / 2 − centre line above lid)."""
    for pair in facts.pairs:
        lens, line = pair.lens_height, pair.centre_line_above_lid
        for side in SIDES:
            segment = pair.reading("segment_height", side)
            if lens is None or segment is None:
                continue
            expected = lens.number / 2 - line.number
            severity = above(abs(segment.number - expected), note=2, ask=4)
            if severity is not None:
                yield Seen(
                    severity=severity,
                    on=(segment, lens, line),
                    message=f"Segment height {segment}, {SIDE_WORDS[side]}; the lower lid lies about "
                    f"{rounded(expected)} up in a lens {lens} high.",
                    suspect=segment.subject,
                )


@check(
    "segment-heights-differ",
    family=FAMILY,
    title="Segment height right and left",
    looks_at="right against left segment height",
    why="Lids differ by a millimetre; more is a tilted head or frame.",
    limits="note above 0.9 mm, ask above 1.9 mm",
    suggest="Head and frame level? Take both again, or let the practitioner order one height.",
    cost="Two segments at two heights show, and the eyes reach them one after the other.",
    source=COMMON_PRACTICE,
    severities=(NOTE, ASK),
)
def segment_heights_differ(facts: Facts) -> Iterator[Seen]:
    """R − L segment height."""
    yield from _heights_differ(facts, "segment_height", "Segment height", note=0.9, ask=1.9)


@check(
    "fitting-heights-differ",
    family=FAMILY,
    title="Fitting height right and left",
    looks_at="right against left fitting height",
    why="Pupils lie up to 2 mm apart in height; more is a tilted head or frame.",
    limits="note above 2 mm, ask above 3 mm, stop above 5 mm",
    suggest="Head and frame level? Mark both again.",
    cost="Two progressive lenses at two heights: the eyes read through different powers.",
    source=COMMON_PRACTICE,
    severities=(NOTE, ASK, STOP),
)
def fitting_heights_differ(facts: Facts) -> Iterator[Seen]:
    """R − L fitting height."""
    yield from _heights_differ(facts, "fitting_height", "Fitting height", note=2, ask=3, stop=5)


def _heights_differ(
    facts: Facts, measurement: str, label: str, *, note: float, ask: float, stop: float | None = None
) -> Iterator[Seen]:
    for pair in facts.pairs:
        both = facts.both(measurement, pair=pair.number)
        if both is None:
            continue
        right, left = both
        apart = abs(right.number - left.number)
        severity = above(apart, note=note, ask=ask, stop=stop)
        if severity is not None:
            yield Seen(
                severity=severity,
                on=both,
                message=f"{label} of pair {pair.number} right {right}, left {left}: {amount(apart)} apart.",
                suspect=facts.unusual_one(right, left),
                offers=exchanged_offers(right, left),
            )


@check(
    "lens-height-near",
    family=FAMILY,
    title="Room for near in the lens",
    looks_at="lens height, lid aperture, fitting height and lens form",
    why="A multifocal needs room below the lid, or below and above the fitting cross.",
    limits="ask where a bifocal lens is less than 14 mm higher than the lid aperture, a progressive lens is fitted "
    "below 14 mm, or has less than 10 mm above the cross; the lens maker's own figure goes first",
    suggest="A higher lens, another form, or a shorter corridor: look up the lens maker's least height.",
    cost="The reading part is edged away.",
    source=f"{COMMON_PRACTICE}; always the lens maker's figure where there is one",
    severities=(ASK,),
)
def lens_height_near(facts: Facts) -> Iterator[Seen]:
    """Lens height against what a multifocal needs."""
    for pair in facts.pairs:
        lens = pair.lens_height
        if lens is None:
            continue
        if pair.pair.lens_form in ("bifocal", "trifocal"):
            lids = facts.largest("lid_aperture")
            if lids is not None and exceeds(lids.number + LEAST_BELOW_LID_MM, lens.number):
                yield Seen(
                    severity=ASK,
                    on=(lens, lids),
                    message=f"Pair {pair.number}: a lens {lens} high with a lid aperture of {lids}; a segment "
                    f"wants {amount(lids.number + LEAST_BELOW_LID_MM)} or more.",
                )
        if pair.pair.lens_form in ("progressive", "degressive"):
            yield from _room_for_progressive(facts, pair.number)


def _room_for_progressive(facts: Facts, number: int) -> Iterator[Seen]:
    pair = next(each for each in facts.pairs if each.number == number)
    lens = pair.lens_height
    for side in SIDES:
        fitting = pair.reading("fitting_height", side)
        if lens is None or fitting is None:
            continue
        too_low = exceeds(LEAST_PROGRESSIVE_MM, fitting.number)
        if too_low or exceeds(LEAST_ABOVE_CROSS_MM, lens.number - fitting.number):
            yield Seen(
                severity=ASK,
                on=(fitting, lens),
                message=f"Pair {number}, {SIDE_WORDS[side]}: fitting height {fitting} in a lens {lens} high; "
                "14 mm below the cross and 10 mm above it is the usual least.",
            )


@check(
    "low-lens",
    family=FAMILY,
    title="A low lens for a wide lid aperture",
    looks_at="lens height and lid aperture",
    why="A lens less than twice the lid aperture high leaves the rim in view.",
    limits="note where the lens height is below twice the lid aperture",
    suggest="Show the patient; nothing else needs doing.",
    cost="Rims in view above and below.",
    source=COMMON_PRACTICE,
    severities=(NOTE,),
)
def low_lens(facts: Facts) -> Iterator[Seen]:
    """b < 2 × aperture."""
    lids = facts.largest("lid_aperture")
    for pair in facts.pairs:
        lens = pair.lens_height
        if lens is not None and lids is not None and exceeds(LOW_LENS_SHARE * lids.number, lens.number):
            yield Seen(
                severity=NOTE,
                on=(lens, lids),
                message=f"Pair {pair.number}: a lens {lens} high for a lid aperture of {lids}.",
            )


@check(
    "pupil-off-centre-line",
    family=FAMILY,
    title="Pupil far from the centre line",
    looks_at="height of the pupil centre on the lens, and half the lens height",
    why="Eyes far above or below the middle of the lens look wrong, and the lens centre does too.",
    limits="note above 4 mm",
    suggest="Show the patient; another bridge height would move the front.",
    cost="The eyes do not look centred in the frame.",
    source=COMMON_PRACTICE,
    severities=(NOTE,),
)
def pupil_off_centre_line(facts: Facts) -> Iterator[Seen]:
    """|centre height − b / 2| > 4."""
    for pair in facts.pairs:
        lens = pair.lens_height
        for side in SIDES:
            centre = pair.reading("centre_height", side)
            if lens is None or centre is None:
                continue
            if exceeds(abs(centre.number - lens.number / 2), CENTRE_OFF_MM):
                yield Seen(
                    severity=NOTE,
                    on=(centre, lens),
                    message=f"Pair {pair.number}, {SIDE_WORDS[side]}: the pupil lies {centre} up in a lens {lens} "
                    f"high, whose middle is at {amount(lens.number / 2)}.",
                )

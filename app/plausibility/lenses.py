"""The lenses: what power, vertex distance and centration do to one another."""

from collections.abc import Iterator

from app.catalogue.measurement import SIDE_WORDS, SIDES
from app.optics.differential_prism import near_imbalance
from app.optics.lens_thickness import rough_edge_thickness
from app.optics.prentice import prism_by_decentration
from app.optics.prescription_algebra import Power, vertical_power
from app.optics.refusal import NotPossible
from app.optics.vertex_distance import moved_power
from app.plausibility.check import Seen, above, at_least, check, exceeds, reaches
from app.plausibility.facts import Facts
from app.plausibility.finding import Severity
from app.plausibility.pair_facts import PairFacts
from app.plausibility.value import amount, power, rounded
from app.reference.bibliography import COMMON_PRACTICE

ASK, NOTE = Severity.ASK, Severity.NOTE
FAMILY = "lenses"
TO_THE_PRESCRIBER = (
    "Show it to the prescriber or the registered practitioner; powers are never changed silently."
)
EDGE_INDEX = 1.5
"""Index assumed where none was chosen: ordinary resin. Common practice; it makes the estimate the thicker one."""
HEAVY_POWER_D, HEAVY_WIDTH_MM = 6.0, 54.0


@check(
    "vertex-strong-lens",
    family=FAMILY,
    title="Vertex distance of a strong lens",
    looks_at="the strongest meridian, the vertex distance at which it was tested, and the one worn or planned",
    why="A strong lens moved nearer or further has another effect: F / (1 + d F), d in metres.",
    limits="from ±5.00 in any meridian: note; ask where either distance is missing or they differ by 1 mm or more",
    suggest=TO_THE_PRESCRIBER,
    cost="Blur: in −12.00 two millimetres are a quarter of a dioptre and more.",
    source="effectivity, any optics text; ±5.00 and 1 mm: common practice",
    severities=(NOTE, ASK),
)
def vertex_strong_lens(facts: Facts) -> Iterator[Seen]:
    """Vertex tested and worn, where the power makes it matter."""
    for pair in facts.pairs:
        prescription, strongest = pair.prescription, pair.strongest
        if prescription is None or strongest is None or not pair.strong:
            continue
        tested, worn = prescription.tested_at_mm, pair.vertex
        stated = facts.stated(
            f"{pair.prescription_path}.tested_at_mm", None if tested is None else amount(tested)
        )
        opening = f"Pair {pair.number} has {power(strongest.number)} in its strongest meridian"
        if tested is None or worn is None:
            where = {"tested": tested, "worn": worn}
            missing = " and ".join(words for words, given in where.items() if given is None)
            yield Seen(
                severity=ASK,
                on=(strongest, stated),
                message=f"{opening}; the vertex distance at which it is {missing} is not given.",
                suggest=f"Take the vertex distance, or ask for the tested one. {TO_THE_PRESCRIBER}",
            )
            continue
        far = reaches(abs(worn.number - tested), 1)
        same = _same_effect(pair, tested, worn.number)
        yield Seen(
            severity=ASK if far else NOTE,
            on=(strongest, stated, worn),
            message=f"{opening}; tested at {amount(tested)}, worn at {worn}{same}.",
            suggest="" if far else "Shown because the vertex distance matters; both are on the order.",
        )


def _same_effect(pair: PairFacts, tested_mm: float, worn_mm: float) -> str:
    """What each sphere would be for the same effect."""
    prescription = pair.prescription
    if prescription is None or tested_mm == worn_mm:
        return ""
    eyes = ((side, prescription.eye(side)) for side in SIDES)
    try:
        words = [
            f"{side} {power(moved_power(eye.sphere, tested_vertex_mm=tested_mm, worn_vertex_mm=worn_mm))}"
            for side, eye in eyes
            if eye is not None
        ]
    except NotPossible:
        return ": no sphere there has the same effect"
    return f": the same effect would need spheres of about {', '.join(words)}"


@check(
    "reading-level-prism",
    family=FAMILY,
    title="Vertical prism between the eyes when reading",
    looks_at="difference of the two powers in the vertical meridian × 1 cm below the distance centres, "
    "multifocals only",
    why="Unequal lenses pull the two images apart up and down when the eyes look down to read.",
    limits="note from 1.0, ask from 2.0 prism dioptres at the practice's reading level (10 mm)",
    suggest="Bi-prism, dissimilar segments, or a separate reading pair? Settle it before ordering.",
    cost="Reading tires or doubles, and the whole pair is remade.",
    source="Prentice's rule: prism = centimetres × dioptres; limits: common practice",
    severities=(NOTE, ASK),
)
def reading_level_prism(facts: Facts) -> Iterator[Seen]:
    """|vertical power R − L| × reading level, once for each prescription."""
    level = facts.settings.adjustments.reading_level_mm
    seen_on: set[str] = set()
    for pair in facts.pairs:
        eyes = _powers(pair)
        if not pair.pair.multifocal or eyes is None or pair.prescription_path in seen_on:
            continue
        seen_on.add(pair.prescription_path)
        prisms = near_imbalance(right=eyes[0], left=eyes[1], level_mm=level)
        prism = abs(prisms.difference_prism_dioptres)
        severity = at_least(prism, note=1, ask=2)
        if severity is not None:
            right, left = (power(vertical_power(eye)) for eye in eyes)
            yield Seen(
                severity=severity,
                on=pair.powers(),
                message=f"Vertical powers R {right} and L {left}: {rounded_prism(prism)} apart when reading "
                f"{amount(level)} below the centres.",
            )


def _powers(pair: PairFacts) -> tuple[Power, Power] | None:
    """Both eyes' powers, None where one is missing or has a cylinder without an axis."""
    prescription = pair.prescription
    if prescription is None or prescription.right is None or prescription.left is None:
        return None
    eyes = (prescription.right, prescription.left)
    if any(eye.cylinder and eye.axis is None for eye in eyes):
        return None
    right, left = (Power(eye.sphere, eye.cylinder or 0.0, eye.axis or 180.0) for eye in eyes)
    return right, left


def rounded_prism(prism: float) -> str:
    """Prism to two decimals: “4.25 prism dioptres”."""
    return amount(round(prism, 2), "prism")


@check(
    "edge-thickness",
    family=FAMILY,
    title="Edge of a minus lens",
    looks_at="about centre + r² |F| / (2000 (n − 1)), r half the longest diameter and the decentration, F the "
    "strongest meridian",
    why="Beyond about 6 mm the edge shows and meets rim and joint.",
    limits="note above 6 mm, ask above 9 mm",
    suggest="A smaller lens width, a higher index, or less decentration.",
    cost="Too thick for the rim or the joint: the bench asks, or the patient refuses it.",
    source="approximate sag (Jalie, Ophthalmic Lenses and Dispensing); limits: common practice",
    severities=(NOTE, ASK),
)
def edge_thickness(facts: Facts) -> Iterator[Seen]:
    """Estimated edge of each minus lens."""
    centre = facts.settings.adjustments.centre_thickness_mm
    for pair in facts.pairs:
        longest, index = pair.longest_diameter, pair.pair.index or EDGE_INDEX
        if longest is None or index <= 1:
            continue
        for strongest in pair.powers():
            side = strongest.subject.side
            inward = pair.decentration(side) if side is not None else None
            if strongest.number >= 0 or side is None or inward is None:
                continue
            edge = rough_edge_thickness(
                centre_thickness_mm=centre,
                power_d=strongest.number,
                index=index,
                height_mm=longest.number / 2 + abs(inward.number),
            )
            severity = above(edge, note=6, ask=9)
            if severity is not None:
                yield Seen(
                    severity=severity,
                    on=(strongest, longest, inward),
                    message=f"Pair {pair.number}, {SIDE_WORDS[side]}: an edge of about {rounded(edge, digits=2)} "
                    f"(index {index:g}, centre {amount(centre)}); up to 6 mm is usual.",
                )


@check(
    "one-millimetre-prism",
    family=FAMILY,
    title="What 1 mm of centration costs",
    looks_at="the strongest meridian × 0.1 cm",
    why="In a strong lens a small slip of centration is a large prism.",
    limits="note above 0.67 prism dioptres for 1 mm",
    suggest="Take the single-eye PDs twice.",
    cost="Strain or double vision from a slip that no eye would notice on the rule.",
    source="Prentice's rule; 0.67 from memory of ISO 21987 (horizontal imbalance)",
    severities=(NOTE,),
)
def one_millimetre_prism(facts: Facts) -> Iterator[Seen]:
    """|F| × 0.1, once for each prescription."""
    seen_on: set[str] = set()
    for pair in facts.pairs:
        strongest = pair.strongest
        if strongest is None or pair.prescription_path in seen_on:
            continue
        seen_on.add(pair.prescription_path)
        prism = abs(prism_by_decentration(strongest.number, 1))
        if exceeds(prism, 0.67):
            yield Seen(
                severity=NOTE,
                on=(strongest,),
                message=f"With {power(strongest.number)} a 1 mm slip of centration costs {rounded_prism(prism)}.",
            )


@check(
    "heavy-lenses",
    family=FAMILY,
    title="Strong lenses in a wide frame",
    looks_at="lens width and the strongest meridian",
    why="Strong lenses in a wide frame are heavy and thick.",
    limits="note above 54 mm lens width from ±6.00",
    suggest="Show a smaller lens width.",
    cost="The frame slides, and edges or centres show.",
    source=COMMON_PRACTICE,
    severities=(NOTE,),
)
def heavy_lenses(facts: Facts) -> Iterator[Seen]:
    """a > 54 with ±6.00."""
    for pair in facts.pairs:
        width, strongest = pair.lens_width, pair.strongest
        if width is None or strongest is None:
            continue
        if exceeds(width.number, HEAVY_WIDTH_MM) and reaches(abs(strongest.number), HEAVY_POWER_D):
            yield Seen(
                severity=NOTE,
                on=(width, strongest),
                message=f"Pair {pair.number}: {power(strongest.number)} in lenses {width} wide.",
            )

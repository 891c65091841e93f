"""The powers of a prescription: slips of copying."""

from collections.abc import Iterator

from app.catalogue.measurement import SIDE_WORDS, SIDES
from app.plausibility.check import Seen, check, exceeds
from app.plausibility.facts import Facts
from app.plausibility.finding import Severity
from app.plausibility.prescription_values import QUERY, READ_BACK, eyes_of, power_value
from app.plausibility.value import amount, power
from app.reference.bibliography import COMMON_PRACTICE

ASK = Severity.ASK
FAMILY = "prescription"
COPY_COST = "Lenses made to a slip of the pen are remade."
STRONG_CYLINDER_D, SPHERES_APART_D = 6.0, 4.0
LEAST_ADD_D, GREATEST_ADD_D = 0.75, 3.5
QUARTER_D = 0.25
EIGHTHS = (0.12, 0.13, 0.37, 0.38, 0.62, 0.63, 0.87, 0.88, 0.125, 0.375, 0.625, 0.875)
"""Eighths of a dioptre as people write them."""


@check(
    "cylinder-axis",
    family=FAMILY,
    title="Cylinder and axis",
    looks_at="cylinder and axis of each eye",
    why="A cylinder needs an axis between 0 and 180, an axis needs a cylinder.",
    limits="ask where an axis is missing, lies outside 0 to 180, or stands without a cylinder",
    suggest=READ_BACK,
    cost=COPY_COST,
    source="notation of ISO 8429: 0 to 180 degrees",
    severities=(ASK,),
)
def cylinder_axis(facts: Facts) -> Iterator[Seen]:
    """Cylinder without axis, axis without cylinder, axis out of range."""
    for path, side, eye in eyes_of(facts):
        cylinder, axis = eye.cylinder or 0.0, eye.axis
        message = None
        if cylinder and axis is None:
            message = f"Cylinder {power(cylinder)}, {SIDE_WORDS[side]}, has no axis."
        elif axis is not None and not 0 <= axis <= 180:
            message = f"Axis {amount(axis, 'deg')}, {SIDE_WORDS[side]}, lies outside 0 to 180."
        elif axis and not cylinder:
            message = f"Axis {amount(axis, 'deg')}, {SIDE_WORDS[side]}, has no cylinder."
        if message is not None:
            yield Seen(
                severity=ASK,
                on=(
                    power_value(path, side, "cylinder", cylinder),
                    facts.stated(f"{path}.{side}.axis", None if axis is None else f"{axis:g}", side=side),
                ),
                message=message,
            )


@check(
    "strong-cylinder",
    family=FAMILY,
    title="A very strong cylinder",
    looks_at="cylinder of each eye",
    why="So strong a cylinder is rare; a decimal slip is not.",
    limits="ask above 6.00",
    suggest=READ_BACK,
    cost=COPY_COST,
    source=COMMON_PRACTICE,
    severities=(ASK,),
)
def strong_cylinder(facts: Facts) -> Iterator[Seen]:
    """|cylinder| > 6."""
    for path, side, eye in eyes_of(facts):
        if eye.cylinder is not None and exceeds(abs(eye.cylinder), STRONG_CYLINDER_D):
            yield Seen(
                severity=ASK,
                on=(power_value(path, side, "cylinder", eye.cylinder),),
                message=f"Cylinder {power(eye.cylinder)}, {SIDE_WORDS[side]}; above 6.00 is rare.",
            )


@check(
    "spheres-differ",
    family=FAMILY,
    title="Spheres of the two eyes",
    looks_at="the two spheres, both written with a minus cylinder",
    why="Spheres so far apart are rare and hard to wear; a lost sign looks the same.",
    limits="ask above 4.00 apart",
    suggest=f"{READ_BACK} If it is so, is it new? {QUERY}",
    cost=COPY_COST,
    source=COMMON_PRACTICE,
    severities=(ASK,),
)
def spheres_differ(facts: Facts) -> Iterator[Seen]:
    """R − L sphere, in minus-cylinder form."""
    for path, prescription in facts.prescriptions:
        right, left = prescription.right, prescription.left
        if right is None or left is None:
            continue
        spheres = (max(right.principal_powers), max(left.principal_powers))
        if exceeds(abs(spheres[0] - spheres[1]), SPHERES_APART_D):
            yield Seen(
                severity=ASK,
                on=(
                    power_value(path, "R", "sphere", spheres[0]),
                    power_value(path, "L", "sphere", spheres[1]),
                ),
                message=f"Spheres R {power(spheres[0])} and L {power(spheres[1])} are "
                f"{abs(spheres[0] - spheres[1]):.2f} apart.",
            )


@check(
    "power-steps",
    family=FAMILY,
    title="A power between two steps",
    looks_at="sphere, cylinder and addition of each eye",
    why="Powers are written in quarters, seldom eighths; anything else is a slip of the pen.",
    limits="ask where a power is neither a whole number of quarters nor of eighths of a dioptre",
    suggest=READ_BACK,
    cost=COPY_COST,
    source=COMMON_PRACTICE,
    severities=(ASK,),
)
def power_steps(facts: Facts) -> Iterator[Seen]:
    """Powers that are no quarter or eighth."""
    for path, side, eye in eyes_of(facts):
        for part, number in (("sphere", eye.sphere), ("cylinder", eye.cylinder), ("add", eye.add)):
            if number is not None and not _on_step(number):
                yield Seen(
                    severity=ASK,
                    on=(power_value(path, side, part, number),),
                    message=f"{part.capitalize()} {power(number)}, {SIDE_WORDS[side]}, is no quarter of a dioptre.",
                )


def _on_step(number: float) -> bool:
    rest = round(abs(number) % 1, 4)
    return rest % QUARTER_D == 0 or rest in EIGHTHS


@check(
    "addition",
    family=FAMILY,
    title="The addition",
    looks_at="addition of both eyes, and the age",
    why="Additions lie between 0.75 and 3.50 and are nearly always equal; a child seldom has one.",
    limits="ask outside 0.75 to 3.50, where the two differ or only one eye has one, or under 16",
    suggest=f"{READ_BACK} {QUERY}",
    cost=COPY_COST,
    source=COMMON_PRACTICE,
    severities=(ASK,),
)
def addition(facts: Facts) -> Iterator[Seen]:
    """Additions that are unusual, unequal, in one eye only, or a child's."""
    for path, prescription in facts.prescriptions:
        eyes = {side: prescription.eye(side) for side in SIDES}
        adds = [
            power_value(path, side, "add", eye.add)
            for side, eye in eyes.items()
            if eye is not None and eye.add
        ]
        reasons = []
        if any(exceeds(LEAST_ADD_D, add.number) or exceeds(add.number, GREATEST_ADD_D) for add in adds):
            reasons.append("outside 0.75 to 3.50")
        if len(adds) == 2 and adds[0].number != adds[1].number:
            reasons.append("unequal")
        if len(adds) == 1 and all(eyes.values()):
            reasons.append("in one eye only")
        if adds and facts.child:
            reasons.append(f"at {facts.fitting.age} years")
        if reasons:
            shown = " and ".join(power(add.number) for add in adds)
            yield Seen(
                severity=ASK,
                on=tuple(adds),
                message=f"Addition {shown}: {', '.join(reasons)}, which is unusual.",
            )

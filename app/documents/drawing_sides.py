"""Both sides as a drawing: each from outside, laid flat, and both from above with the front.

A side from outside: origin at the joint, the front to the right for the wearer's right side and to the left for
the left one, the straight part of the side level. The drop lies in the plane of the paper at its true length: it is
bent inwards afterwards. From above: see `app.documents.drawing_plan`.
"""

from collections.abc import Iterator
from math import atan2, cos, degrees, radians, sin, tan

from app.catalogue.choices import CHOICES
from app.catalogue.measurement import SIDE_WORDS, SIDES
from app.documents.drawing import (
    CENTRE_LINE,
    DIMENSIONS,
    FACE,
    SIDE,
    Arc,
    CannotDraw,
    Circle,
    Dimension,
    Drawing,
    Line,
    Point,
    Polyline,
    Shape,
    Text,
)
from app.documents.needed_for_drawing import missing_for_sides
from app.documents.side_values import SideValues, in_degrees, side_values
from app.fitting.entry import show_number
from app.frame.side_geometry import arc_start_before_bend
from app.frame.specification import PairSpecification

BEND_RADIUS_MM = 10.0
"""With which the bend is drawn: no reading tells it. Common practice for a drop end."""
BODY_MM = 5.0
"""Height of a side as drawn; its own section is a choice in words. Common practice."""
FRONT_ABOVE_MM, FRONT_BELOW_MM = 10.0, 20.0
NOTE_STEP_MM = 3.6
NO_DROP_MM = 30.0
"""How far the line runs on behind the bend where the drop is not known."""


def side_of(specification: PairSpecification, side: str) -> Drawing:
    """One side from outside. Raises CannotDraw with the names of what is missing."""
    found = next((side_values(specification, one) for one in SIDES if one == side), None)
    if found is None:
        raise CannotDraw("The sides", missing_for_sides(specification))
    words = SIDE_WORDS[found.side].replace("patient's", "wearer's")
    return Drawing(
        title=f"Pair {specification.pair.pair}: {words} side, seen from outside",
        describes=(
            f"{words.capitalize()} side from the joint to the tip: length to bend, drop and its angle, overall"
            " length, angle to the front; at true size."
        ),
        shapes=tuple(_from_outside(found, specification, words)),
    )


def _from_outside(values: SideValues, specification: PairSpecification, words: str) -> Iterator[Shape]:
    back = -1.0 if values.side == "R" else 1.0
    bend: Point = (back * values.length_to_bend, 0.0)
    yield Text(
        at=(bend[0] / 2, 13.0),
        words=f"{words} side ({values.side}), seen from outside",
        anchor="middle",
        height_mm=3.4,
    )
    yield from _axis(values, back)
    yield Circle((0.0, 0.0), 1.0, SIDE)
    yield Text(at=(0.0, -5.0), words="joint", anchor="middle")
    left, right = min(bend, (0.0, 0.0)), max(bend, (0.0, 0.0))
    yield Dimension(start=left, end=right, away_mm=7.0, words=f"to bend {show_number(values.length_to_bend)}")
    yield from _front(values, back)
    yield from _drop_words(values, back, bend)
    yield from _notes(values, specification, back)


def _axis(values: SideValues, back: float) -> Iterator[Shape]:
    """The middle line of the side, with its bend, and its body about it."""
    bend = (back * values.length_to_bend, 0.0)
    if values.drop_length is None or values.drop_angle is None:
        yield Line((0.0, 0.0), bend, SIDE)
        yield Line(bend, (bend[0] + back * NO_DROP_MM, 0.0), FACE)
        return
    path = middle_line(values)
    mirrored_path = tuple((back * x, y) for x, y in path)
    yield Polyline(mirrored_path, CENTRE_LINE)
    for offset in (BODY_MM / 2, -BODY_MM / 2):
        yield Polyline(tuple((back * x, y) for x, y in _beside(path, offset)), SIDE)
    end, before = path[-1], path[-2]
    yield from _tip(before, end, back)
    yield Line(bend, (bend[0] + back * (values.drop_length + 4), 0.0), FACE)
    yield Circle(bend, 0.6, DIMENSIONS)


def middle_line(values: SideValues) -> tuple[Point, ...]:
    """The side's middle from joint to tip, backwards as +x: straight, round the bend, straight down the drop.

    The bend is where the two straight lines meet; the curve cuts that corner. Lengths mm.
    """
    drop, angle = values.drop_length or 0.0, values.drop_angle or 0.0
    turn = radians(angle)
    room = min(values.length_to_bend, drop) * 0.9
    radius = min(BEND_RADIUS_MM, room / tan(turn / 2)) if angle > 0 else 0.0
    before = arc_start_before_bend(bend_radius_mm=radius, drop_angle_deg=angle) if radius else 0.0
    start = values.length_to_bend - before
    steps = 16
    arc = [
        (start + radius * sin(turn * step / steps), -radius * (1 - cos(turn * step / steps)))
        for step in range(steps + 1)
    ]
    tip = (values.length_to_bend + drop * cos(turn), -drop * sin(turn))
    return ((0.0, 0.0), *arc, tip)


def _beside(path: tuple[Point, ...], offset: float) -> tuple[Point, ...]:
    """A line parallel to a path, `offset` mm to its left."""
    found: list[Point] = []
    for place, (x, y) in enumerate(path):
        (x0, y0), (x1, y1) = path[max(place - 1, 0)], path[min(place + 1, len(path) - 1)]
        length = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5 or 1.0
        found.append((x - offset * (y1 - y0) / length, y + offset * (x1 - x0) / length))
    return tuple(found)


def _tip(before: Point, end: Point, back: float) -> Iterator[Shape]:
    """A round end about the last point."""
    way = degrees(atan2(end[1] - before[1], end[0] - before[0]))
    start = way - 90 if back > 0 else 90 - way
    yield Arc((back * end[0], end[1]), BODY_MM / 2, start, start + 180, SIDE)


def _front(values: SideValues, back: float) -> Iterator[Shape]:
    """The back of the front, as far before the joint as the practice has it, tilted by the angle of side."""
    at = -back * values.front_to_joint
    tilt = radians(values.side_angle or 0.0)
    lean = back * tan(tilt)
    top, foot = (at - lean * FRONT_ABOVE_MM, FRONT_ABOVE_MM), (at + lean * FRONT_BELOW_MM, -FRONT_BELOW_MM)
    yield Line(top, foot, SIDE)
    yield Line((at, 0.0), (0.0, 0.0), FACE)
    square = (at, -FRONT_BELOW_MM)
    yield Line((at, 0.0), square, FACE)
    yield Text(
        at=(foot[0] + back * 2, foot[1]),
        words=in_degrees(values.side_angle, "angle of side"),
        anchor="end" if back < 0 else "start",
    )
    yield Text(at=(top[0], top[1] + 1.2), words="back of the front", anchor="middle")


def _drop_words(values: SideValues, back: float, bend: Point) -> Iterator[Shape]:
    if values.drop_length is None or values.drop_angle is None:
        yield Text(at=(bend[0], -5.0), words=_not_known(values), anchor="middle")
        return
    turn = radians(values.drop_angle)
    end = (bend[0] + back * values.drop_length * cos(turn), -values.drop_length * sin(turn))
    # both ways the line lies outside the bend and is read from left to right
    start, stop = (end, bend) if back < 0 else (bend, end)
    yield Dimension(start=start, end=stop, away_mm=6.5, words=f"drop {show_number(values.drop_length)}")
    yield Text(
        at=(bend[0] - back * 4, -6.5),
        words=in_degrees(values.drop_angle, "down"),
        anchor="start" if back < 0 else "end",
    )
    yield Text(
        at=(bend[0] - back * 4, -6.5 - NOTE_STEP_MM),
        words=in_degrees(values.inward_angle, "inwards"),
        anchor="start" if back < 0 else "end",
    )


def _not_known(values: SideValues) -> str:
    lacking = [
        name
        for name, value in (("drop length", values.drop_length), ("drop angle", values.drop_angle))
        if value is None
    ]
    return f"{' and '.join(lacking)} not given"


def _notes(values: SideValues, specification: PairSpecification, back: float) -> Iterator[Shape]:
    lines = [_overall(values), *_as_chosen(specification)]
    if values.facial:
        lines.append("The pair's own side; drop and angles are those of the head, to set it by.")
    middle = back * values.length_to_bend / 2
    for row, words in enumerate(lines):
        yield Text(at=(middle, -14.0 - FRONT_BELOW_MM / 2 - row * NOTE_STEP_MM), words=words, anchor="middle")


def _overall(values: SideValues) -> str:
    if values.overall is None or values.drop_length is None:
        return "overall length not given"
    sides = f"{show_number(values.length_to_bend)} + {show_number(values.drop_length)}"
    return f"overall {show_number(values.overall)} = {sides}, drop straightened"


def _as_chosen(specification: PairSpecification) -> Iterator[str]:
    """Style, tip and finish as chosen, and what the drawing only supposes."""
    choices = specification.pair.choices
    said = [
        CHOICES[key].words(choices[key])
        for key in ("side_style", "side_taper", "tip_shape", "drop_finish", "side_section")
        if choices.get(key)
    ]
    if said and specification.sheet.handmade:
        yield "; ".join(said)
    if specification.sheet.handmade:
        drawn = f"radius {show_number(BEND_RADIUS_MM)}, side {show_number(BODY_MM)} high"
        yield f"Bend drawn with {drawn}: common practice, not ordered."

"""Front and sides from above: let-back, head width, temple width, and the drop bent inwards.

Origin: the middle of the back of the front. The face is above, the front below, so that the wearer's right stays on
the left; y runs backwards along the sides.
"""

from collections.abc import Iterator
from math import sqrt

from app.catalogue.measurement import SIDES
from app.documents.drawing import (
    CENTRE_LINE,
    DIMENSIONS,
    FACE,
    RIM,
    SIDE,
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
from app.documents.side_values import SideValues, in_degrees, side_values
from app.fitting.entry import show_number
from app.frame.side_geometry import TEMPLE_WIDTH_LEVEL_MM, drop_components
from app.frame.specification import PairSpecification

FRONT_THICK_MM = 4.0
"""Of the front as drawn where no sheet is chosen. Common practice."""
LINE_MM = 3.6
BOWED_MM = 1.0
"""Where a straight side misses the ordered temple width by more, it must be bowed, which is said. Ours."""


def missing_for_plan(specification: PairSpecification) -> tuple[str, ...]:
    """What the plan lacks: width between the joints, head width and both lengths to bend."""
    names = ("joint_width", "head_width")
    lines = [(name, specification.dimension(name)) for name in names]
    lines += [("length_to_bend", specification.dimension("length_to_bend", side)) for side in SIDES]
    words = {"joint_width": "Width between the joints", "head_width": "Head width of the frame"}
    return tuple(
        dict.fromkeys(
            name for key, line in lines for name in ((words.get(key, key),) if line is None else line.missing)
        )
    )


def plan_of(specification: PairSpecification) -> Drawing:
    """Front and sides from above. Raises CannotDraw with the names of what is missing."""
    sides = [side_values(specification, side) for side in SIDES]
    missing = missing_for_plan(specification)
    if missing or None in sides:
        raise CannotDraw("Front and sides from above", missing)
    known = [one for one in sides if one is not None]
    return Drawing(
        title=f"Pair {specification.pair.pair}: front and sides from above",
        describes="Front and both sides from above with let-back, head width and temple width; at true size.",
        shapes=(*_front(specification), *_sides(specification, known), *_widths(specification, known)),
    )


def _value(specification: PairSpecification, name: str) -> float:
    line = specification.dimension(name)
    return 0.0 if line is None or line.ordered is None else line.ordered


def _front(specification: PairSpecification) -> Iterator[Shape]:
    half = _value(specification, "joint_width") / 2
    thick = specification.pair.sheet_mm or FRONT_THICK_MM
    yield Polyline(((-half, 0.0), (half, 0.0), (half, -thick), (-half, -thick)), RIM, closed=True)
    yield Text(at=(-half, -thick - 5.0), words="wearer's right (R)", height_mm=3.4)
    yield Text(at=(half, -thick - 5.0), words="wearer's left (L)", anchor="end", height_mm=3.4)
    yield Text(at=(0.0, -thick - 5.0), words="from above", anchor="middle", height_mm=3.4)
    yield Dimension(
        start=(-half, -thick),
        end=(half, -thick),
        away_mm=-12.0,
        words=f"between the joints {show_number(round(2 * half, 1))}",
    )


def _sides(specification: PairSpecification, sides: list[SideValues]) -> Iterator[Shape]:
    half = _value(specification, "joint_width") / 2
    for values in sides:
        sign = -1.0 if values.side == "R" else 1.0
        joint, bend = (sign * half, values.front_to_joint), bend_in_plan(specification, values)
        yield Line((sign * half, 0.0), joint, RIM)
        yield Circle(joint, 1.0, SIDE)
        yield Line(joint, bend, SIDE)
        yield Circle(bend, 0.6, DIMENSIONS)
        yield from _drop(values, bend, sign)
        middle = ((joint[0] + bend[0]) / 2 - sign * 3, (joint[1] + bend[1]) / 2)
        for row, words in enumerate(_words(values)):
            at = (middle[0], middle[1] - LINE_MM * row)
            yield Text(at=at, words=words, anchor="start" if sign < 0 else "end")


def _words(values: SideValues) -> tuple[str, ...]:
    return (
        f"{values.side}: to bend {show_number(values.length_to_bend)}",
        in_degrees(values.let_back, "let-back"),
        in_degrees(values.inward_angle, "drop inwards"),
    )


def bend_in_plan(specification: PairSpecification, values: SideValues) -> Point:
    """Where the bend lies from above, mm: half the head width out, as far back as the length to bend reaches."""
    half, head = _value(specification, "joint_width") / 2, _value(specification, "head_width") / 2
    out = head - half
    if abs(out) >= values.length_to_bend:
        raise CannotDraw("Front and sides from above", ("A length to bend that reaches the head width",))
    sign = -1.0 if values.side == "R" else 1.0
    return sign * head, values.front_to_joint + sqrt(values.length_to_bend**2 - out**2)


def _drop(values: SideValues, bend: Point, sign: float) -> Iterator[Shape]:
    if values.drop_length is None or values.drop_angle is None:
        return
    end = drop_components(
        drop_length_mm=values.drop_length,
        downward_angle_deg=values.drop_angle,
        inward_angle_deg=values.inward_angle or 0.0,
    )
    layer = SIDE if values.inward_angle is not None else FACE
    yield Line(bend, (bend[0] - sign * end.inward_mm, bend[1] + end.rearward_mm), layer)


def _widths(specification: PairSpecification, sides: list[SideValues]) -> Iterator[Shape]:
    right, left = (bend_in_plan(specification, values) for values in sides)
    back = max(right[1], left[1])
    head = _value(specification, "head_width")
    yield Line((0.0, -2.0), (0.0, TEMPLE_WIDTH_LEVEL_MM - 4), CENTRE_LINE)
    yield Dimension(
        start=(-head / 2, back),
        end=(head / 2, back),
        away_mm=0.0,
        words=f"head width {show_number(round(head, 1))} at the bends, inside",
    )
    temple = specification.dimension("temple_width")
    if temple is not None and temple.ordered is not None:
        half, shown = temple.ordered / 2, show_number(round(temple.ordered, 1))
        yield Dimension(
            start=(-half, TEMPLE_WIDTH_LEVEL_MM),
            end=(half, TEMPLE_WIDTH_LEVEL_MM),
            away_mm=0.0,
            words=f"temple width {shown}, {TEMPLE_WIDTH_LEVEL_MM:g} behind the front, inside",
        )
        yield from _bow(specification, sides, temple.ordered)


def _bow(specification: PairSpecification, sides: list[SideValues], ordered: float) -> Iterator[Shape]:
    """A sentence where straight sides would pass the temples elsewhere than ordered."""
    half = _value(specification, "joint_width") / 2
    passed = 0.0
    for values in sides:
        x, y = bend_in_plan(specification, values)
        part = (TEMPLE_WIDTH_LEVEL_MM - values.front_to_joint) / (y - values.front_to_joint)
        passed += half + (abs(x) - half) * part
    if abs(passed - ordered) > BOWED_MM:
        way = "out" if passed < ordered else "in"
        words = f"Straight sides would be {passed:.1f} apart there: bow them {way}, or ask."
        yield Text(at=(0.0, TEMPLE_WIDTH_LEVEL_MM + 5.0), words=words, anchor="middle")

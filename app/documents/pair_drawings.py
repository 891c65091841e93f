"""The drawings of one pair, together as a bench takes them up: front and sides, bridge and widths, lenses."""

from collections.abc import Callable

from app.documents.drawing import CannotDraw, Drawing
from app.documents.drawing_bridge import bridge_of
from app.documents.drawing_extent import extent
from app.documents.drawing_front import front_of
from app.documents.drawing_lens import lenses_of
from app.documents.drawing_place import moved
from app.documents.drawing_plan import plan_of
from app.documents.drawing_sides import side_of
from app.frame.specification import PairSpecification

BETWEEN_MM = 8.0

Make = Callable[[], Drawing]


def pages_of(specification: PairSpecification) -> tuple[tuple[Make, ...], ...]:
    """The drawings, page by page, as functions that raise CannotDraw where something is missing."""
    return (
        (
            lambda: front_of(specification),
            lambda: side_of(specification, "R"),
            lambda: side_of(specification, "L"),
        ),
        (lambda: bridge_of(specification), lambda: plan_of(specification)),
        (lambda: lenses_of(specification),),
    )


def sides_of(specification: PairSpecification) -> Drawing:
    """Both sides from outside and, where it can be drawn, from above, one below the other.

    Origin: the joint of the right side. Raises CannotDraw where either side cannot be drawn.
    """
    parts = [side_of(specification, side) for side in ("R", "L")]
    try:
        parts.append(plan_of(specification))
    except CannotDraw as refusal:
        lacking = str(refusal)
    else:
        lacking = ""
    shapes = list(parts[0].shapes)
    for part in parts[1:]:
        above, below = extent(shapes), extent(part.shapes)
        across = (above.left + above.right) / 2 - (below.left + below.right) / 2
        shapes += moved(part.shapes, across_mm=across, up_mm=above.bottom - BETWEEN_MM - below.top)
    describes = " ".join(part.describes for part in parts)
    return Drawing(
        title=f"Pair {specification.pair.pair}: sides",
        describes=f"{describes} {lacking}".strip(),
        shapes=tuple(shapes),
    )

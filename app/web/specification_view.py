"""What the page “What it becomes” shows of one pair: numbers as text, lines as paths."""

from dataclasses import dataclass
from math import ceil

from app.catalogue.measurement import SIDES, Side
from app.documents.path_data import path_data
from app.frame.edge_geometry import edge_drawing
from app.frame.front_geometry import FrontDrawing, LensDrawing, front_drawing
from app.frame.lens_order import EYES
from app.frame.specification import LensSpecification, PairSpecification
from app.frame.what_if import Size, SizeOfSide, what_if
from app.web.specification_rows import (
    DimensionRow,
    ResidualRow,
    ValueRow,
    dimension_row,
    note_rows,
    residual_rows,
    tenth,
    value_rows,
)

EVERY_OTHER, ROWS_EACH_WAY = 2, 4
"""The sizes are worked out by half millimetres and shown by whole ones, as many as stand on one screen."""
DRAWN_HIGHER = 3.0
"""The edge is drawn three times as thick as long, or it would be a thread."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeRow:
    """One lens width of the table."""

    width: str
    cells: tuple[str, ...]
    chosen: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class LensPicture:
    """One lens of the front as paths."""

    side: Side
    outline: str
    segment: str
    drawing: LensDrawing


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgePicture:
    """The edge of one lens as paths."""

    side: Side
    unrolled: str
    length: float
    mark: tuple[float, float]
    thickest: str
    rules: tuple[tuple[int, float], ...]
    """Thicknesses at which a rule is drawn, mm, and how high each stands."""

    @property
    def height(self) -> float:
        """How high the drawing is."""
        return self.rules[-1][1] + 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Becomes:
    """Everything on the page."""

    made: PairSpecification
    front: FrontDrawing
    lenses: tuple[LensPicture, ...]
    nose: str
    joints: tuple[str, ...]
    edges: tuple[EdgePicture, ...]
    values: tuple[ValueRow, ...]
    sizes: tuple[SizeRow, ...]
    sizes_missing: tuple[str, ...]
    dimensions: tuple[DimensionRow, ...]
    residuals: tuple[ResidualRow, ...]
    notes: tuple[str, ...]
    """What was worked out on the way and is no dimension of its own."""
    label: str
    """The drawing in words."""


def becomes(made: PairSpecification) -> Becomes:
    """The page of one pair."""
    front = front_drawing(made)
    sizes = what_if(made.sheet, made.outline)
    return Becomes(
        made=made,
        front=front,
        lenses=tuple(
            LensPicture(
                side=lens.side,
                outline=path_data(lens.outline, closed=True),
                segment=path_data(lens.segment),
                drawing=lens,
            )
            for lens in (front.right, front.left)
        ),
        nose=path_data(front.nose),
        joints=tuple(path_data(line) for line in front.joints),
        edges=tuple(edge for side in SIDES if (edge := _edge(made.lens(side))) is not None),
        values=tuple(value_rows(made)),
        sizes=tuple(_size(one) for one in _about_the_chosen(sizes.sizes)),
        sizes_missing=sizes.missing,
        dimensions=tuple(dimension_row(line) for line in made.dimensions),
        residuals=tuple(residual_rows(made)),
        notes=tuple(note_rows(made)),
        label=_label(made),
    )


def _about_the_chosen(sizes: tuple[Size, ...]) -> tuple[Size, ...]:
    """The chosen width with as many whole millimetres either way as the screen holds."""
    chosen = next((place for place, one in enumerate(sizes) if one.chosen), 0)
    first = chosen - EVERY_OTHER * min(ROWS_EACH_WAY, chosen // EVERY_OTHER)
    return sizes[first : chosen + EVERY_OTHER * ROWS_EACH_WAY + 1 : EVERY_OTHER]


def _edge(lens: LensSpecification) -> EdgePicture | None:
    if lens.body is None:
        return None
    drawing = edge_drawing(lens.body, EYES[lens.side])
    base = ((drawing.length_mm, 0.0), (0.0, 0.0))
    higher = tuple((way, thick * DRAWN_HIGHER) for way, thick in drawing.unrolled)
    most = max(5, 5 * ceil(drawing.thickest[1] / 5))
    return EdgePicture(
        side=lens.side,
        unrolled=path_data((*higher, *base), closed=True),
        length=drawing.length_mm,
        mark=(drawing.thickest[0], drawing.thickest[1] * DRAWN_HIGHER),
        thickest=f"{tenth(drawing.thickest[1])} mm, {drawing.thickest_words}",
        rules=tuple((thick, thick * DRAWN_HIGHER) for thick in range(0, most + 1, 5)),
    )


def _size(one: Size) -> SizeRow:
    right, left = one.right, one.left
    return SizeRow(
        width=tenth(one.lens_width_mm),
        cells=(
            _pair_of(right.decentration_in, left.decentration_in),
            _larger(right, left, "smallest_blank"),
            _pair_of(right.thickest_edge, left.thickest_edge),
            _pair_of(right.weight_g, left.weight_g),
            _larger(right, left, "let_back_deg"),
        ),
        chosen=one.chosen,
    )


def _pair_of(right: float | None, left: float | None) -> str:
    first, second = tenth(right), tenth(left)
    return first if first == second else f"{first} / {second}"


def _larger(right: SizeOfSide, left: SizeOfSide, name: str) -> str:
    found = [value for value in (getattr(right, name), getattr(left, name)) if value is not None]
    return tenth(max(found)) if found else "–"


def _label(made: PairSpecification) -> str:
    sheet = made.sheet
    sizes = (sheet.lens_width.value, sheet.lens_height.value, sheet.between_lenses.value)
    lens = " by ".join(tenth(one) for one in sizes[:2])
    return (
        f"The front to scale, seen from in front, the wearer's right on the left: lenses {lens} mm, "
        f"{tenth(sizes[2])} mm between them."
    )

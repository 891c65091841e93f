"""What the page “What it becomes” shows of one pair: numbers as text, lines as paths."""

from collections.abc import Iterable
from dataclasses import dataclass
from math import ceil

from app.catalogue.measurement import SIDES, UNIT_WORDS, Side
from app.documents.path_data import path_data
from app.documents.written import number, power
from app.fitting.entry import show_number
from app.frame.edge_geometry import edge_drawing
from app.frame.front_geometry import FrontDrawing, LensDrawing, front_drawing
from app.frame.lens_order import EYES
from app.frame.lens_values import LensValue
from app.frame.needed import Needed
from app.frame.ordered_dimension import OrderedDimension
from app.frame.specification import LensSpecification, PairSpecification
from app.frame.what_if import Size, SizeOfSide, what_if

SHOWN = ("centre_thickness", "edge_thickness_max", "edge_thickness_min", "weight_g", "smallest_blank")
INSETS = ("segment_inset", "segment_top_above_centre_line", "decentration_up", "near_centration")
POWERS = ("power_at_worn_vertex", "worn_power", "prism_for_1mm")
EVERY_OTHER, ROWS_EACH_WAY = 2, 4
"""The sizes are worked out by half millimetres and shown by whole ones, as many as stand on one screen."""
DRAWN_HIGHER = 3.0
"""The edge is drawn three times as thick as long, or it would be a thread."""
SHORT = {
    "centre_thickness": "Centre",
    "edge_thickness_max": "Edge, thickest",
    "edge_thickness_min": "Edge, thinnest",
    "weight_g": "Weight",
    "segment_top_above_centre_line": "Segment top, + above line",
    "decentration_up": "Height from the centre line",
    "power_at_worn_vertex": "Same effect at worn vertex",
    "near_centration": "Near centration",
    "prism_for_1mm": "Prism of a 1 mm slip",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class ValueRow:
    """One value of both lenses. `missing` names what it needs."""

    label: str
    unit: str
    right: str
    left: str
    missing: str = ""


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
class DimensionRow:
    """One ordered dimension with how sure it is."""

    label: str
    side: str
    facial: str
    adjustment: str
    ordered: str
    unit: str
    uncertainty: str
    advice: str
    basis: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ResidualRow:
    """One reading of the bridge against the fitted section."""

    label: str
    measured: str
    fitted: str
    residual: str
    fits: bool


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
        values=tuple(_values(made)),
        sizes=tuple(_size(one) for one in _about_the_chosen(sizes.sizes)),
        sizes_missing=sizes.missing,
        dimensions=tuple(_dimension(line) for line in made.dimensions),
        residuals=tuple(_residuals(made)),
        label=_label(made),
    )


def _about_the_chosen(sizes: tuple[Size, ...]) -> tuple[Size, ...]:
    """The chosen width with as many whole millimetres either way as the screen holds."""
    chosen = next((place for place, one in enumerate(sizes) if one.chosen), 0)
    first = chosen - EVERY_OTHER * min(ROWS_EACH_WAY, chosen // EVERY_OTHER)
    return sizes[first : chosen + EVERY_OTHER * ROWS_EACH_WAY + 1 : EVERY_OTHER]


def tenth(value: float | None, digits: int = 1) -> str:
    """A number as it is read at the chair; a dash where there is none."""
    return "–" if value is None else show_number(round(value, digits))


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


def _values(made: PairSpecification) -> Iterable[ValueRow]:
    for key in (*SHOWN, *INSETS, *POWERS):
        both = [made.lens(side).value(key) for side in SIDES]
        if any(one is not None for one in both):
            yield _value_row(both)
    if made.right.position is not None or made.left.position is not None:
        positions = [made.lens(side).position for side in SIDES]
        yield _needed_row(
            "Vertex by the face",
            [None if one is None else one.vertex for one in positions],
        )
        yield _needed_row(
            "Least room at the lashes", [None if one is None else one.least_lash_room for one in positions]
        )


def _value_row(both: list[LensValue | None]) -> ValueRow:
    known = next(one for one in both if one is not None)
    right, left = ("–" if one is None else _value(one) for one in both)
    missing = dict.fromkeys(name for one in both if one is not None for name in one.missing)
    label = SHORT.get(known.key, known.label)
    unit = "Δ" if known.unit == "prism dioptres" else known.unit
    return ValueRow(label=label, unit=unit, right=right, left=left, missing="; ".join(missing))


def _value(one: LensValue) -> str:
    if one.power is not None:
        cylinder = one.power.cylinder_d
        turned = f" / {power(cylinder)} × {tenth(one.power.axis_deg, 0)}" if round(cylinder, 2) else ""
        return f"{power(one.power.sphere_d)}{turned}"
    if one.number is None:
        return "–"
    digits = 2 if one.key == "prism_for_1mm" else 1
    sure = "" if one.uncertainty is None or one.uncertainty < 0.05 else f" ± {tenth(one.uncertainty)}"
    return f"{tenth(one.number, digits)}{sure}"


def _needed_row(label: str, both: list[Needed | None]) -> ValueRow:
    right, left = (
        "–" if one is None or one.value is None else f"{tenth(one.value)}{_plus_minus(one.uncertainty)}"
        for one in both
    )
    missing = dict.fromkeys(name for one in both if one is not None for name in one.lacking)
    return ValueRow(label=label, unit="mm", right=right, left=left, missing="; ".join(missing))


def _plus_minus(uncertainty: float | None) -> str:
    return "" if uncertainty is None else f" ± {tenth(uncertainty)}"


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


def _dimension(line: OrderedDimension) -> DimensionRow:
    ordered = tenth(line.ordered)
    advice = ""
    if line.after_repeating is not None:
        named = line.dominated_by
        again = f"Repeating {named[0].lower()}{named[1:]} would" if named else "A second reading would"
        advice = f"{again} make it ± {tenth(line.after_repeating)}."
    if line.missing:
        advice = f"missing: {'; '.join(line.missing)}"
    return DimensionRow(
        label=line.label,
        side=line.side or "",
        facial="" if line.facial is None else tenth(line.facial),
        adjustment="" if not line.adjustment else f"{line.adjustment:+g}".replace("-", "\u2212"),
        ordered=line.words if line.words and line.ordered is not None else ordered,
        unit="" if line.words else UNIT_WORDS[line.unit],
        uncertainty=_plus_minus(line.uncertainty).strip(),
        advice=advice,
        basis=line.basis,
    )


def _residuals(made: PairSpecification) -> Iterable[ResidualRow]:
    for one in made.bridge.readings if made.bridge is not None else ():
        yield ResidualRow(
            label=one.reading.name,
            measured=number(one.reading.value),
            fitted=tenth(one.fitted.value),
            residual=f"{one.residual:+.1f}".replace("-", "\u2212"),
            fits=one.fits,
        )


def _label(made: PairSpecification) -> str:
    sheet = made.sheet
    sizes = (sheet.lens_width.value, sheet.lens_height.value, sheet.between_lenses.value)
    lens = " by ".join(tenth(one) for one in sizes[:2])
    return (
        f"The front to scale, seen from in front, the wearer's right on the left: lenses {lens} mm, "
        f"{tenth(sizes[2])} mm between them."
    )

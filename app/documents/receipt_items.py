"""The boxes of the page on which a received pair is measured, from its signed order."""

from collections.abc import Iterator

from app.catalogue.measurement import SIDES, Side
from app.documents.receipt_item import ReceiptItem, ReceiptUnit
from app.documents.signed_order import SignedOrder
from app.fitting.prescription import EyePrescription
from app.frame.ordered_dimension import OrderedDimension

ONE_FOR_BOTH = ("lens_width", "lens_height")
"""Ordered once, measured on each lens."""
FRAME_MEASURED = (
    *("lens_width", "lens_height", "distance_between_lenses", "bridge_width_10", "bridge_width_15"),
    *("apical_radius", "crest_angle", "crest_height", "bridge_projection", "frontal_angle", "splay_angle"),
    *("head_width", "temple_width", "length_to_bend", "overall_length", "side_angle", "drop_angle"),
    *("inward_drop_angle", "let_back", "joint_height"),
)
LENS_MEASURED = ("centration", "near_centration", "segment_height", "fitting_height", "centre_height")
GROUPS = {"bridge": "Bridge", "front": "Front", "sides": "Sides", "lenses": "Where the lenses are centred"}
POWER = "Lens power"
PRISM = "Prism at the centration point"
SEGMENT_FORMS = ("bifocal", "trifocal")
NEAR_FORM = "single_vision_near"
TILT_ORDERED_DEG = 0.0
"""A segment or fitting line is level unless the order says otherwise; ISO 21987."""


def receipt_items(order: SignedOrder) -> tuple[ReceiptItem, ...]:
    """Everything to be measured on this pair: frame, then lenses; right before left."""
    frame = [item for key in FRAME_MEASURED for item in _of_lines(order, key)]
    powers = [item for side in SIDES for item in _powers(order, side)]
    prisms = [item for side in SIDES for item in _prisms(order, side)]
    places = [item for key in LENS_MEASURED for item in _of_lines(order, key)]
    return (*frame, *powers, *prisms, *places, *_segment(order), *_thickness(order))


def lens_sphere(order: SignedOrder, eye: EyePrescription) -> float:
    """The sphere that is measured at the distance point: a lens for reading alone has its addition in it."""
    return eye.sphere + ((eye.add or 0.0) if order.pair.lens_form == NEAR_FORM else 0.0)


def prism_towards(eye: EyePrescription, plus: str, minus: str) -> float:
    """Prescribed prism in one direction, prism dioptres: + towards `plus`."""
    signs = {plus: 1.0, minus: -1.0}
    return sum(signs.get(prism.base or "", 0.0) * prism.amount for prism in eye.prism)


def _of_lines(order: SignedOrder, key: str) -> Iterator[ReceiptItem]:
    lines = [line for line in order.lines if line.dimension == key and line.ordered is not None]
    for line in lines:
        for side in SIDES if key in ONE_FOR_BOTH else (line.side,):
            yield _line(line, side)


def _line(line: OrderedDimension, side: Side | None) -> ReceiptItem:
    unit: ReceiptUnit = "deg" if line.unit == "deg" else "mm"
    return ReceiptItem(
        key=line.dimension,
        label=line.label,
        group=GROUPS[line.group],
        unit=unit,
        side=side,
        ordered=line.ordered,
        hint=line.words,
    )


def _powers(order: SignedOrder, side: Side) -> Iterator[ReceiptItem]:
    eye = order.eye(side)
    if eye is None:
        return
    named: tuple[tuple[str, str, ReceiptUnit, float | None], ...] = (
        ("sphere", "Sphere", "D", lens_sphere(order, eye)),
        ("cylinder", "Cylinder", "D", eye.cylinder or 0.0),
        ("axis", "Axis", "deg", eye.axis if eye.cylinder else None),
    )
    for key, label, unit, ordered in named:
        if key != "axis" or eye.cylinder:
            yield ReceiptItem(key=key, label=label, group=POWER, unit=unit, side=side, ordered=ordered)
    if order.pair.multifocal and eye.add is not None:
        yield ReceiptItem(key="add", label="Addition", group=POWER, unit="D", side=side, ordered=eye.add)


def _prisms(order: SignedOrder, side: Side) -> Iterator[ReceiptItem]:
    eye = order.eye(side)
    if eye is None or any(prism.base is None for prism in eye.prism):
        return
    for key, label, ways in (
        ("prism_in", "Prism, base in +, out −", ("in", "out")),
        ("prism_up", "Prism, base up +, down −", ("up", "down")),
    ):
        yield ReceiptItem(
            key=key,
            label=label,
            group=PRISM,
            unit="prism dioptres",
            side=side,
            ordered=prism_towards(eye, *ways),
        )


def _segment(order: SignedOrder) -> Iterator[ReceiptItem]:
    if not order.pair.multifocal:
        return
    for side in SIDES:
        yield ReceiptItem(
            key="segment_tilt",
            label="Tilt of the segment or fitting line",
            group=GROUPS["lenses"],
            unit="deg",
            side=side,
            ordered=TILT_ORDERED_DEG,
        )
    segment = order.pair.segment
    if order.pair.lens_form in SEGMENT_FORMS and segment is not None:
        for side in SIDES:
            yield ReceiptItem(
                key="segment_diameter",
                label="Width of the segment",
                group=GROUPS["lenses"],
                unit="mm",
                side=side,
                ordered=segment.diameter,
            )


def _thickness(order: SignedOrder) -> Iterator[ReceiptItem]:
    for side in SIDES:
        if order.eye(side) is not None:
            ordered = order.of_lens("centre_thickness", side)
            yield ReceiptItem(
                key="centre_thickness",
                label="Centre thickness",
                group=GROUPS["lenses"],
                unit="mm",
                side=side,
                ordered=None if ordered is None else round(ordered, 1),
                hint="as worked out",
            )

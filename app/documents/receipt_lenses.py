"""Received lenses judged against their order: power in each meridian, cylinder, axis, addition, prism,
centration.

Powers are compared in minus-cylinder form, so that a lens written in plus cylinder is not called wrong. Prism
imbalance is judged from both lenses together: the error of the right less that of the left, in front view.
"""

from collections.abc import Iterator

from app.catalogue.measurement import SIDES, Side
from app.documents.receipt_item import Measured, ReceiptItem, Verdict, judged
from app.documents.receipt_items import POWER, PRISM, lens_sphere, prism_towards
from app.documents.receipt_standards import LensStandard
from app.documents.signed_order import SignedOrder
from app.optics.lens_tolerance import Design, Direction
from app.optics.prescription_algebra import (
    Power,
    horizontal_power,
    vertical_power,
    with_minus_cylinder,
)

NO_AXIS = 180.0
POWER_VARIATION = ("progressive", "degressive")
HEIGHTS = ("segment_height", "fitting_height", "centre_height")
SINGLE_VISION = ("single_vision_distance", "single_vision_near", "single_vision_intermediate", None)


def lens_verdicts(
    order: SignedOrder,
    items: dict[tuple[str, Side | None], ReceiptItem],
    measured: Measured,
    by: LensStandard,
) -> Iterator[Verdict]:
    """Every verdict on the lenses that the measured values allow."""
    for side in SIDES:
        yield from _power(order, side, measured, by)
        yield from _addition(items, side, measured, by)
    yield from _imbalance(order, measured, by)
    for side in SIDES:
        yield from _centration(order, items, side, measured, by)
    yield from _near(items, measured, by)
    for key in HEIGHTS:
        yield from _heights(items, key, measured, by)
    for key, tolerance in (
        ("segment_tilt", by.tilt),
        ("segment_diameter", by.segment_size),
        ("centre_thickness", by.thickness),
    ):
        for side in SIDES:
            if (key, side) in measured and (key, side) in items:
                item, value = items[key, side], measured[key, side]
                yield judged(item, value, tolerance=tolerance.amount, source=tolerance.source)


def ordered_power(order: SignedOrder, side: Side) -> Power | None:
    """The power of one lens as ordered; None where it is not known whole."""
    eye = order.eye(side)
    if eye is None or (eye.cylinder and eye.axis is None):
        return None
    return Power(
        lens_sphere(order, eye), eye.cylinder or 0.0, eye.axis if eye.cylinder and eye.axis else NO_AXIS
    )


def design_of(order: SignedOrder) -> Design:
    """The column of the power tables that the lens form belongs to."""
    return "power variation" if order.pair.lens_form in POWER_VARIATION else "single vision or multifocal"


def _power(order: SignedOrder, side: Side, measured: Measured, by: LensStandard) -> Iterator[Verdict]:
    wanted, sphere = ordered_power(order, side), measured.get(("sphere", side))
    if wanted is None or sphere is None:
        return
    cylinder = measured.get(("cylinder", side), 0.0)
    axis = measured.get(("axis", side))
    found = with_minus_cylinder(Power(sphere, cylinder, axis if cylinder and axis else NO_AXIS))
    wanted, design = with_minus_cylinder(wanted), design_of(order)
    tolerance = by.meridian(wanted, design)
    meridians = (
        ("meridian_1", "Power in the first meridian", wanted.sphere_d, found.sphere_d),
        (
            "meridian_2",
            "Power in the second meridian",
            wanted.sphere_d + wanted.cylinder_d,
            found.sphere_d + found.cylinder_d,
        ),
    )
    strongest = max(meridians, key=lambda one: abs(one[2]))
    for key, label, ordered, value in (strongest,) if by.only_strongest_meridian else meridians:
        item = ReceiptItem(key=key, label=label, group=POWER, unit="D", side=side, ordered=ordered)
        yield judged(item, value, tolerance=tolerance.amount, source=tolerance.source)
    tolerance = by.cylinder(wanted, design)
    item = ReceiptItem(
        key="cylinder", label="Cylinder", group=POWER, unit="D", side=side, ordered=wanted.cylinder_d
    )
    yield judged(item, found.cylinder_d, tolerance=tolerance.amount, source=tolerance.source)
    if wanted.cylinder_d and cylinder and axis is not None:
        yield _axis(side, wanted, found, by)


def _axis(side: Side, wanted: Power, found: Power, by: LensStandard) -> Verdict:
    """The axis, counted round the half turn: 178 and 2 are 4 degrees apart."""
    turned = (found.axis_deg - wanted.axis_deg + 90.0) % 180.0 - 90.0
    item = ReceiptItem(key="axis", label="Axis", group=POWER, unit="deg", side=side, ordered=wanted.axis_deg)
    tolerance = by.axis(wanted.cylinder_d)
    return judged(item, wanted.axis_deg + turned, tolerance=tolerance.amount, source=tolerance.source)


def _addition(
    items: dict[tuple[str, Side | None], ReceiptItem], side: Side, measured: Measured, by: LensStandard
) -> Iterator[Verdict]:
    item, value = items.get(("add", side)), measured.get(("add", side))
    if item is not None and item.ordered is not None and value is not None:
        tolerance = by.addition(item.ordered)
        yield judged(item, value, tolerance=tolerance.amount, source=tolerance.source)


def _imbalance(order: SignedOrder, measured: Measured, by: LensStandard) -> Iterator[Verdict]:
    """Prism of the pair: in adds up over both eyes, up takes off; what counts is the error of the pair."""
    powers = (ordered_power(order, "R"), ordered_power(order, "L"))
    right, left = order.eye("R"), order.eye("L")
    if powers[0] is None or powers[1] is None or right is None or left is None:
        return
    ways: tuple[tuple[Direction, str, str, str, float], ...] = (
        ("horizontal", "prism_in", "in", "out", 1.0),
        ("vertical", "prism_up", "up", "down", -1.0),
    )
    for direction, key, plus, minus, sign in ways:
        if ("R" not in _sides(measured, key)) or ("L" not in _sides(measured, key)):
            continue
        wanted = prism_towards(right, plus, minus) + sign * prism_towards(left, plus, minus)
        value = measured[key, "R"] + sign * measured[key, "L"]
        along = horizontal_power if direction == "horizontal" else vertical_power
        weaker = min(abs(along(powers[0])), abs(along(powers[1])))
        tolerance = by.imbalance(direction, weaker, wanted, design_of(order))
        item = ReceiptItem(
            key=f"imbalance_{direction}",
            label=f"Prism of the pair, {direction}",
            group=PRISM,
            unit="prism dioptres",
            ordered=wanted,
        )
        note = f"By the weaker lens, {weaker:.2f} D in this direction."
        yield judged(item, value, tolerance=tolerance.amount, source=tolerance.source, note=note)


def _sides(measured: Measured, key: str) -> set[Side | None]:
    return {side for name, side in measured if name == key}


def _centration(
    order: SignedOrder,
    items: dict[tuple[str, Side | None], ReceiptItem],
    side: Side,
    measured: Measured,
    by: LensStandard,
) -> Iterator[Verdict]:
    """Centration in mm, with the prism that the error makes; single vision within its prism waits for a
    decision.
    """
    item, value = items.get(("centration", side)), measured.get(("centration", side))
    if item is None or item.ordered is None or value is None:
        return
    power = ordered_power(order, side)
    if power is None:
        yield judged(item, value, tolerance=by.position.amount, source=by.position.source)
        return
    across = abs(horizontal_power(power))
    prism = across * abs(value - item.ordered) / 10
    note = f"The error makes {prism:.2f} prism dioptres."
    allowed = by.imbalance("horizontal", across, 0.0, design_of(order)).amount
    within_prism = order.pair.lens_form in SINGLE_VISION and prism <= allowed
    too_far = abs(value - item.ordered) > by.position.amount + 1e-9
    if too_far and within_prism:
        words = f"{note} Beyond {by.position.amount:g} mm, within the prism that a pair may have."
        yield judged(item, value, tolerance=None, source=by.position.source, note=words)
    else:
        yield judged(item, value, tolerance=by.position.amount, source=by.position.source, note=note)


def _near(
    items: dict[tuple[str, Side | None], ReceiptItem], measured: Measured, by: LensStandard
) -> Iterator[Verdict]:
    """The near centres of both lenses together."""
    ordered = [
        items[key].ordered for key in (("near_centration", "R"), ("near_centration", "L")) if key in items
    ]
    values = [measured.get(("near_centration", side)) for side in SIDES]
    if len(ordered) < 2 or None in ordered or None in values:
        return
    item = ReceiptItem(
        key="near_centres",
        label="Distance between near centres",
        group="",
        unit="mm",
        ordered=sum(one for one in ordered if one is not None),
    )
    total = sum(one for one in values if one is not None)
    tolerance = by.near_centres
    yield judged(
        item,
        total,
        tolerance=None if tolerance is None else tolerance.amount,
        source="" if tolerance is None else tolerance.source,
    )


def _heights(
    items: dict[tuple[str, Side | None], ReceiptItem], key: str, measured: Measured, by: LensStandard
) -> Iterator[Verdict]:
    errors = []
    for side in SIDES:
        item, value = items.get((key, side)), measured.get((key, side))
        if item is None or item.ordered is None or value is None:
            continue
        errors.append(value - item.ordered)
        yield judged(item, value, tolerance=by.height.amount, source=by.height.source)
    if len(errors) == 2:
        item = ReceiptItem(
            key=f"{key}_pair", label="Heights, right against left", group="", unit="mm", ordered=0.0
        )
        tolerance = by.height_difference
        yield judged(item, errors[0] - errors[1], tolerance=tolerance.amount, source=tolerance.source)

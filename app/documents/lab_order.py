"""The lab message of a signed order: what of it goes to a machine, and what has no label that is sure."""

from collections.abc import Callable

import numpy as np

from app.catalogue.measurement import SIDES, Side
from app.documents.lab_message import BothEyes, Eyes, LabMessage, OutlineRadii
from app.documents.signed_order import SignedOrder
from app.fitting.prescription import EyePrescription
from app.optics.outline_size import Outline, centred_on_box, mirrored_outline, outline_sizes
from app.optics.prism import NO_PRISM, Prism, combined_prism, prism_amount, prism_base, prism_from_base

BASE_DEG: dict[Side, dict[str, float]] = {
    "R": {"up": 90.0, "down": 270.0, "in": 0.0, "out": 180.0},
    "L": {"up": 90.0, "down": 270.0, "in": 180.0, "out": 0.0},
}
"""Seen from the front the nose is on the right of the patient's right eye: base in is 0 there (ISO 8429)."""
Part = Callable[[EyePrescription, Side], float | None]
NEAR_FORM = "single_vision_near"
FROM_LINES = (
    ("IPD", "centration"),
    ("NPD", "near_centration"),
    ("OCHT", "centre_height"),
    ("SEGHT", "segment_height"),
)
SAME_FOR_BOTH = (
    ("HBOX", "lens_width"),
    ("VBOX", "lens_height"),
    ("ZTILT", "face_form_angle"),
    ("PANTO", "pantoscopic_angle"),
    ("BVD", "vertex_distance"),
)


def lab_message_of(
    order: SignedOrder, right_outline_mm: Outline | None = None, *, traced: bool = False
) -> LabMessage:
    """The order as a lab message. `right_outline_mm` is the right lens, (n, 2) in mm, front view.

    A traced outline goes out as one of a frame, a drawn one as one of a pattern.

    What is not known is left out; nothing is guessed. The addition of a lens for reading alone is in its
    sphere, as it is surfaced. Units are those of app.documents.lab_labels.
    """
    both: dict[str, BothEyes] = {}
    for label, values in _prescription(order).items():
        _put(both, label, values)
    for label, dimension in FROM_LINES:
        _put(both, label, (order.ordered(dimension, "R"), order.ordered(dimension, "L")))
    for label, dimension in SAME_FOR_BOTH:
        _put(both, label, (order.ordered(dimension),) * 2)
    _put(both, "LIND", (order.pair.index,) * 2)
    outlines: tuple[OutlineRadii, ...] = ()
    if right_outline_mm is not None:
        outlines = tuple(outline_radii(right_outline_mm, side, traced=traced) for side in SIDES)
        _outline_sizes(both, right_outline_mm)
    between = order.ordered("distance_between_lenses")
    return LabMessage(
        job=order.number,
        eyes=_eyes(order),
        both_eyes=both,
        numbers={} if between is None else {"DBL": between},
        outlines=outlines,
    )


def outline_radii(right_outline_mm: Outline, side: Side, *, traced: bool = False) -> OutlineRadii:
    """The outline as radii at its own corner points, in whole hundredths; the left lens is the mirror image.

    Where two corner points fall on one hundredth of a degree the first is sent: nothing else is lost but
    rounding.
    """
    outline = centred_on_box(right_outline_mm if side == "R" else mirrored_outline(right_outline_mm))
    angles = np.degrees(np.arctan2(outline[:, 1], outline[:, 0])) % 360.0
    hundredths = np.round(angles * 100).astype(int) % 36_000
    order = np.argsort(hundredths, kind="stable")
    kept, places = np.unique(hundredths[order], return_index=True)
    radii = np.hypot(outline[:, 0], outline[:, 1])[order][places]
    return OutlineRadii(
        side=side,
        radii_hundredths_mm=tuple(round(float(radius) * 100) for radius in radii),
        angles_hundredths_deg=tuple(int(angle) for angle in kept),
        source="F" if traced else "P",
    )


def prescribed_prism(eye: EyePrescription, side: Side) -> Prism | None:
    """The prescribed prism with its components added; None where one of them has no base."""
    parts = []
    for prism in eye.prism:
        if prism.base is None:
            return None
        parts.append(prism_from_base(amount_prism_dioptres=prism.amount, base_deg=BASE_DEG[side][prism.base]))
    return combined_prism(parts) if parts else NO_PRISM


def _prescription(order: SignedOrder) -> dict[str, BothEyes]:
    eyes = (order.eye("R"), order.eye("L"))
    near = order.pair.lens_form == NEAR_FORM
    found: dict[str, BothEyes] = {
        "SPH": _each(eyes, lambda eye, _: eye.sphere + ((eye.add or 0.0) if near else 0.0)),
        "CYL": _each(eyes, lambda eye, _: eye.cylinder or 0.0),
        "AX": _each(eyes, lambda eye, _: eye.axis if eye.cylinder else None),
    }
    if order.pair.multifocal:
        found["ADD"] = _each(eyes, lambda eye, _: eye.add)
    if any(eye is not None and eye.prism for eye in eyes):
        found["PRVM"] = _each(eyes, _amount)
        found["PRVA"] = _each(eyes, _direction)
    return found


def _each(eyes: tuple[EyePrescription | None, ...], part: Part) -> BothEyes:
    right, left = (None if eye is None else part(eye, side) for eye, side in zip(eyes, SIDES, strict=True))
    return right, left


def _amount(eye: EyePrescription, side: Side) -> float | None:
    prism = prescribed_prism(eye, side)
    return None if prism is None else prism_amount(prism)


def _direction(eye: EyePrescription, side: Side) -> float | None:
    prism = prescribed_prism(eye, side)
    return prism_base(prism) if prism is not None and prism_amount(prism) > 0 else None


def _put(both: dict[str, BothEyes], label: str, values: BothEyes) -> None:
    if values != (None, None):
        both[label] = values


def _outline_sizes(both: dict[str, BothEyes], right_outline_mm: Outline) -> None:
    right, left = outline_sizes(right_outline_mm), outline_sizes(mirrored_outline(right_outline_mm))
    both["FED"] = (right.effective_diameter_mm, left.effective_diameter_mm)
    both["FEDAX"] = (right.effective_diameter_axis_deg, left.effective_diameter_axis_deg)


def _eyes(order: SignedOrder) -> Eyes | None:
    right, left = order.eye("R") is not None, order.eye("L") is not None
    if right and left:
        return "B"
    return "R" if right else "L" if left else None

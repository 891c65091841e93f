"""The geometry of one front as it is drawn: everything in mm, seen from in front, whatever draws it.

The origin is where the middle of the bridge meets the horizontal centre line; x to the observer's right, y up. The
wearer's right lens is therefore on the left, at negative x.
"""

from dataclasses import dataclass
from math import cos, pi, sin

import numpy as np

from app.catalogue.measurement import SIDES, Side
from app.frame.bridge_fit import BridgeFit
from app.frame.lens_order import EYES
from app.frame.ordered_centration import SEGMENT_FORMS, centred_to, near_centration_of
from app.frame.ordered_front import joint_width_of
from app.frame.ordered_heights import FITTING_CROSS_FORMS, decentration_up_of, segment_top_of
from app.frame.ordered_worksheet import Worksheet
from app.frame.specification import PairSpecification
from app.optics.eye import nasal_sign

Point = tuple[float, float]
Line = tuple[Point, ...]
FLANK_TO_MM = 17.0
"""The nose is drawn down to a little below the lower of its two widths."""
JOINT_HEIGHT = {"high": 0.6, "mid": 0.3, "centre_line": 0.0}
"""Where the joints are drawn, as parts of half the lens height, by the choice. A sketch, no dimension."""
DEPTH_OF_STRAIGHT_TOP = 19 / 28
"""Depth of a straight-top segment as part of its width, as for the D 28 × 19. Common trade size."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LensDrawing:
    """One lens: outline, box, pupil, centration point and segment, those that are known."""

    side: Side
    outline: Line
    box: tuple[float, float, float, float] | None
    """Left, bottom, width, height."""
    pupil: tuple[float, float, float] | None
    """Centre and diameter."""
    centration: Point | None
    segment: Line
    thickest: Point | None


@dataclass(frozen=True, slots=True, kw_only=True)
class FrontDrawing:
    """Both lenses, the nose as fitted, the joints, and how much room the drawing needs."""

    right: LensDrawing
    left: LensDrawing
    nose: Line
    joints: tuple[Line, ...]
    half_width: float
    top: float
    bottom: float

    @property
    def empty(self) -> bool:
        """True where not even the sizes of the front are known."""
        return self.right.box is None


def front_drawing(specification: PairSpecification) -> FrontDrawing:
    """The front of one pair as far as it is known."""
    sheet = specification.sheet
    right, left = (_lens(specification, sheet, side) for side in SIDES)
    joints = joint_width_of(sheet) if sheet.handmade else None
    half_joints = None if joints is None or joints.value is None else joints.value / 2
    height, boxed = sheet.lens_height.value, right.box
    outermost = max(-boxed[0] if boxed else 60.0, half_joints or 0.0)
    above = (height or 40.0) / 2
    return FrontDrawing(
        right=right,
        left=left,
        nose=_nose(specification.bridge, _crest(specification)),
        joints=() if half_joints is None or boxed is None else _joints(sheet, half_joints, boxed),
        half_width=outermost + 4,
        top=above + 7,
        bottom=-above - 7,
    )


def _crest(specification: PairSpecification) -> float | None:
    line = specification.dimension("crest_height")
    return None if line is None else line.ordered


def _lens(specification: PairSpecification, sheet: Worksheet, side: Side) -> LensDrawing:
    width, height, between = sheet.lens_width.value, sheet.lens_height.value, sheet.between_lenses.value
    outward = -nasal_sign(EYES[side])
    if width is None or height is None or between is None:
        nothing = LensDrawing(
            side=side, outline=(), box=None, pupil=None, centration=None, segment=(), thickest=None
        )
        return nothing
    middle = outward * (width + between) / 2
    shape = specification.outline.right_mm if side == "R" else specification.outline.left_mm
    body = specification.lens(side).body
    return LensDrawing(
        side=side,
        outline=() if shape is None else tuple((middle + x, y) for x, y in shape.tolist()),
        box=(middle - width / 2, -height / 2, width, height),
        pupil=_pupil(sheet, side, outward),
        centration=_centration(sheet, side, outward),
        segment=_segment(sheet, side, outward, middle=middle, width=width),
        thickest=None if body is None else (middle + body.thickest_at_mm[0], body.thickest_at_mm[1]),
    )


def _pupil(sheet: Worksheet, side: Side, outward: float) -> tuple[float, float, float] | None:
    """Where the pupil is expected: half the lid opening above the lower lid, which the centre line stands above."""
    own, lids = sheet.face("pd_monocular", side).value, sheet.face("lid_aperture", side).value
    if own is None or lids is None:
        return None
    diameter = sheet.face("pupil_horizontal", side).value or 4.0
    return outward * own, lids / 2 - sheet.centre_line_above_lid_mm, diameter


def _centration(sheet: Worksheet, side: Side, outward: float) -> Point | None:
    own = centred_to(sheet, side).value
    if own is None:
        return None
    cross = sheet.pair.lens_form in FITTING_CROSS_FORMS
    height = sheet.on_pair("fitting_height" if cross else "centre_height", side)
    up = 0.0 if sheet.pair.lens_form in SEGMENT_FORMS else decentration_up_of(sheet, height).value
    return outward * own, up or 0.0


def _segment(sheet: Worksheet, side: Side, outward: float, *, middle: float, width: float) -> Line:
    """The segment's line: closed for a round or straight-top one, across the lens for a full-width one."""
    chosen = sheet.pair.segment
    near, top = near_centration_of(sheet, side)[0].value, segment_top_of(sheet, side).value
    if chosen is None or sheet.pair.lens_form not in SEGMENT_FORMS or near is None or top is None:
        return ()
    if chosen.shape == "E":
        return ((middle - width / 2, top), (middle + width / 2, top))
    radius = chosen.diameter / 2
    centre_up = (
        top - radius if chosen.shape == "R" else top + radius - chosen.diameter * DEPTH_OF_STRAIGHT_TOP
    )
    return _arc(outward * near, centre_up, radius, top)


def _arc(x: float, y: float, radius: float, top: float) -> Line:
    """A circle cut off at `top`, from cut to cut round below; the whole circle where the top only touches it."""
    half = min(1.0, max(-1.0, (top - y) / radius))
    start = float(np.arcsin(half))
    turns = np.linspace(pi - start, 2 * pi + start, 49)
    points = [(x + radius * cos(turn), y + radius * sin(turn)) for turn in turns.tolist()]
    return (*points, points[0])


def _nose(fit: BridgeFit | None, crest_up: float | None) -> Line:
    """The nose as the bench will cut the bridge to it: both flanks from below up to the crest and down again."""
    if fit is None or crest_up is None:
        return ()
    depths = np.concatenate((np.linspace(0, 1, 9) ** 2 * 5, np.linspace(6, FLANK_TO_MM, 9))).tolist()
    right = [(-fit.half_width("R", depth), crest_up - depth) for depth in reversed(depths)]
    left = [(fit.half_width("L", depth), crest_up - depth) for depth in depths[1:]]
    return (*right, *left)


def _joints(
    sheet: Worksheet, half_joints: float, boxed: tuple[float, float, float, float]
) -> tuple[Line, ...]:
    """The lugs: from the outer side of each box to the joint."""
    part = JOINT_HEIGHT.get(sheet.pair.choices.get("joint_place", ""), JOINT_HEIGHT["mid"])
    up = part * boxed[3] / 2
    inner = -boxed[0]
    return (((-half_joints, up), (-inner, up)), ((inner, up), (half_joints, up)))

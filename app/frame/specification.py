"""The specification: from a face and a prescription to two frames and four lenses."""

from collections.abc import Mapping
from dataclasses import dataclass

from app.catalogue.measurement import SIDES, Side
from app.fitting.fitting import Fitting
from app.fitting.pair import Pair
from app.fitting.working import WorkingValue, working_values
from app.frame.bridge_fit import BridgeFit
from app.frame.lens_body import LensBody
from app.frame.lens_outline import LensOutline, lens_outline
from app.frame.lens_position import LensPosition, as_worn_tilt, ear_height_difference, lens_position
from app.frame.lens_specification import body_of, lens_values
from app.frame.lens_values import LensValue
from app.frame.needed import Needed
from app.frame.nose_room import NoseRoom, nose_room
from app.frame.ordered import dimensions_of
from app.frame.ordered_bridge import bridge_fit, facial_crest_height
from app.frame.ordered_dimension import OrderedDimension
from app.frame.ordered_front import boxed_centre_distance_of
from app.frame.ordered_worksheet import Worksheet
from app.frame.segment_place import pair_imbalance
from app.optics.differential_prism import NearImbalance
from app.optics.outline_size import Outline
from app.practice.settings import Adjustments, PracticeSettings


@dataclass(frozen=True, slots=True, kw_only=True)
class LensSpecification:
    """One lens: every value a lab asks for, worked out or naming what is missing; its body, and where it sits."""

    side: Side
    values: tuple[LensValue, ...]
    body: LensBody | None
    position: LensPosition | None
    nose_room: NoseRoom | None

    def value(self, key: str) -> LensValue | None:
        """The value of that key."""
        return next((one for one in self.values if one.key == key), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class PairSpecification:
    """One pair: its frame line by line, both lenses, and what was worked out on the way."""

    pair: Pair
    dimensions: tuple[OrderedDimension, ...]
    right: LensSpecification
    left: LensSpecification
    outline: LensOutline
    bridge: BridgeFit | None
    tilt: Needed
    tilt_known_by: str
    ear_height_difference: Needed
    imbalance: NearImbalance | None
    sheet: Worksheet
    """What it was worked out from, for what is worked out only when asked: other sizes, drawings."""

    def lens(self, side: Side) -> LensSpecification:
        """The lens of one side."""
        return self.right if side == "R" else self.left

    def dimension(self, name: str, side: Side | None = None) -> OrderedDimension | None:
        """The line of that name and side."""
        return next((one for one in self.dimensions if (one.dimension, one.side) == (name, side)), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Specification:
    """Both pairs, and the practice's adjustments by which they were worked out."""

    pairs: tuple[PairSpecification, ...]
    adjustments: Adjustments

    def pair(self, number: int) -> PairSpecification | None:
        """The pair of that number."""
        return next((one for one in self.pairs if one.pair.pair == number), None)


def specification(
    fitting: Fitting,
    settings: PracticeSettings,
    *,
    traced_mm: Mapping[int, Outline] | None = None,
    working: tuple[WorkingValue, ...] | None = None,
) -> Specification:
    """What is to be made, for every pair of a fitting.

    `traced_mm` holds imported outlines of right lenses, (n, 2) in mm, by the pair's number. Nothing is guessed:
    what cannot be worked out names what is missing. Never raises for a fitting that can be read.
    """
    known = working_values(fitting) if working is None else working
    pairs = tuple(
        pair_specification(fitting, pair, settings, working=known, traced_mm=(traced_mm or {}).get(pair.pair))
        for pair in fitting.pairs
    )
    return Specification(pairs=pairs, adjustments=settings.adjustments)


def pair_specification(
    fitting: Fitting,
    pair: Pair,
    settings: PracticeSettings,
    *,
    working: tuple[WorkingValue, ...] | None = None,
    traced_mm: Outline | None = None,
) -> PairSpecification:
    """What is to be made of one pair; see `specification`."""
    sheet = Worksheet(
        fitting=fitting,
        pair=pair,
        adjustments=settings.adjustments,
        working=working_values(fitting) if working is None else working,
    )
    outline = lens_outline(sheet, traced_mm)
    fit = bridge_fit(sheet) if sheet.handmade else None
    right, left = (_lens(sheet, side, outline, fit) for side in SIDES)
    tilt, known_by = as_worn_tilt(sheet)
    return PairSpecification(
        pair=pair,
        dimensions=dimensions_of(sheet, outline),
        right=right,
        left=left,
        outline=outline,
        bridge=fit,
        tilt=tilt,
        tilt_known_by=known_by,
        ear_height_difference=ear_height_difference(sheet),
        imbalance=pair_imbalance(sheet),
        sheet=sheet,
    )


def _lens(sheet: Worksheet, side: Side, outline: LensOutline, fit: BridgeFit | None) -> LensSpecification:
    found = body_of(sheet, side, outline)
    body = found if isinstance(found, LensBody) else None
    return LensSpecification(
        side=side,
        values=lens_values(sheet, side, found, outline),
        body=body,
        position=None if body is None or not sheet.handmade else lens_position(sheet, side, body),
        nose_room=_nose_room(sheet, side, outline, fit),
    )


def _nose_room(sheet: Worksheet, side: Side, outline: LensOutline, fit: BridgeFit | None) -> NoseRoom | None:
    shape = outline.right_mm if side == "R" else outline.left_mm
    boxed, crest = boxed_centre_distance_of(sheet), facial_crest_height(sheet)[0]
    if shape is None or fit is None or boxed.value is None or crest.value is None:
        return None
    return nose_room(
        shape,
        side,
        fit,
        boxed_centre_distance_mm=boxed.value,
        crest_above_centre_line_mm=crest.value - sheet.centre_line_above_lid_mm,
    )

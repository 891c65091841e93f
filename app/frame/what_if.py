"""What another lens width would do: decentration, blank, edge, weight and let-back over a row of sizes."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from app.catalogue.measurement import SIDES, Side
from app.frame.lens_order import EYES, planned_lens
from app.frame.lens_outline import LensOutline
from app.frame.lens_sweep import sweep, volumes
from app.frame.needed import missing
from app.frame.ordered_centration import centred_to
from app.frame.ordered_geometry import PERPENDICULAR_DEG
from app.frame.ordered_heights import optical_centre_up
from app.frame.ordered_sides import ordered_length_to_bend
from app.frame.ordered_worksheet import Worksheet
from app.optics.eye import nasal_sign
from app.optics.refusal import NotPossible

SIZES = 25
STEP_MM = 0.5
SMALLEST_MM = 20.0

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeOfSide:
    """What one lens width does on one side; None where it cannot be worked out. mm, g, degrees."""

    decentration_in: float | None
    smallest_blank: float | None
    thickest_edge: float | None
    weight_g: float | None
    let_back_deg: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """One lens width and what follows, right and left."""

    lens_width_mm: float
    right: SizeOfSide
    left: SizeOfSide
    chosen: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class WhatIf:
    """A row of sizes about the chosen one; `missing` names what keeps a column empty."""

    sizes: tuple[Size, ...]
    missing: tuple[str, ...] = ()


def what_if(
    sheet: Worksheet, outline: LensOutline, *, sizes: int = SIZES, step_mm: float = STEP_MM
) -> WhatIf:
    """Sizes about the chosen lens width, everything else kept: height, distance between lenses, lugs, shape.

    The outline is stretched to each width. Columns that cannot be worked out stay empty and say what is missing.
    """
    chosen = sheet.lens_width
    if chosen.value is None:
        return WhatIf(sizes=(), missing=(chosen.name,))
    offsets = (np.arange(sizes) - sizes // 2) * step_mm
    widths: Array = np.asarray(chosen.value + offsets, dtype=float)
    widths = widths[widths >= SMALLEST_MM]
    if not len(widths):
        return WhatIf(sizes=(), missing=(f"{chosen.name} of {SMALLEST_MM:g} mm or more",))
    columns, absent = {}, []
    for side in SIDES:
        columns[side], lacking = _of_side(sheet, side, outline, widths, chosen.value)
        absent += lacking
    rows = tuple(
        Size(
            lens_width_mm=round(float(width), 4),
            right=_row(columns["R"], place),
            left=_row(columns["L"], place),
            chosen=bool(abs(width - chosen.value) < step_mm / 100),
        )
        for place, width in enumerate(widths)
    )
    return WhatIf(sizes=rows, missing=tuple(dict.fromkeys(absent)))


Columns = dict[str, Array | None]


def _row(columns: Columns, place: int) -> SizeOfSide:
    at = {name: _one(column, place) for name, column in columns.items()}
    return SizeOfSide(**at)


def _one(column: Array | None, place: int) -> float | None:
    if column is None or not np.isfinite(column[place]):
        return None
    return float(column[place])


def _of_side(
    sheet: Worksheet, side: Side, outline: LensOutline, widths: Array, chosen_mm: float
) -> tuple[Columns, list[str]]:
    columns: Columns = dict.fromkeys(
        ("decentration_in", "smallest_blank", "thickest_edge", "weight_g", "let_back_deg")
    )
    columns["let_back_deg"], absent = _let_back(sheet, side, widths)
    between, centred = sheet.between_lenses, centred_to(sheet, side)
    lacking = missing(between, centred)
    if lacking:
        return columns, [*absent, *lacking]
    inward = (widths + between.known) / 2 - centred.known
    columns["decentration_in"] = inward
    shape = outline.right_mm if side == "R" else outline.left_mm
    up = optical_centre_up(sheet, side)
    lacking = (*outline.missing, *missing(up))
    if shape is None or lacking:
        return columns, [*absent, *lacking]
    outlines = shape[None] * np.column_stack((widths / chosen_mm, np.ones_like(widths)))[:, None, :]
    centres = np.column_stack((nasal_sign(EYES[side]) * inward, np.full_like(inward, up.known)))
    from_point = outlines if outline.assumed else outlines - centres[:, None, :]
    ways = np.hypot(from_point[..., 0], from_point[..., 1]).max(axis=1)
    by_rule = 2 * np.abs(inward) if outline.assumed else 0.0
    columns["smallest_blank"] = 2 * ways + by_rule + sheet.adjustments.edging_allowance_mm
    columns["thickest_edge"], columns["weight_g"], lacking = _bodies(sheet, side, outlines, centres)
    return columns, [*absent, *lacking]


def _bodies(
    sheet: Worksheet, side: Side, outlines: Array, centres: Array
) -> tuple[Array | None, Array | None, tuple[str, ...]]:
    """Thickest edges and weights; a size whose curves do not reach the edge is not a number."""
    planned = planned_lens(sheet, side)
    if planned.order is None:
        return None, None, planned.missing
    density = planned.density_g_per_cm3
    try:
        lenses = sweep(planned.order, outlines, centres)
        weights = None if density is None else volumes(planned.order, lenses) * density / 1000
        return lenses.thickest_mm, weights, ()
    except NotPossible:
        if len(outlines) == 1:
            nothing = np.array([np.nan])
            return nothing, None if density is None else nothing, ()
    parts = [_bodies(sheet, side, outlines[k : k + 1], centres[k : k + 1]) for k in range(len(outlines))]
    edges = np.concatenate([edge for edge, _, _ in parts if edge is not None])
    grams = [gram for _, gram, _ in parts if gram is not None]
    return edges, np.concatenate(grams) if grams else None, ()


def _let_back(sheet: Worksheet, side: Side, widths: Array) -> tuple[Array | None, list[str]]:
    """Let-back for each width, degrees; only for a frame to be made."""
    if not sheet.handmade:
        return None, []
    head, bend, between = sheet.face("head_width"), ordered_length_to_bend(sheet, side), sheet.between_lenses
    lacking = missing(head, bend, between)
    if lacking:
        return None, list(lacking)
    joints = 2 * widths + between.known + 2 * sheet.lug_mm
    opening = (head.known - sheet.adjustments.head_width_grip_mm - joints) / 2 / bend.known
    return PERPENDICULAR_DEG + np.degrees(np.arctan(opening)), []

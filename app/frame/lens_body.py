"""The body of one lens: centre, edge, weight, smallest blank and where the edge is thickest, with uncertainties.

All follow from where the optical centre lies in the outline and from the size of the outline, so the readings of
the PD (and of a height, and of an existing frame's lenses) are what makes them uncertain. They have kinks: the
thickest point jumps, the least centre takes over from the least edge. So the lens is worked out at several values
of each reading, and the interval is read off simulated readings.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from app.catalogue.measurement import Side
from app.frame.lens_order import EYES, planned_lens
from app.frame.lens_outline import LensOutline
from app.frame.lens_sweep import LensOrder, LensSweep, sweep, volumes
from app.frame.needed import Needed, covered, standard_draws
from app.frame.ordered_worksheet import Worksheet
from app.optics.eye import nasal_sign
from app.optics.outline_size import Outline, mirrored_outline
from app.optics.prescription_algebra import Power
from app.optics.refusal import NotPossible

NODES = np.array([-2.2, -0.8, 0.0, 0.8, 2.2])
"""Values of a reading, in standard deviations, at which the lens is worked out; straight lines between them."""
MIDDLE = len(NODES) // 2
ABOUT = [place for place in range(len(NODES)) if place != MIDDLE]

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class LensBody:
    """A lens as it will come out. Places (x, y) are front view in mm from the boxed centre."""

    order: LensOrder
    front_curve_chosen: bool
    centre: Needed
    edge_thickest: Needed
    edge_thinnest: Needed
    weight: Needed
    smallest_blank: Needed
    optical_centre_mm: tuple[float, float]
    thickest_at_mm: tuple[float, float]
    thinnest_at_mm: tuple[float, float]
    outline_mm: Outline
    edge_mm: Array
    """Thickness at each point of the outline."""
    back: Power


@dataclass(frozen=True, slots=True, kw_only=True)
class NoLensBody:
    """A lens that cannot be worked out, and the names of what is missing."""

    missing: tuple[str, ...]


def lens_body(
    sheet: Worksheet,
    side: Side,
    outline: LensOutline,
    *,
    inward: Needed,
    upward: Needed,
    bare: bool = False,
) -> LensBody | NoLensBody:
    """The body of one lens for its outline and the place of its optical centre (mm in and up).

    `bare`: without weight and uncertainties, which take most of the time, for who asks for neither.
    """
    planned = planned_lens(sheet, side)
    shape = outline.right_mm if side == "R" else outline.left_mm
    absent = tuple(dict.fromkeys((*planned.missing, *outline.missing, *(_lack(inward)), *(_lack(upward)))))
    if absent or planned.order is None or shape is None:
        return NoLensBody(missing=absent)
    sizes = () if outline.by_width is None else (sheet.lens_width, sheet.lens_height)
    axes = () if bare else _axes(inward, upward, *sizes)
    try:
        lenses = swept(
            planned.order, _Frozen(_movable(side, outline, shape)), _cases(side, inward, upward, axes)
        )
    except NotPossible as refusal:
        return NoLensBody(missing=(str(refusal),))
    blank = 2 * np.hypot(*np.moveaxis(lenses.outlines_mm - lenses.centres_mm[:, None, :], 2, 0)).max(axis=1)
    quote = _quoter(axes)
    density = None if bare else planned.density_g_per_cm3
    return LensBody(
        order=planned.order,
        front_curve_chosen=planned.front_curve_chosen,
        centre=quote("Centre thickness", lenses.centre_mm),
        edge_thickest=quote("Edge, thickest", lenses.thickest_mm),
        edge_thinnest=quote("Edge, thinnest", lenses.thinnest_mm),
        weight=_weight(planned.order, lenses, density, axes, sheet.pair.pair),
        smallest_blank=quote("Smallest blank", blank + sheet.adjustments.edging_allowance_mm),
        optical_centre_mm=(float(lenses.centres_mm[0, 0]), float(lenses.centres_mm[0, 1])),
        thickest_at_mm=lenses.place(0, thickest=True),
        thinnest_at_mm=lenses.place(0, thickest=False),
        outline_mm=shape,
        edge_mm=lenses.edge_mm[0],
        back=Power(
            float(lenses.back_sphere_d[0]), planned.order.power.cylinder_d, planned.order.power.axis_deg
        ),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Axis:
    """One thing that varies: what one standard deviation of it does, and the readings that it stands for."""

    inward: float
    upward: float
    width: float
    height: float
    readings: Mapping[str, float]
    """Part of each reading; their squares add up to 1."""


def _axes(inward: Needed, upward: Needed, *sizes: Needed) -> tuple[_Axis, ...]:
    """One axis for all readings that only move the centre in or out, and one for each other reading."""
    width, height = (one.shares for one in sizes) if sizes else ({}, {})
    others = dict.fromkeys((*upward.shares, *width, *height))
    alone = {name: share for name, share in inward.shares.items() if name not in others}
    together = sqrt(sum(share * share for share in alone.values()))
    axes = []
    if together:
        parts = {name: share / together for name, share in alone.items()}
        axes.append(_Axis(inward=together, upward=0.0, width=0.0, height=0.0, readings=parts))
    for name in others:
        moves = [shares.get(name, 0.0) for shares in (inward.shares, upward.shares, width, height)]
        axes.append(
            _Axis(inward=moves[0], upward=moves[1], width=moves[2], height=moves[3], readings={name: 1.0})
        )
    return tuple(axes)


Case = tuple[float, float, float, float]
"""Optical centre (x, y) in mm, and how much wider and higher the lens is, mm."""


def _cases(side: Side, inward: Needed, upward: Needed, axes: tuple[_Axis, ...]) -> tuple[Case, ...]:
    """The lens as ordered first, then at the nodes of each axis."""
    sign = nasal_sign(EYES[side])
    cases: list[Case] = [(sign * inward.known, upward.known, 0.0, 0.0)]
    for axis in axes:
        for node in NODES[ABOUT].tolist():
            cases.append(
                (
                    sign * (inward.known + node * axis.inward),
                    upward.known + node * axis.upward,
                    node * axis.width,
                    node * axis.height,
                )
            )
    return tuple(cases)


class _Frozen:
    """An outline and how it moves with its sizes, (3, n, 2), so that it can stand in a cache."""

    __slots__ = ("array", "mark")

    def __init__(self, array: Array) -> None:
        self.array, self.mark = array, hash(array.tobytes())

    def __hash__(self) -> int:
        return self.mark

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Frozen) and np.array_equal(self.array, other.array)


@lru_cache(maxsize=64)
def swept(order: LensOrder, outline: _Frozen, cases: tuple[Case, ...]) -> LensSweep:
    """The lens in each case. Kept, since most readings leave the lens as it was."""
    at = np.array(cases)
    shape, wider, higher = outline.array
    return sweep(order, shape + at[:, 2, None, None] * wider + at[:, 3, None, None] * higher, at[:, :2])


def _movable(side: Side, outline: LensOutline, shape: Outline) -> Array:
    """The outline of this side with how its points move, (3, n, 2); the left one is the mirror image."""
    if outline.by_width is None or outline.by_height is None:
        return np.stack((shape, np.zeros_like(shape), np.zeros_like(shape)))
    moves = (outline.by_width, outline.by_height)
    return np.stack((shape, *(moves if side == "R" else (mirrored_outline(one) for one in moves))))


def _lack(needed: Needed) -> tuple[str, ...]:
    return () if needed.value is not None else needed.lacking or (needed.name,)


def _weight(
    order: LensOrder, lenses: LensSweep, density: float | None, axes: tuple[_Axis, ...], number: int
) -> Needed:
    """Weight in g. It is smooth, so that its uncertainty follows from the two outer nodes of each axis."""
    if density is None:
        return Needed(name=f"Lens material (its density), pair {number}", value=None, count=0)
    each = len(ABOUT)
    outer = [1 + place * each + end for place in range(len(axes)) for end in (0, each - 1)]
    grams = volumes(order, lenses.only([0, *outer])) * density / 1000
    shares: dict[str, float] = {}
    for place, axis in enumerate(axes):
        low, high = grams[1 + 2 * place], grams[2 + 2 * place]
        _share(shares, axis, float(high - low) / float(NODES[-1] - NODES[0]))
    return Needed(name="Weight", value=float(grams[0]), count=0, shares=shares)


def _share(shares: dict[str, float], axis: _Axis, slope: float) -> None:
    for reading, part in axis.readings.items():
        shares[reading] = shares.get(reading, 0.0) + slope * part


def _quoter(axes: tuple[_Axis, ...]) -> Callable[[str, Array], Needed]:
    """A function that turns values in the cases into a number with its interval."""
    drawn = standard_draws(len(axes))
    each = len(ABOUT)

    def quote(name: str, in_cases: Array) -> Needed:
        value = float(in_cases[0])
        shares: dict[str, float] = {}
        total = np.full(drawn.shape[1], value) if axes else np.empty(0)
        for place, axis in enumerate(axes):
            at_nodes = np.insert(in_cases[1 + place * each : 1 + (place + 1) * each], MIDDLE, value)
            total = total + np.interp(drawn[place], NODES, at_nodes) - value
            _share(shares, axis, float(at_nodes[-1] - at_nodes[0]) / float(NODES[-1] - NODES[0]))
        if not axes:
            return Needed(name=name, value=value, count=0)
        return Needed(name=name, value=value, count=0, shares=shares, interval=covered(total))

    return quote

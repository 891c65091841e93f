"""The body of one lens: centre, edge, weight, smallest blank and where the edge is thickest, with uncertainties.

All four follow from where the optical centre lies, so the readings of the PD (and of a height) are what makes them
uncertain. They have kinks (the thickest point jumps, the least centre takes over from the least edge), so they are
worked out at several places of the centre, and the interval is read off the simulated places.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from app.catalogue.measurement import Side
from app.frame.lens_order import EYES, planned_lens
from app.frame.lens_outline import LensOutline
from app.frame.lens_sweep import LensOrder, LensSweep, sweep, volumes
from app.frame.needed import Needed, covered, samples_of
from app.frame.ordered_worksheet import Worksheet
from app.optics.eye import nasal_sign
from app.optics.lens_weight import weight
from app.optics.outline_size import Outline
from app.optics.prescription_algebra import Power
from app.optics.refusal import NotPossible

PLACES = np.array([-2.5, -1.25, -0.4, 0.0, 0.4, 1.25, 2.5])
"""Places of the optical centre about the ordered one, in standard deviations, at which the lens is worked out."""

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
    weighed: bool = True,
) -> LensBody | NoLensBody:
    """The body of one lens for its outline and the place of its optical centre (mm in and up).

    Weighing takes as long as all the rest; who does not ask for the weight can leave it out.
    """
    planned = planned_lens(sheet, side)
    shape = outline.right_mm if side == "R" else outline.left_mm
    absent = tuple(dict.fromkeys((*planned.missing, *outline.missing, *(_lack(inward)), *(_lack(upward)))))
    if absent or planned.order is None or shape is None:
        return NoLensBody(missing=absent)
    places = _places(side, inward, upward)
    try:
        lenses = swept(planned.order, _Frozen(shape), tuple(map(tuple, places.tolist())))
    except NotPossible as refusal:
        return NoLensBody(missing=(str(refusal),))
    blank = 2 * np.hypot(*np.moveaxis(shape[None] - places[:, None, :], 2, 0)).max(axis=1)
    quote = _quoter(inward, upward)
    weights = _weights(planned.order, lenses, planned.density_g_per_cm3 if weighed else None, sheet.pair.pair)
    return LensBody(
        order=planned.order,
        front_curve_chosen=planned.front_curve_chosen,
        centre=quote("Centre thickness", lenses.centre_mm),
        edge_thickest=quote("Edge, thickest", lenses.thickest_mm),
        edge_thinnest=quote("Edge, thinnest", lenses.thinnest_mm),
        weight=weights if isinstance(weights, Needed) else quote("Weight", weights),
        smallest_blank=quote("Smallest blank", blank + sheet.adjustments.edging_allowance_mm),
        optical_centre_mm=(float(places[0, 0]), float(places[0, 1])),
        thickest_at_mm=lenses.place(0, thickest=True),
        thinnest_at_mm=lenses.place(0, thickest=False),
        outline_mm=shape,
        edge_mm=lenses.edge_mm[0],
        back=Power(
            float(lenses.back_sphere_d[0]), planned.order.power.cylinder_d, planned.order.power.axis_deg
        ),
    )


class _Frozen:
    """An outline that can stand in a cache: told apart by its bytes."""

    __slots__ = ("array", "mark")

    def __init__(self, array: Outline) -> None:
        self.array, self.mark = array, hash(array.tobytes())

    def __hash__(self) -> int:
        return self.mark

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Frozen) and np.array_equal(self.array, other.array)


@lru_cache(maxsize=64)
def swept(order: LensOrder, outline: _Frozen, places: tuple[tuple[float, float], ...]) -> LensSweep:
    """The lens at each place of its optical centre. Kept, since most readings leave the lens as it was."""
    centres = np.array(places)
    return sweep(order, np.broadcast_to(outline.array, (len(places), *outline.array.shape)), centres)


def _lack(needed: Needed) -> tuple[str, ...]:
    return () if needed.value is not None else needed.lacking or (needed.name,)


def _places(side: Side, inward: Needed, upward: Needed) -> Array:
    """The ordered place first, then those about it along each of the two directions that is uncertain."""
    sign = nasal_sign(EYES[side])
    offsets = [(0.0, 0.0)]
    offsets += [(float(one) * inward.standard, 0.0) for one in PLACES if one and inward.standard]
    offsets += [(0.0, float(one) * upward.standard) for one in PLACES if one and upward.standard]
    return np.array([(sign * (inward.known + x), upward.known + y) for x, y in offsets])


def _weights(order: LensOrder, lenses: LensSweep, density: float | None, number: int) -> Array | Needed:
    if density is None:
        return Needed(name=f"Lens material (its density), pair {number}", value=None, count=0)
    return np.array(
        [weight(volume_mm3=float(one), density_g_per_cm3=density) for one in volumes(order, lenses)]
    )


def _quoter(inward: Needed, upward: Needed) -> Callable[[str, Array], Needed]:
    """A function that turns values at the places into a number with its interval."""
    uncertain = tuple(one for one in (inward, upward) if one.standard)
    drawn = [
        (values - one.known) / one.standard
        for values, one in zip(samples_of(uncertain), uncertain, strict=True)
    ]
    steps = [one for one in PLACES if one]

    def quote(name: str, at_places: Array) -> Needed:
        value = float(at_places[0])
        shares: dict[str, float] = {}
        total = np.zeros(len(drawn[0])) if drawn else np.zeros(1)
        for turn, (one, deviations) in enumerate(zip(uncertain, drawn, strict=True)):
            of_this = at_places[1 + turn * len(steps) : 1 + (turn + 1) * len(steps)]
            nodes = np.insert(of_this, len(steps) // 2, value)
            total = total + np.interp(deviations, PLACES, nodes) - value
            slope = float(nodes[-1] - nodes[0]) / float(PLACES[-1] - PLACES[0])
            for reading, share in one.shares.items():
                shares[reading] = shares.get(reading, 0.0) + slope * share / one.standard
        if not drawn:
            return Needed(name=name, value=value, count=0)
        return Needed(name=name, value=value, count=0, shares=shares, interval=covered(value + total))

    return quote

"""The section of the bridge fitted to all readings that describe it: two widths, two frontal angles, the radius.

An arc tangent to two straight flanks has three unknowns (radius, frontal angle right and left); the five readings
over-determine it. Weighted least squares lets each reading move by what its repeatability allows, so that what
the bench gets describes one section. A real crest is not quite such an arc: the radius carries an uncertainty of
the model besides that of the reading. Source: weighted least squares by Gauss-Newton, textbook (Björck 1996,
Numerical methods for least squares problems); 2 mm: the crest radii and widths of a face model
(ICT-FaceKit, https://github.com/ICT-VGL/ICT-FaceKit) are nearly unrelated.
"""

from dataclasses import dataclass
from functools import lru_cache
from math import hypot

import numpy as np
from numpy.typing import NDArray

from app.catalogue.measurement import SIDES, Side
from app.frame.bridge_section import half_width_at
from app.frame.needed import Needed

MODEL_OF_CREST = "how far a crest is an arc"
RADIUS_MODEL_MM = 2.0
LEVELS_MM = (10.0, 15.0)
UNKNOWNS = 3
PASSES = 12
SETTLED = 1e-9
STEP = 1e-5
LEAST_RADIUS_MM, LARGEST_RADIUS_MM = 0.5, 60.0
LARGEST_ANGLE_DEG = 80.0

Vector = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class FittedReading:
    """One reading against the fitted section. `residual` is reading less fit; `allowed` what k = 2 would allow."""

    measurement: str
    side: Side | None
    reading: Needed
    fitted: Needed
    allowed: float

    @property
    def residual(self) -> float:
        """Reading less fitted value, in the unit of the reading."""
        return self.reading.known - self.fitted.known

    @property
    def fits(self) -> bool:
        """True where the reading lies within its allowance of the fit."""
        return abs(self.residual) <= self.allowed


@dataclass(frozen=True, slots=True, kw_only=True)
class BridgeFit:
    """The fitted section: radius in mm, frontal angles in degrees, and each reading against it."""

    radius_mm: float
    right_angle_deg: float
    left_angle_deg: float
    readings: tuple[FittedReading, ...]

    def fitted(self, measurement: str, side: Side | None = None) -> Needed | None:
        """The fitted value of one reading; None where it was not taken."""
        found = (one for one in self.readings if (one.measurement, one.side) == (measurement, side))
        return next((one.fitted for one in found), None)

    def half_width(self, side: Side, depth_mm: float) -> float:
        """From the midline to one flank, mm, at a depth below the crest: each flank of an uneven nose its own."""
        angle = self.right_angle_deg if side == "R" else self.left_angle_deg
        return half_width_at(depth_mm=depth_mm, apical_radius_mm=self.radius_mm, frontal_angle_deg=angle)


def fit_bridge(
    *, upper: Needed, lower: Needed, right: Needed, left: Needed, radius: Needed
) -> BridgeFit | None:
    """The section that fits the readings best; None with fewer than four, or where they describe no section.

    Lengths mm, angles in degrees. Minimises the sum of squared residuals, each over its variance.
    """
    named: tuple[tuple[str, Side | None, Needed], ...] = (
        ("bridge_width_10", None, upper),
        ("bridge_width_15", None, lower),
        *(("frontal_angle", side, one) for side, one in zip(SIDES, (right, left), strict=True)),
        ("apical_radius", None, radius),
    )
    taken = [place for place, (_, _, one) in enumerate(named) if one.value is not None and one.standard > 0]
    if len(taken) <= UNKNOWNS or not {0, 1} <= set(taken):
        return None
    measured = np.array([named[place][2].known for place in taken])
    spread = np.array([_spread(named[place][0], named[place][2]) for place in taken])
    found = _solved(tuple(measured.tolist()), tuple(spread.tolist()), tuple(taken))
    if found is None:
        return None
    unknowns, hat = found
    predicted = _section(unknowns)[taken]
    readings = tuple(
        _fitted(named[place], float(predicted[row]), hat[row], [named[each] for each in taken], spread[row])
        for row, place in enumerate(taken)
    )
    return BridgeFit(
        radius_mm=float(unknowns[0]),
        right_angle_deg=float(unknowns[1]),
        left_angle_deg=float(unknowns[2]),
        readings=readings,
    )


def _spread(measurement: str, reading: Needed) -> float:
    model = RADIUS_MODEL_MM if measurement == "apical_radius" else 0.0
    return hypot(reading.standard, model)


def _section(unknowns: Vector) -> Vector:
    """Both widths, both angles and the radius of a section (radius mm, angles degrees)."""
    radius, right, left = (float(one) for one in unknowns)
    widths = [
        sum(
            half_width_at(depth_mm=level, apical_radius_mm=radius, frontal_angle_deg=one)
            for one in (right, left)
        )
        for level in LEVELS_MM
    ]
    return np.array([*widths, right, left, radius])


def _within_reason(unknowns: Vector) -> Vector:
    low = np.array([LEAST_RADIUS_MM, 0.0, 0.0])
    high = np.array([LARGEST_RADIUS_MM, LARGEST_ANGLE_DEG, LARGEST_ANGLE_DEG])
    return np.asarray(np.clip(unknowns, low, high))


def _slopes(unknowns: Vector) -> Vector:
    columns = []
    for place in range(UNKNOWNS):
        step = np.zeros(UNKNOWNS)
        step[place] = STEP
        columns.append((_section(unknowns + step) - _section(np.abs(unknowns - step))) / (2 * STEP))
    return np.column_stack(columns)


@lru_cache(maxsize=64)
def _solved(
    readings: tuple[float, ...], spreads: tuple[float, ...], places: tuple[int, ...]
) -> tuple[Vector, Vector] | None:
    """Unknowns and the matrix that says how much each fitted value follows each reading; kept for the same ones."""
    measured, spread, taken = np.array(readings), np.array(spreads), list(places)
    implied = np.degrees(np.arctan((measured[1] - measured[0]) / 10))
    start = dict(zip(taken, measured, strict=True))
    unknowns = _within_reason(np.array([start.get(4, 8.0), start.get(2, implied), start.get(3, implied)]))
    for _ in range(PASSES):
        slopes = _slopes(unknowns)[taken]
        weighted = slopes / spread[:, None]
        normal = weighted.T @ weighted
        if np.linalg.cond(normal) > 1e12:
            return None
        to_unknowns = np.linalg.solve(normal, weighted.T) / spread
        following = _within_reason(unknowns + to_unknowns @ (measured - _section(unknowns)[taken]))
        moved = float(np.abs(following - unknowns).max())
        unknowns = following
        if moved < SETTLED:
            break
    return unknowns, slopes @ to_unknowns


def _fitted(
    named: tuple[str, Side | None, Needed],
    value: float,
    follows: Vector,
    taken: list[tuple[str, Side | None, Needed]],
    spread: float,
) -> FittedReading:
    """A fitted value with the shares of all readings that it follows."""
    measurement, side, reading = named
    shares: dict[str, float] = {}
    for weight, (other, _, needed) in zip(follows, taken, strict=True):
        for name, share in needed.shares.items():
            shares[name] = shares.get(name, 0.0) + float(weight) * share
        if other == "apical_radius":
            shares[MODEL_OF_CREST] = float(weight) * RADIUS_MODEL_MM
    return FittedReading(
        measurement=measurement,
        side=side,
        reading=reading,
        fitted=Needed(name=reading.name, value=value, count=reading.count, shares=shares),
        allowed=2 * spread,
    )

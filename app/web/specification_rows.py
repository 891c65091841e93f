"""The rows of the page “What it becomes”: values of both lenses, every dimension, the bridge's residuals."""

from collections.abc import Iterable
from dataclasses import dataclass

from app.catalogue.measurement import SIDES, UNIT_WORDS
from app.fitting.entry import show_number
from app.frame.lens_values import LensValue
from app.frame.needed import Needed
from app.frame.ordered_dimension import OrderedDimension
from app.frame.specification import PairSpecification
from app.web.words import number, power

SHOWN = ("centre_thickness", "edge_thickness_max", "edge_thickness_min", "weight_g", "smallest_blank")
INSETS = ("segment_inset", "segment_top_above_centre_line", "decentration_up", "near_centration")
POWERS = ("power_at_worn_vertex", "worn_power", "prism_for_1mm")
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


def tenth(value: float | None, digits: int = 1) -> str:
    """A number as it is read at the chair; a dash where there is none."""
    return "–" if value is None else show_number(round(value, digits))


def value_rows(made: PairSpecification) -> Iterable[ValueRow]:
    """The values of both lenses, and where they will stand."""
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
        turned = (
            f" / {power(cylinder)}\u00a0×\u00a0{tenth(one.power.axis_deg, 0)}" if round(cylinder, 2) else ""
        )
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


def dimension_row(line: OrderedDimension) -> DimensionRow:
    """One ordered dimension."""
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


def residual_rows(made: PairSpecification) -> Iterable[ResidualRow]:
    """The readings of the bridge against the fitted section."""
    for one in made.bridge.readings if made.bridge is not None else ():
        yield ResidualRow(
            label=one.reading.name,
            measured=number(one.reading.value),
            fitted=tenth(one.fitted.value),
            residual=f"{one.residual:+.1f}".replace("-", "\u2212"),
            fits=one.fits,
        )


def note_rows(made: PairSpecification) -> Iterable[str]:
    """Tilt, ears, nose and reading: each in a sentence, those that are known."""
    if made.tilt.value is not None:
        yield f"Tilt as worn {tenth(made.tilt.value)}{_plus_minus(made.tilt.uncertainty)}°: {made.tilt_known_by}."
    lower = made.ear_height_difference
    if lower.value is not None and round(lower.value, 1):
        side = "left" if lower.value > 0 else "right"
        yield f"The {side} ear lies {tenth(abs(lower.value))}{_plus_minus(lower.uncertainty)} mm lower."
    for side, lens in (("R", made.right), ("L", made.left)):
        if lens.nose_room is not None:
            room, below = tenth(lens.nose_room.room_mm), tenth(lens.nose_room.below_crest_mm)
            yield f"Between lens and nose, {side}: {room} mm at least, {below} mm below the crest."
    if made.imbalance is not None:
        apart = tenth(abs(made.imbalance.difference_prism_dioptres), 2)
        level = tenth(made.sheet.adjustments.reading_level_mm)
        yield f"Vertical prism between the eyes when reading {level} mm below the centres: {apart} Δ."

"""What an assessment says of one lens: its values, how sure they are, and what is missing for the others."""

from typing import Any

from app.fitting.file_readings import file_number
from app.frame.lens_values import LensValue
from app.frame.specification import LensSpecification
from app.optics.prescription_algebra import Power

DECIMALS = 4


def write_lens(lens: LensSpecification) -> dict[str, Any]:
    """The lens as a JSON object: each value under its key, left out and named under `missing` where unknown."""
    known = {one.key: _value(one) for one in lens.values if one.known}
    uncertain = {
        one.key: _number(one.uncertainty) for one in lens.values if one.known and one.uncertainty is not None
    }
    missing = {one.key: list(one.missing) for one in lens.values if not one.known and one.missing}
    extra: dict[str, Any] = {}
    if uncertain:
        extra["uncertainty"] = uncertain
    if missing:
        extra["missing"] = missing
    return {**known, **extra}


def _value(one: LensValue) -> object:
    if one.power is not None:
        return write_power(one.power)
    return None if one.number is None else _number(one.number)


def write_power(power: Power) -> dict[str, int | float]:
    """A power as sphere, cylinder and axis."""
    return {
        "sphere": _number(power.sphere_d),
        "cylinder": _number(power.cylinder_d),
        "axis": _number(power.axis_deg),
    }


def _number(value: float) -> int | float:
    return file_number(round(value, DECIMALS))

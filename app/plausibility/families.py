"""Every family of checks, imported by name in the order in which their findings are listed."""

from app.plausibility import (
    bridge,
    bridge_order,
    could_not_judge,
    cover_test,
    expectation_check,
    eyes,
    head,
    heights,
    history,
    lashes,
    lenses,
    near_portion,
    pair_geometry,
    prescription,
    prescription_powers,
    previous_visit,
    pupil_distances,
    record,
    repeats,
    sides,
    single_limits,
    slips,
    specification,
    squint,
)
from app.plausibility.check import ENTERED, Check

FAMILIES = (
    history,
    cover_test,
    single_limits,
    repeats,
    bridge,
    bridge_order,
    lashes,
    pupil_distances,
    squint,
    sides,
    head,
    eyes,
    heights,
    pair_geometry,
    specification,
    expectation_check,
    lenses,
    near_portion,
    prescription_powers,
    prescription,
    slips,
    previous_visit,
    record,
    could_not_judge,
)

_ORDER = {family.__name__: place for place, family in enumerate(FAMILIES)}

CHECKS: dict[str, Check] = dict(
    sorted(ENTERED.items(), key=lambda item: _ORDER.get(item[1].find.__module__, len(_ORDER)))
)
"""All checks by name, families in the order above, checks in the order of their file."""

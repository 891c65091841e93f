"""Which of several working values of one thing to go on with: by method and condition, in the trade's order."""

from app.catalogue.catalogue import MEASUREMENTS
from app.catalogue.measurement import Side
from app.fitting.working import WorkingValue

COVERED = "fellow_eye_covered"
RANK_OF_CONDITION: dict[str | None, int] = {"hearing_aid_in": 0, None: 1, "hearing_aid_out": 3}
"""A side is made to go with the hearing aid that is worn; any other condition comes after an ordinary reading."""
RANK_OF_OTHER_CONDITION = 2


def preferred_value(
    working: tuple[WorkingValue, ...],
    measurement: str,
    side: Side | None = None,
    *,
    pair: int | None = None,
    squint: bool = False,
) -> WorkingValue | None:
    """The working value to order by, None where there is none.

    In a squint the reading with the other eye covered comes first, else last; then the order of methods in the
    catalogue; a hearing aid in goes before out. Source: common practice.
    """
    found = [
        value for value in working if (value.measurement, value.side, value.pair) == (measurement, side, pair)
    ]
    return min(found, key=lambda value: _rank(value, squint=squint), default=None)


def _rank(value: WorkingValue, *, squint: bool) -> tuple[int, int]:
    condition = RANK_OF_CONDITION.get(value.condition, RANK_OF_OTHER_CONDITION)
    methods = [method.key for method in MEASUREMENTS[value.measurement].methods]
    if COVERED in (value.condition, value.method):
        return (-1 if squint else len(methods) + 1), condition
    return (methods.index(value.method) + 1 if value.method in methods else 0), condition

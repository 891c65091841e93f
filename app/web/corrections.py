"""A correction as a reading: the new value, pointing at the reading that it replaces."""

from dataclasses import replace
from datetime import UTC, datetime

from app.catalogue.catalogue import MEASUREMENTS
from app.fitting.entry import show_value
from app.fitting.reading import Reading


def corrected_reading(wrong: Reading, value: float, *, by: str, role: str) -> Reading:
    """The reading that takes the place of a wrong one, accepted by the practitioner who corrects it."""
    return replace(
        wrong,
        value=value,
        text=show_value(MEASUREMENTS[wrong.measurement], value).replace("−", "-"),
        by=by,
        role=role,
        at=datetime.now(UTC).isoformat(timespec="seconds"),
        source="typed",
        proposed=False,
        accepted_by=None,
        replaces=wrong.identity,
        entered_in_error=None,
        identity=None,
    )

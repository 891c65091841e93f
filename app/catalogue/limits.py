"""How a measurement's limits are written down in one line each."""

from app.catalogue.measurement import Limits, Range

Ends = tuple[float, float]


def limits(*, usual: Ends, ask: Ends, stop: Ends, source: str, provisional: bool = False) -> Limits:
    """The limits of one age band from (low, high) pairs in the measurement's own unit."""
    return Limits(
        usual=Range(*usual), ask=Range(*ask), stop=Range(*stop), source=source, provisional=provisional
    )

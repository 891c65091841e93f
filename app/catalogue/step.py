"""A step of the sequence: one page, one drawing, a handful of measurements."""

from dataclasses import dataclass

from app.catalogue.measurement import Measurement


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One page of a fitting. Steps without measurements (person, cover test, …) have pages of their own."""

    key: str
    title: str
    short: str
    """Name on the step rail."""
    measurements: tuple[Measurement, ...] = ()
    drawing: str = ""
    """Name of the drawing in templates/drawings/ on which each measurement's key is the id of its mark."""
    prompts: tuple[str, ...] = ()
    """What to say or do before the readings of this step."""
    cautions: tuple[str, ...] = ()
    observations: tuple[str, ...] = ()
    """Keys of app.catalogue.choices that are asked on the same page."""

    def drawing_of(self, measurement: Measurement) -> str:
        """Name of the drawing on which the measurement's key is the id of its mark."""
        return measurement.drawing or self.drawing

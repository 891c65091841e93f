"""What a lab is told of one lens, each value with its uncertainty or with the name of what is missing."""

from dataclasses import dataclass

from app.frame.needed import Needed
from app.optics.prescription_algebra import Power


@dataclass(frozen=True, slots=True, kw_only=True)
class LensValue:
    """One value of a lens: a length in mm, a weight in g, a prism in prism dioptres, or a power."""

    key: str
    label: str
    unit: str
    basis: str
    source: str
    number: float | None = None
    power: Power | None = None
    uncertainty: float | None = None
    low: float | None = None
    high: float | None = None
    missing: tuple[str, ...] = ()

    @property
    def known(self) -> bool:
        """True where it could be worked out."""
        return self.number is not None or self.power is not None


def lens_value(needed: Needed, *, key: str, label: str, unit: str, basis: str, source: str) -> LensValue:
    """A number of a lens with its uncertainty."""
    low, high = needed.interval or (None, None)
    return LensValue(
        key=key,
        label=label,
        unit=unit,
        basis=basis,
        source=source,
        number=needed.value,
        uncertainty=needed.uncertainty,
        low=low,
        high=high,
        missing=() if needed.value is not None else needed.lacking or (needed.name,),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedPower:
    """Words for a value that is a power."""

    key: str
    label: str
    basis: str
    source: str

    def value(self, power: Power | None, missing: tuple[str, ...] = ()) -> LensValue:
        """The power under these words, or what is missing for it."""
        return LensValue(
            key=self.key,
            label=self.label,
            unit="D",
            basis=self.basis,
            source=self.source,
            power=power,
            missing=missing,
        )

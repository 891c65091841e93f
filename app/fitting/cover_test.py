"""The cover test at distance and near, as recorded: never a diagnosis."""

from dataclasses import dataclass
from typing import Literal

CoverDistance = Literal["distance", "near"]


@dataclass(frozen=True, slots=True, kw_only=True)
class CoverFinding:
    """What was seen at one distance. Size in prism dioptres; `known` says whether the prescriber knows of it."""

    finding: Literal["none", "latent", "manifest", "not_applicable"]
    direction: Literal["in", "out", "up", "down"] | None = None
    eye: Literal["R", "L", "alternating"] | None = None
    size: float | None = None
    size_words: Literal["small", "moderate", "large"] | None = None
    recovery: Literal["quick", "slow", "none"] | None = None
    constancy: Literal["constant", "intermittent"] | None = None
    with_spectacles: bool | None = None
    known: Literal["yes", "no", "not_known"] | None = None
    note: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CoverTest:
    """Both distances; None where that distance was not tested."""

    distance: CoverFinding | None = None
    near: CoverFinding | None = None

    @property
    def squint(self) -> bool:
        """True where a manifest deviation was recorded at either distance."""
        return any(part is not None and part.finding == "manifest" for part in (self.distance, self.near))

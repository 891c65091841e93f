"""A judgement: what a fitting's readings come to, what was found, and what waits for something else first."""

from dataclasses import dataclass, field

from app.catalogue.measurement import Side
from app.fitting.working import WorkingValue
from app.plausibility.expectation_judgement import Judged
from app.plausibility.finding import Finding


@dataclass(frozen=True, slots=True, kw_only=True)
class Judgement:
    """`held_back` are findings that wait until the stop named in them is put right: they may vanish with it."""

    working: tuple[WorkingValue, ...]
    findings: tuple[Finding, ...]
    held_back: tuple[Finding, ...] = ()
    expected: Judged | None = field(default=None, compare=False, repr=False)
    """What each reading is expected to be; None where too few can be compared, or it is switched off."""

    @property
    def raw(self) -> tuple[Finding, ...]:
        """Everything that was found, held back or not."""
        return self.findings + self.held_back


def about_reading(
    judgement: Judgement, measurement: str, side: Side | None = None, pair: int | None = None
) -> tuple[Finding, ...]:
    """The findings that one box should show: those about its measurement, its side and its pair.

    A finding about a measurement as a whole (no side) is shown at both sides.
    """
    return tuple(
        finding
        for finding in judgement.findings
        if any(
            subject.measurement == measurement
            and subject.pair == pair
            and (side is None or subject.side in (None, side))
            for subject in finding.about
        )
    )

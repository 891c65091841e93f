"""One pair as the checks look at it: what was measured on it, what was planned for it, what follows from both."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from app.catalogue.measurement import SIDES, Side
from app.fitting.pair import Pair
from app.fitting.prescription import Prescription
from app.frame.ordered_front import joint_width_of
from app.frame.ordered_worksheet import Worksheet
from app.optics.boxed_system import boxed_centre_distance, monocular_decentration
from app.plausibility.finding import Subject
from app.plausibility.value import Value

if TYPE_CHECKING:
    from app.plausibility.facts import Facts

LONGER_THAN_WIDE_MM = 2.0
"""Where the longest diameter was not given it is taken as the lens width and this. Common practice, rough."""
STRONG_POWER_D = 5.0
"""From this power on the vertex distance matters. Common practice; many prescribing rules ask for it from ±5.00."""


@dataclass(frozen=True, slots=True)
class PairFacts:
    """One pair of a fitting."""

    facts: "Facts"
    pair: Pair

    @property
    def number(self) -> int:
        """1 or 2."""
        return self.pair.pair

    @property
    def handmade(self) -> bool:
        """True for a frame that is still to be made."""
        return self.pair.kind == "handmade"

    @property
    def sheet(self) -> Worksheet:
        """The worksheet from which this pair's ordered dimensions are worked out."""
        return Worksheet(
            fitting=self.facts.fitting,
            pair=self.pair,
            adjustments=self.facts.settings.adjustments,
            working=self.facts.working,
        )

    @property
    def prescription(self) -> Prescription | None:
        """The prescription that this pair is made to."""
        return self.facts.prescription_of(self.pair)

    @property
    def prescription_path(self) -> str:
        """Where that prescription stands in the record."""
        return "prescription" if self.pair.prescription is None else f"pair.{self.number}.prescription"

    def powers(self) -> tuple[Value, ...]:
        """The strongest meridian of each lens that is prescribed."""
        prescription = self.prescription
        if prescription is None:
            return ()
        eyes = ((side, prescription.eye(side)) for side in SIDES)
        return tuple(
            Value(
                subject=Subject(measurement=f"{self.prescription_path}.{side}.sphere", side=side),
                number=eye.strongest_meridian,
                unit="D",
            )
            for side, eye in eyes
            if eye is not None
        )

    def reading(self, measurement: str, side: Side | None = None) -> Value | None:
        """A reading off or with this pair."""
        return self.facts.value(measurement, side, pair=self.number)

    def _measured_or_planned(self, measurement: str, planned: float | None) -> Value | None:
        """For a frame to be made the plan, for an existing one the reading; the other where that is blank."""
        measured = self.reading(measurement)
        if planned is None or (measured is not None and not self.handmade):
            return measured
        return Value(subject=Subject(measurement=measurement, pair=self.number), number=planned, count=0)

    @property
    def lens_width(self) -> Value | None:
        """Boxed lens width."""
        return self._measured_or_planned("lens_width", self.pair.lens_width)

    @property
    def lens_height(self) -> Value | None:
        """Boxed lens height."""
        return self._measured_or_planned("lens_height", self.pair.lens_height)

    @property
    def between_lenses(self) -> Value | None:
        """Distance between lenses."""
        return self._measured_or_planned("distance_between_lenses", self.pair.distance_between_lenses)

    @property
    def vertex(self) -> Value | None:
        """Vertex distance as worn, else as planned."""
        return self.reading("vertex_distance") or self._measured_or_planned(
            "vertex_distance", self.pair.vertex_mm
        )

    @property
    def planned(self) -> tuple[Value, ...]:
        """The planned dimensions that no reading has replaced: judged by the limits of the readings."""
        parts = (self.lens_width, self.lens_height, self.between_lenses, self.vertex)
        return tuple(value for value in parts if value is not None and value.count == 0)

    @property
    def longest_diameter(self) -> Value | None:
        """Longest diameter of the lens shape as given, else the lens width and a little."""
        given = self.pair.longest_diameter_mm
        if given is not None:
            return Value(subject=Subject(measurement=f"pair.{self.number}.longest_diameter_mm"), number=given)
        width = self.lens_width
        return None if width is None else width.with_number(width.number + LONGER_THAN_WIDE_MM)

    @property
    def worn_pd(self) -> Value | None:
        """PD with this pair on: one reading, or right and left added up."""
        return self.reading("pd_worn") or self.facts.sum_of_sides("pd_worn", pair=self.number)

    @property
    def worn_near_pd(self) -> Value | None:
        """Near PD with this pair on: one reading, or right and left added up."""
        return self.reading("pd_near_worn") or self.facts.sum_of_sides("pd_near_worn", pair=self.number)

    @property
    def joint_width(self) -> Value | None:
        """Width of the front between its joints, with this pair's lugs or the practice's allowance for them."""
        number, width, between = joint_width_of(self.sheet).value, self.lens_width, self.between_lenses
        if number is None or width is None or between is None:
            return None
        return Value(
            subject=Subject(measurement="joint_width", pair=self.number),
            number=number,
            parts=(width, between),
        )

    def decentration(self, side: Side) -> Value | None:
        """Decentration inward of one lens from its single-eye PD, or from half the near PD in a near lens."""
        width, between, centration = self.lens_width, self.between_lenses, self.centration(side)
        if width is None or between is None or centration is None:
            return None
        boxed = boxed_centre_distance(lens_width_mm=width.number, distance_between_lenses_mm=between.number)
        number = monocular_decentration(
            boxed_centre_distance_mm=boxed, single_eye_centration_distance_mm=centration.number
        )
        return Value(
            subject=Subject(measurement="decentration", side=side, pair=self.number),
            number=number,
            parts=(width, between, centration),
        )

    def centration(self, side: Side) -> Value | None:
        """The single-eye distance that a lens is centred to."""
        if self.pair.lens_form != "single_vision_near":
            return self.facts.value("pd_monocular", side)
        near = self.facts.value("pd_near")
        return near.with_number(near.number / 2) if near is not None else None

    @property
    def largest_decentration(self) -> Value | None:
        """The larger of the two decentrations, without its sign."""
        found = [self.decentration(side) for side in SIDES]
        return max((one for one in found if one is not None), key=lambda one: abs(one.number), default=None)

    @property
    def centre_line_above_lid(self) -> Value:
        """Height of the horizontal centre line above the lower lid, as planned for this pair or by the practice."""
        return Value(
            subject=Subject(measurement=f"pair.{self.number}.centre_line_above_lid_mm"),
            number=self.sheet.centre_line_above_lid_mm,
        )

    @property
    def strongest(self) -> Value | None:
        """The strongest principal power of both lenses, with its sign; None where there is no prescription."""
        return max(self.powers(), key=lambda one: abs(one.number), default=None)

    @property
    def strong(self) -> bool:
        """True where the vertex distance has to be known."""
        strongest = self.strongest
        return strongest is not None and abs(strongest.number) >= STRONG_POWER_D

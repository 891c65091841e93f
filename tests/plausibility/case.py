"""Small fittings for examples: only what a check looks at."""

from dataclasses import dataclass, field
from datetime import date
from typing import Any

from app.catalogue.conditions import CONDITIONS
from app.fitting.cover_test import CoverFinding, CoverTest
from app.fitting.fitting import Fitting, Person, Taken
from app.fitting.pair import Pair
from app.fitting.prescription import EyePrescription, Prescription, Prism
from app.fitting.reading import Reading
from app.fitting.working import working_values
from app.plausibility.check import Seen
from app.plausibility.facts import Facts
from app.plausibility.families import CHECKS
from app.plausibility.finding import Subject
from app.practice.settings import PracticeSettings

DAY = "2026-10-02"
Number = float | int


@dataclass(frozen=True)
class Case:
    """A fitting, and what else it is judged with."""

    fitting: Fitting
    today: date | None = None
    previous: Fitting | None = None
    settings: PracticeSettings = field(default_factory=PracticeSettings)
    confirmed: frozenset[Subject] = frozenset()

    def seen_by(self, check: str) -> list[Seen]:
        """What one check sees, by itself and with nothing held back."""
        facts = Facts(
            self.fitting,
            self.settings,
            working_values(self.fitting),
            self.today,
            self.previous,
            self.confirmed,
        )
        return list(CHECKS[check].find(facts))


def case(
    *,
    age: int | None = 40,
    born: str | None = None,
    cover: CoverTest | None = None,
    prescription: Prescription | None = None,
    pairs: tuple[Pair, ...] = (),
    on_pair_1: dict[str, Any] | None = None,
    on_pair_2: dict[str, Any] | None = None,
    history: dict[str, str] | None = None,
    taken: Taken | None = None,
    sight_impaired: bool = False,
    today: str | None = None,
    previous: Case | None = None,
    settings: PracticeSettings | None = None,
    readings: tuple[Reading, ...] = (),
    **face: Any,
) -> Case:
    """A case from readings of the face by name; see `readings_of` for how each is given."""
    day = taken.on if taken is not None else DAY
    if born is None and age is not None:
        born = f"{int(day[:4]) - age}{day[4:]}"
    fitting = Fitting(
        person=Person(reference="T-1", born=born, registered_sight_impaired=sight_impaired),
        taken=taken or Taken(on=DAY, by="A. Practitioner", role="practitioner"),
        readings=(
            *readings,
            *readings_of(face),
            *readings_of(on_pair_1 or {}, pair=1),
            *readings_of(on_pair_2 or {}, pair=2),
        ),
        cover_test=cover or CoverTest(),
        prescription=prescription,
        pairs=pairs,
        history=history or {},
    )
    return Case(
        fitting=fitting,
        today=None if today is None else date.fromisoformat(today),
        previous=None if previous is None else previous.fitting,
        settings=settings or PracticeSettings(),
    )


def readings_of(values: dict[str, Any], pair: int | None = None) -> list[Reading]:
    """Readings by name: a number; (right, left), None to leave one out; [first, second, …] for repeats;
    {method or condition: number or pair of numbers}.
    """
    found = []
    for measurement, given in values.items():
        by_way = given if isinstance(given, dict) else {None: given}
        for way, value in by_way.items():
            condition = way if way in CONDITIONS and way != "fellow_eye_covered" else None
            method = way if condition is None else None
            sided = zip(("R", "L"), value, strict=True) if isinstance(value, tuple) else ((None, value),)
            for side, one in sided:
                for number in one if isinstance(one, list) else [one]:
                    if number is not None:
                        found.append(
                            Reading(
                                measurement=measurement,
                                value=float(number),
                                text=f"{number:g}",
                                side=side,  # type: ignore[arg-type]
                                method=method,
                                condition=condition,
                                pair=pair,
                            )
                        )
    return found


def handmade(**details: Any) -> Pair:
    """Pair 1, to be made."""
    return Pair(**{"pair": 1, "kind": "handmade"} | details)


def own_frame(**details: Any) -> Pair:
    """Pair 2, the patient's own."""
    return Pair(**{"pair": 2, "kind": "own_frame"} | details)


def eye(
    sphere: float,
    cylinder: float | None = None,
    axis: float | None = None,
    *,
    add: float | None = None,
    prism: tuple[tuple[float, Any], ...] = (),
) -> EyePrescription:
    """One eye's prescription, prisms as (amount, base)."""
    prisms = tuple(Prism(amount=amount, base=base) for amount, base in prism)
    return EyePrescription(sphere=sphere, cylinder=cylinder, axis=axis, add=add, prism=prisms)


def prescribed(
    right: EyePrescription | None,
    left: EyePrescription | None,
    *,
    written: str | None = "2026-09-20",
    tested_at_mm: float | None = 12,
) -> Prescription:
    """Both eyes."""
    return Prescription(right=right, left=left, written=written, tested_at_mm=tested_at_mm)


def covered(distance: CoverFinding | None = None, near: CoverFinding | None = None) -> CoverTest:
    """A cover test at one or both distances."""
    return CoverTest(distance=distance, near=near)


NO_MOVEMENT = CoverFinding(finding="none")
LATENT_OUT = CoverFinding(finding="latent", direction="out", recovery="quick")
SQUINT_KNOWN = CoverFinding(
    finding="manifest", direction="out", eye="L", size=35, constancy="constant", known="yes"
)

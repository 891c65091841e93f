"""Invented fittings at the ends of what can be entered about lenses, where their formulas may have no answer."""

from typing import Any

from hypothesis import strategies as st
from hypothesis.strategies import SearchStrategy

from app.catalogue.catalogue import MEASUREMENTS
from app.fitting.details import EYE_DETAILS, PAIR_DETAILS, PRESCRIPTION_DETAILS, Detail
from app.fitting.fitting import Fitting, Person, Taken
from app.fitting.pair import Pair
from app.fitting.prescription import EyePrescription, Prescription
from app.fitting.reading import Reading
from tests.fitting.strategies import whole_ten_thousandths

TEN_TIMES_TOO_LARGE = 10
"""The slip of a lost decimal point or of centimetres for millimetres, which the box offers to put right."""
OF_LENSES = {
    "vertex_distance": (None,),
    "lens_width": (None,),
    "lens_height": (None,),
    "distance_between_lenses": (None,),
    "pd_monocular": ("R", "L"),
    "segment_height": ("R", "L"),
    "fitting_height": ("R", "L"),
}


def either_end(low: float, high: float) -> SearchStrategy[float]:
    """Values near the ends of a range, and the ends."""
    room = (high - low) / 20
    near_ends = whole_ten_thousandths(low, low + room) | whole_ten_thousandths(high - room, high)
    return st.sampled_from([low, high]) | near_ends


def details_at_the_ends(
    declared: tuple[Detail, ...], *, always: tuple[str, ...] = ()
) -> SearchStrategy[dict[str, Any]]:
    """Any of the details that have limits of sense, near those limits."""
    of = {
        one.key: either_end(one.possible.low, one.possible.high)
        for one in declared
        if one.possible is not None
    }
    rest = {key: value for key, value in of.items() if key not in always}
    return st.fixed_dictionaries({key: of[key] for key in always}, optional=rest)


def reading_at_the_ends(key: str, side: Any, pair: int | None) -> SearchStrategy[Reading]:
    """A reading at the ends of what is believed, or ten times as large."""
    believed = MEASUREMENTS[key].adult.stop
    values = either_end(believed.low, believed.high)
    slips = values.map(lambda value: round(value * TEN_TIMES_TOO_LARGE, 3))
    return (values | slips).map(
        lambda value: Reading(measurement=key, value=value, text=f"{value:g}", side=side, pair=pair)
    )


@st.composite
def fittings_of_strong_lenses(draw: st.DrawFn) -> Fitting:
    """A fitting with both eyes' powers and a pair or two, everything near an end of its range."""
    eyes = details_at_the_ends(EYE_DETAILS, always=("sphere",)).map(lambda given: EyePrescription(**given))
    tested = draw(details_at_the_ends(PRESCRIPTION_DETAILS, always=("tested_at_mm",)))
    forms = st.sampled_from(["single_vision_distance", "single_vision_near", "bifocal", "progressive"])
    kinds: dict[int, Any] = {1: "handmade", 2: "own_frame"}
    pairs, readings = [], []
    for number in draw(st.sampled_from([(1,), (2,), (1, 2)])):
        planned = draw(details_at_the_ends(PAIR_DETAILS))
        pairs.append(Pair(pair=number, kind=kinds[number], lens_form=draw(forms), **planned))
        for key, sides in OF_LENSES.items():
            pair = number if MEASUREMENTS[key].off_pair else None
            readings += [draw(reading_at_the_ends(key, side, pair)) for side in sides if draw(st.booleans())]
    return Fitting(
        person=Person(reference="T-1"),
        taken=Taken(on="2026-10-02"),
        readings=tuple(readings),
        prescription=Prescription(right=draw(eyes), left=draw(eyes), written="2026-09-20", **tested),
        pairs=tuple(pairs),
    )

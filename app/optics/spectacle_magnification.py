"""Spectacle magnification: how much larger or smaller the retinal image is with the lens than without."""

from dataclasses import dataclass

from app.optics.lens_form import through_thickness
from app.optics.refusal import NotPossible

VERTEX_TO_ENTRANCE_PUPIL_MM = 3.0  # schematic eye, common practice


@dataclass(frozen=True, slots=True)
class Magnification:
    """Shape factor, power factor and their product (no unit; 1 means no change)."""

    shape: float
    power: float
    total: float


def spectacle_magnification(
    *,
    front_power_d: float,
    back_vertex_d: float,
    centre_thickness_mm: float,
    index: float,
    lens_to_entrance_pupil_mm: float,
) -> Magnification:
    """Shape factor x power factor.

    1 / (1 - (t/n) F1) x 1 / (1 - d F'v), powers in dioptres, lengths in mm (metres in the formula).
    d runs from the back vertex to the entrance pupil: vertex distance + 3 mm.
    Source: https://brainscape.com/flashcards/week-106-spectacle-mag-17752956 (1.022 x 1.064 = 1.087).

    >>> found = spectacle_magnification(front_power_d=8, back_vertex_d=4, centre_thickness_mm=4,
    ...                                 index=1.498, lens_to_entrance_pupil_mm=15)
    >>> round(found.shape, 3), round(found.power, 3), round(found.total, 3)
    (1.022, 1.064, 1.087)
    """
    reach = 1 - lens_to_entrance_pupil_mm / 1000 * back_vertex_d
    if reach <= 0:
        raise NotPossible(f"A lens of {back_vertex_d:+.2f} D focuses before the pupil: no magnification.")
    reduced_m = centre_thickness_mm / 1000 / index
    shape = 1.0 if front_power_d == 0 else through_thickness(front_power_d, reduced_m) / front_power_d
    return Magnification(shape, 1 / reach, shape / reach)


def image_size_difference_percent(*, right: Magnification, left: Magnification) -> float:
    """How much larger the right image is than the left, in percent: 100 (right / left - 1).

    >>> larger, same = Magnification(1.0, 1.05, 1.05), Magnification(1.0, 1.0, 1.0)
    >>> round(image_size_difference_percent(right=larger, left=same), 1)
    5.0
    """
    return 100 * (right.total / left.total - 1)

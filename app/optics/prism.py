"""Prism as components: units, naming by base, combining, resolving and splitting between the eyes.

A prism is kept as (right, up) components of its base in front view, in prism dioptres; only the words in
and out need to know the eye. Base in degrees from 0 up to below 360, counter-clockwise from the observer's
right (ISO 8429).
"""

from collections.abc import Iterable
from dataclasses import dataclass
from math import atan, atan2, cos, degrees, hypot, radians, sin, tan
from typing import Literal

from app.optics.eye import Eye, nasal_sign
from app.optics.refusal import NotPossible

HorizontalBase = Literal["in", "out"]
VerticalBase = Literal["up", "down"]
SMALLEST_PRISM = 1e-9  # prism dioptres; below this a computed component is rounding error


@dataclass(frozen=True, slots=True)
class Prism:
    """Components of the base in prism dioptres: + to the observer's right, + up."""

    right_prism_dioptres: float = 0.0
    up_prism_dioptres: float = 0.0


NO_PRISM = Prism()


@dataclass(frozen=True, slots=True)
class NamedPrism:
    """The same prism in the words of a prescription: two amounts in prism dioptres, each with its base."""

    horizontal_prism_dioptres: float
    horizontal_base: HorizontalBase
    vertical_prism_dioptres: float
    vertical_base: VerticalBase


def prism_dioptres_from_deviation(deviation_deg: float) -> float:
    """Prism dioptres of a deviation in degrees: P = 100 tan d.

    Source: definition of the prism dioptre (cm/m); 1 degree is 1.75 at
    https://blog.brainscape.com/flashcards/4-prisms-7589965.

    >>> round(prism_dioptres_from_deviation(1), 2)
    1.75
    """
    if not -90 < deviation_deg < 90:
        raise NotPossible(f"A deviation of {deviation_deg:g} degrees cannot be given in prism dioptres.")
    return 100 * tan(radians(deviation_deg))


def deviation_from_prism_dioptres(prism_dioptres: float) -> float:
    """Deviation in degrees of a prism in prism dioptres: d = atan(P / 100).

    >>> round(deviation_from_prism_dioptres(1.7455), 3)
    1.0
    """
    return degrees(atan(prism_dioptres / 100))


def thin_prism_deviation(*, apical_angle_deg: float, index: float) -> float:
    """Deviation in degrees of a thin prism: d = (n - 1) a. Textbook formula.

    >>> round(thin_prism_deviation(apical_angle_deg=4, index=1.5), 3)
    2.0
    """
    return (index - 1) * apical_angle_deg


def prism_from_thickness_difference(
    *, thickness_difference_mm: float, length_mm: float, index: float
) -> float:
    """Prism dioptres of a wedge.

    P = 100 (n - 1) dt / g, dt the thickness difference over the length g, in mm.
    Source: formula at https://blog.brainscape.com/flashcards/4-prisms-7589965.

    >>> round(prism_from_thickness_difference(thickness_difference_mm=2, length_mm=50, index=1.5), 3)
    2.0
    """
    return 100 * (index - 1) * thickness_difference_mm / length_mm


def prism_from_base(*, amount_prism_dioptres: float, base_deg: float) -> Prism:
    """Components of a prism given by amount (prism dioptres) and base (degrees in the 360 notation).

    >>> prism = prism_from_base(amount_prism_dioptres=2.5, base_deg=36.8699)
    >>> round(prism.right_prism_dioptres, 3), round(prism.up_prism_dioptres, 3)
    (2.0, 1.5)
    """
    base = radians(base_deg)
    return Prism(amount_prism_dioptres * cos(base), amount_prism_dioptres * sin(base))


def prism_from_names(eye: Eye, named: NamedPrism) -> Prism:
    """Components (prism dioptres) of a prism written as in/out and up/down before one eye."""
    inward = named.horizontal_prism_dioptres * (1 if named.horizontal_base == "in" else -1)
    upward = named.vertical_prism_dioptres * (1 if named.vertical_base == "up" else -1)
    return Prism(nasal_sign(eye) * inward, upward)


def prism_amount(prism: Prism) -> float:
    """Size of a prism in prism dioptres: sqrt(H^2 + V^2).

    >>> prism_amount(Prism(2.0, 1.5))
    2.5
    """
    return hypot(prism.right_prism_dioptres, prism.up_prism_dioptres)


def prism_base(prism: Prism) -> float:
    """Base of a prism in degrees, 0 up to below 360, front view: atan2(up, right).

    Source: http://courses.durhamtech.edu/opticianry/oph142/NFOS-12/prism_base/module_01_a.html
    (right eye 1.5 up and 2 in: base 37; left eye 1.5 down and 2 in: base 217).

    >>> round(prism_base(Prism(2.0, 1.5))), round(prism_base(Prism(-2.0, -1.5)))
    (37, 217)
    """
    return degrees(atan2(prism.up_prism_dioptres, prism.right_prism_dioptres)) % 360.0


def named_prism(eye: Eye, prism: Prism) -> NamedPrism:
    """A prism (prism dioptres) in the words in/out and up/down before one eye; amounts are never negative.

    A component of no amount is called in or up.

    >>> named_prism("left", prism_from_base(amount_prism_dioptres=3, base_deg=300)).horizontal_base
    'out'
    """
    inward = nasal_sign(eye) * prism.right_prism_dioptres
    upward = prism.up_prism_dioptres
    return NamedPrism(
        horizontal_prism_dioptres=abs(inward),
        horizontal_base="out" if inward < -SMALLEST_PRISM else "in",
        vertical_prism_dioptres=abs(upward),
        vertical_base="down" if upward < -SMALLEST_PRISM else "up",
    )


def combined_prism(prisms: Iterable[Prism]) -> Prism:
    """Sum of prisms before one eye (prism dioptres): components add."""
    listed = list(prisms)
    return Prism(
        sum(prism.right_prism_dioptres for prism in listed),
        sum(prism.up_prism_dioptres for prism in listed),
    )


def mirrored_prism(prism: Prism) -> Prism:
    """The prism (prism dioptres) as it stands before the fellow eye in a mirror: right changes sign."""
    return Prism(-prism.right_prism_dioptres, prism.up_prism_dioptres)


def imbalance(*, right: Prism, left: Prism) -> Prism:
    """What the pair of eyes must bear, in prism dioptres: right eye's components minus left eye's.

    Equal bases on both sides (both up; both to the observer's right) only turn the gaze; differences load the
    eyes. Before the right eye, + right means base in and + up means base up right.
    """
    return Prism(
        right.right_prism_dioptres - left.right_prism_dioptres,
        right.up_prism_dioptres - left.up_prism_dioptres,
    )


def split_prism(total: Prism) -> tuple[Prism, Prism]:
    """The right and the left prism (prism dioptres) that share a total written as before the right eye.

    Half each with opposite components: horizontal keeps the name of its base, vertical reverses it.
    Source: http://courses.durhamtech.edu/opticianry/oph142/NFOS-12/prism_base/module_01_b.html
    (3 up and 4 in on one eye: 1.5 up and 2 in, 1.5 down and 2 in).

    >>> right, left = split_prism(Prism(4.0, 3.0))
    >>> named = named_prism("left", left)
    >>> named.horizontal_prism_dioptres, named.horizontal_base
    (2.0, 'in')
    >>> named.vertical_prism_dioptres, named.vertical_base
    (1.5, 'down')
    """
    half = Prism(total.right_prism_dioptres / 2, total.up_prism_dioptres / 2)
    return half, Prism(-half.right_prism_dioptres, -half.up_prism_dioptres)


def rebalanced(*, right: Prism, left: Prism) -> tuple[Prism, Prism]:
    """The same imbalance shared equally between right and left, in prism dioptres.

    Source: http://grafana.stuvia.com/doc/6536242 (5 up right with 1 down left: 3 up, 3 down).

    >>> [prism.up_prism_dioptres for prism in rebalanced(right=Prism(0, 5), left=Prism(0, -1))]
    [3.0, -3.0]
    """
    return split_prism(imbalance(right=right, left=left))

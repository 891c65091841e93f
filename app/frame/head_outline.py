"""The head as seen from above: an ellipse through its breadth and length."""

from math import pi, sqrt

from app.optics.refusal import require_positive


def head_circumference(*, head_breadth_mm: float, head_length_mm: float) -> float:
    """Circumference in mm of an ellipse with these axes, by Ramanujan's second formula.

    pi (a + b)(1 + 3 h / (10 + sqrt(4 - 3 h))), h = ((a - b) / (a + b))^2, a and b the semi-axes; the error
    is far below 0.001 mm for any head. Source: S. Ramanujan (1914), Modular equations and approximations to
    pi. A head is not an ellipse: this is for cross-checks. Head width at the ear points is less than head
    breadth.

    >>> round(head_circumference(head_breadth_mm=152, head_length_mm=197), 1)
    550.5
    """
    require_positive(head_breadth_mm, "The head breadth in mm")
    require_positive(head_length_mm, "The head length in mm")
    half_length, half_breadth = head_length_mm / 2, head_breadth_mm / 2
    total = half_length + half_breadth
    ratio = ((half_length - half_breadth) / total) ** 2
    return pi * total * (1 + 3 * ratio / (10 + sqrt(4 - 3 * ratio)))

"""Lines of a drawing as the path text of SVG (W3C SVG 1.1, chapter 8)."""

from collections.abc import Iterable

Point = tuple[float, float]


def path_data(points: Iterable[Point], *, closed: bool = False) -> str:
    """A path through points in mm, to a hundredth.

    >>> path_data([(0, 0), (10, 0), (10, 5.128)], closed=True)
    'M0 0L10 0L10 5.13Z'
    """
    parts = [f"{_short(x)} {_short(y)}" for x, y in points]
    if not parts:
        return ""
    return f"M{'L'.join(parts)}{'Z' if closed else ''}"


def _short(value: float) -> str:
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text

"""The form in which things are kept: whole ten-thousandths, text of bounded length, whole numbers in bounds."""

import math
import re

from app.records.errors import NotStorable

PARTS = 10_000
"""A value is kept as whole ten-thousandths of its unit: 1/16 inch is 1.5875 mm, an eighth of a dioptre 0.125."""
LARGEST_PARTS = 1_000_000_000
"""100 000 units either way: far beyond any face, far inside every database's whole numbers."""
_ALLOWED_ROUNDING = 1e-4
"""In ten-thousandths: what binary fractions alone can be off by at that size."""

_NOT_TEXT = re.compile("[\x00\ud800-\udfff]")
"""The nul character and halves of characters: one or the other database refuses them."""


def parts_of(value: float) -> int:
    """The value in whole ten-thousandths; refused where that would change it."""
    if not math.isfinite(value) or abs(value) * PARTS > LARGEST_PARTS:
        raise NotStorable("That number is too large to be a measurement.")
    parts = round(value * PARTS)
    if abs(value * PARTS - parts) > _ALLOWED_ROUNDING:
        raise NotStorable(
            "That number has more than four decimals; enter it as it was read off the instrument."
        )
    return parts


def value_of(parts: int) -> float:
    """The value of whole ten-thousandths."""
    return parts / PARTS


def text_of(text: str, *, what: str, longest: int) -> str:
    """The text, refused where it is too long or holds what no database keeps."""
    if len(text) > longest:
        raise NotStorable(f"The {what} is too long: at most {longest} characters are kept.")
    if _NOT_TEXT.search(text):
        raise NotStorable(f"The {what} holds characters that are not text; please type it again.")
    return text


def optional_text(text: str | None, *, what: str, longest: int) -> str | None:
    """As text_of; nothing stays nothing."""
    return None if text is None else text_of(text, what=what, longest=longest)

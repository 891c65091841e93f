"""Text as search sees it: small letters, no accents, no punctuation; telephone numbers as digits."""

import unicodedata

_WITHOUT_PARTS = str.maketrans(
    {"ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "æ": "ae", "œ": "oe", "ı": "i", "ħ": "h", "ŧ": "t"}
)
"""Letters that Unicode does not take apart into a plain letter and a mark."""
_INSIDE_WORDS = "'’‘ʼ`´"
"""Dropped rather than read as a gap: O'Neill is one word."""


def normalised(text: str) -> str:
    """The words of the text, folded, one space between them."""
    folded = unicodedata.normalize("NFKD", text.casefold()).translate(_WITHOUT_PARTS)
    letters = (
        letter if letter.isalnum() else " "
        for letter in folded
        if not unicodedata.combining(letter) and letter not in _INSIDE_WORDS
    )
    return " ".join("".join(letters).split())


def compact(text: str) -> str:
    """The folded text without any gap, for references: "D-0001", "d 0001" and "D0001" are the same."""
    return normalised(text).replace(" ", "")


def digits_of(text: str) -> str:
    """The digits of a telephone number, as 0-9 whatever the script."""
    return "".join(str(unicodedata.digit(letter)) for letter in text if letter.isdecimal())


def prefix_end(prefix: str) -> str:
    """A text that sorts behind everything that begins with the prefix."""
    return prefix + "\U0010ffff"

"""The place of a value in a file, such as `pairs[0].sheet_mm`: one line of plain characters for any keys."""

LONGEST_KEY = 80
"""Characters of one key in a place; ours, so that a refusal stays one readable line."""


def member_place(place: str, key: str) -> str:
    """The place of a member of the object at `place`; the whole document has the place "".

    >>> member_place("readings[0]", "value"), member_place("", "half \\ud800")
    ('readings[0].value', 'half \\\\ud800')
    """
    shown = shown_key(key)
    return f"{place}.{shown}" if place else shown


def entry_place(place: str, index: int) -> str:
    """The place of an entry of the list at `place`, counted from 0."""
    return f"{place}[{index}]"


def shown_key(key: str) -> str:
    """A key in plain characters: others are written as escapes, a long key is cut short.

    >>> shown_key("größe"), shown_key("two\\nlines")
    ('gr\\\\xf6\\\\xdfe', 'two\\\\nlines')
    """
    plain = "".join(
        letter if " " <= letter <= "~" else letter.encode("unicode_escape").decode()
        for letter in key[: LONGEST_KEY + 1]
    )
    return plain if len(plain) <= LONGEST_KEY else f"{plain[: LONGEST_KEY - 3]}..."

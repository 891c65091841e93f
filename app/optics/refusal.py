"""The refusal of values that no lens or frame can have, in words for the person at the chair."""


class NotPossible(ValueError):
    """Raised when the numbers contradict each other or physics; the message says what and what to look at."""


def require_positive(value: float, name: str) -> None:
    """Refuse a value that is not above zero (or not a number).

    `name` is what the person calls it, with its unit.
    """
    if not 0 < value < float("inf"):
        raise NotPossible(f"{name} must be above 0, not {value:g}.")

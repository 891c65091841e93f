"""What the catalogue says about one question that is answered from a list or in words."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """One question with a list of answers, or free words where the list is empty."""

    key: str
    label: str
    options: tuple[tuple[str, str], ...] = ()
    """(key, words) in the order shown; empty: free words."""
    hint: str = ""
    several: bool = False
    """More than one answer may be ticked."""
    alone: str = ""
    """The answer that cannot stand beside another, where several may be ticked: none of these."""
    date: bool = False
    """Free words that are a date; kept as year-month-day."""
    on_order: bool = False
    """Printed on the order sheet."""
    required: bool = False

    def words(self, key: str) -> str:
        """The words of an answer; the answer itself where it is free."""
        return dict(self.options).get(key, key)

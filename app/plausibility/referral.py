"""The answer to a referral put into words: when, where to, and what was advised; never a diagnosis."""

from dataclasses import dataclass

WANTED: dict[str, tuple[str, ...]] = {
    "known_investigated": ("destination",),
    "referred": ("destination", "advice"),
    "emergency": ("time", "destination", "advice"),
}
"""What each answer must say besides which one it is. Common practice; local referral guidance comes first."""
ASKED: dict[str, str] = {
    "time": "Say when: the time, or since when it is known. Example: 10:40.",
    "destination": "Say who looked at it, or where the patient was sent. Example: on-call eye service.",
    "advice": "Say what was advised. Example: to go there today, with a companion.",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Referral:
    """What was decided. `time` may be left out where nothing is urgent."""

    kind: str
    time: str = ""
    destination: str = ""
    advice: str = ""

    def missing(self) -> str | None:
        """What is still to be said, in words for the person; None where nothing is."""
        if self.kind not in WANTED:
            return "Choose one of the three: known and looked at, referred, or emergency."
        blank = (part for part in WANTED[self.kind] if not getattr(self, part).strip())
        part = next(blank, None)
        return ASKED[part] if part else None

    def words(self) -> str:
        """The three parts as one line for the record.

        >>> Referral(kind="emergency", time="10:40", destination="eye casualty", advice="go now").words()
        'time: 10:40; to or by: eye casualty; advice: go now'
        """
        parts = (("time", self.time), ("to or by", self.destination), ("advice", self.advice))
        return "; ".join(f"{label}: {text.strip()}" for label, text in parts if text.strip())

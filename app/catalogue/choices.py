"""Every question that is answered from a list or in words, by its key."""

from app.catalogue.choice import Choice
from app.catalogue.choices_eyes import (
    COVER_CHOICES,
    COVER_OBSERVATIONS,
    LASH_OBSERVATIONS,
    PRESCRIPTION_CHOICES,
    PUPIL_OBSERVATIONS,
)
from app.catalogue.choices_frame import FRAME_CHOICES, OWN_FRAME_CHOICES
from app.catalogue.choices_lens import LENS_CHOICES
from app.catalogue.choices_person import PERSON_CHOICES

HISTORY_CHOICES: tuple[Choice, ...] = (
    *PERSON_CHOICES,
    *COVER_OBSERVATIONS,
    *LASH_OBSERVATIONS,
    *PUPIL_OBSERVATIONS,
)
"""Those whose answers stand in a fitting's history."""

PAIR_CHOICES: tuple[Choice, ...] = (*FRAME_CHOICES, *OWN_FRAME_CHOICES, *LENS_CHOICES)
"""Those whose answers stand in a pair: as an attribute of that name where it has one, else among its choices."""

CHOICES: dict[str, Choice] = {
    choice.key: choice for choice in (*HISTORY_CHOICES, *COVER_CHOICES, *PRESCRIPTION_CHOICES, *PAIR_CHOICES)
}


def keys(choices: tuple[Choice, ...]) -> tuple[str, ...]:
    """The keys of some choices, in their order."""
    return tuple(choice.key for choice in choices)

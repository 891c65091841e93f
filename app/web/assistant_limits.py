"""What an assistant may store through the interface and the command line: no more than on the tablet."""

from collections.abc import Iterable
from dataclasses import replace

from app.catalogue.catalogue import MEASUREMENTS
from app.fitting.field_paths import KIND_OF_PAIR
from app.fitting.fields import fields_of
from app.fitting.fitting import Fitting
from app.fitting.reading import EnteredInError, Reading
from app.records.actor import Actor
from app.records.errors import NotAllowed
from app.web.screens import SCREENS
from app.web.step_fields import ASSISTANT_STEPS, paths_of

ASSISTANT = "assistant"


def as_the_caller_may(caller: Actor, fitting: Fitting) -> Fitting:
    """The fitting as its sender may store it. Raises NotAllowed, in words, for what is the practitioner's.

    What an assistant sends stands in the assistant's name and waits to be accepted, whatever it says itself.
    """
    if caller.role != ASSISTANT:
        return fitting
    refuse_near_eye(caller, (reading.measurement for reading in fitting.readings))
    refuse_near_eye(caller, (gap.measurement for gap in fitting.not_taken))
    _refuse_choices(fitting)
    return replace(
        fitting,
        taken=replace(fitting.taken, by=caller.name, role=caller.role),
        readings=tuple(reading_as_the_caller_may(caller, reading) for reading in fitting.readings),
        not_taken=tuple(replace(gap, by=caller.name) for gap in fitting.not_taken),
    )


def reading_as_the_caller_may(caller: Actor, reading: Reading) -> Reading:
    """One reading as its sender may store it. Raises NotAllowed."""
    if caller.role != ASSISTANT:
        return reading
    refuse_near_eye(caller, (reading.measurement,))
    error = reading.entered_in_error
    return replace(
        reading,
        by=caller.name,
        role=caller.role,
        proposed=True,
        accepted_by=None,
        entered_in_error=error and EnteredInError(by=caller.name, at=error.at, reason=error.reason),
    )


def refuse_near_eye(caller: Actor, measurements: Iterable[str]) -> None:
    """An assistant takes no reading with a tool near the eye, and decides of none that it is left out."""
    if caller.role != ASSISTANT:
        return
    for key in measurements:
        if not MEASUREMENTS[key].assistant_may:
            raise NotAllowed(f"{MEASUREMENTS[key].label} is taken by the practitioner.")


def _refuse_choices(fitting: Fitting) -> None:
    """An assistant answers the questions of the person's step only; that a pair is there says nothing yet."""
    allowed = {path for step in ASSISTANT_STEPS for screen in SCREENS[step] for path in paths_of(screen)}
    there = {f"pair.{number}.kind": kind for number, kind in KIND_OF_PAIR.items()}
    for path, text in fields_of(fitting).items():
        if path not in allowed and there.get(path) != text:
            part = path.split(".")[0].replace("_", " ")
            raise NotAllowed(
                f"An assistant does not enter this: {part}. It is for the practitioner ({path})."
            )

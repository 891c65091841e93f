"""The practice's own order of the steps, and the steps that it leaves out."""

from dataclasses import dataclass, replace
from typing import Literal

from app.catalogue.catalogue import STEPS
from app.catalogue.step import Step
from app.practice.settings import PracticeSettings

FIRST = ("person",)
LAST = ("review", "orders")
"""These open and close every fitting: they stay in place and are never left out."""
Move = Literal["up", "down", "leave_out", "take_in"]
MOVES: dict[str, Move] = {"up": "up", "down": "down", "leave_out": "leave_out", "take_in": "take_in"}


@dataclass(frozen=True, slots=True, kw_only=True)
class StepLine:
    """One step in the practice's list."""

    step: Step
    fixed: bool
    left_out: bool
    can_go_up: bool
    can_go_down: bool


def step_lines(settings: PracticeSettings) -> tuple[StepLine, ...]:
    """All steps in the practice's order."""
    keys = order_of(settings)
    by_key = {step.key: step for step in STEPS}
    movable = [key for key in keys if not is_fixed(key)]
    return tuple(
        StepLine(
            step=by_key[key],
            fixed=is_fixed(key),
            left_out=key in settings.steps_left_out,
            can_go_up=key in movable[1:],
            can_go_down=key in movable[:-1],
        )
        for key in keys
    )


def order_of(settings: PracticeSettings) -> list[str]:
    """Keys of all steps in the practice's order; those that it does not name follow in the usual order."""
    usual = [step.key for step in STEPS if not is_fixed(step.key)]
    named = [key for key in settings.step_order if key in usual]
    return [*FIRST, *named, *(key for key in usual if key not in named), *LAST]


def is_fixed(key: str) -> bool:
    """True for the steps that stay where they are."""
    return key in FIRST or key in LAST


def moved(settings: PracticeSettings, key: str, move: Move) -> PracticeSettings:
    """The settings after one move; unchanged where the step is fixed or unknown, or cannot go further."""
    order = order_of(settings)
    if is_fixed(key) or key not in order:
        return settings
    if move in ("leave_out", "take_in"):
        kept = tuple(other for other in settings.steps_left_out if other != key)
        return replace(settings, steps_left_out=(*kept, key) if move == "leave_out" else kept)
    place = order.index(key)
    other = place + (-1 if move == "up" else 1)
    if not is_fixed(order[other]):
        order[place], order[other] = order[other], order[place]
    return replace(settings, step_order=tuple(order))


def usual_order(settings: PracticeSettings) -> PracticeSettings:
    """The settings with every step in the usual order."""
    return replace(settings, step_order=(), steps_left_out=())

"""Where the big buttons at the bottom of a step lead."""

from app.catalogue.step import Step
from app.web.chair import Chair
from app.web.rail import ordered_steps, step_address
from app.web.screens import Screen, screens_of


def moves(chair: Chair, step: Step, screen: Screen) -> dict[str, str]:
    """Addresses and titles of the screenfuls or steps before and after."""
    screens = screens_of(step)
    place = screens.index(screen)
    found: dict[str, str] = {}
    if place:
        found |= _to(chair, step, screens[place - 1], "back")
    if place + 1 < len(screens):
        found |= _to(chair, step, screens[place + 1], "on")
    steps = ordered_steps(chair)
    here = steps.index(step) if step in steps else 0
    if "back" not in found and here:
        found |= {"back": step_address(chair, steps[here - 1].key), "back_title": steps[here - 1].title}
    if "on" not in found and here + 1 < len(steps):
        found |= {"on": step_address(chair, steps[here + 1].key), "on_title": steps[here + 1].title}
    return found


def _to(chair: Chair, step: Step, screen: Screen, way: str) -> dict[str, str]:
    return {way: f"{step_address(chair, step.key)}?part={screen.key}", f"{way}_title": screen.title}

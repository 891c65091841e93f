"""The step rail: what is done, what is open, where findings wait."""

from dataclasses import dataclass

from app.catalogue.catalogue import STEP_OF, STEPS
from app.catalogue.step import Step
from app.web.box import boxes_of_step
from app.web.chair import Chair
from app.web.step_view import is_open, not_taken_in, standing_in

FIELDS_THAT_SHOW = {
    "person": ("history.",),
    "cover_test": ("cover_test.distance.finding", "cover_test.near.finding"),
    "prescription": ("prescription.R.sphere", "prescription.L.sphere"),
    "pair_1": ("pair.1.lens_form", "pair.1.bridge_style", "pair.1.lens_width"),
    "pair_2": ("pair.2.lens_form",),
}
"""Fields without which a step counts as not done yet."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RailItem:
    """One step on the rail."""

    step: Step
    address: str
    state: str
    """done, begun, open, not_taken: the key of its symbol and words."""
    words: str
    waiting: int
    """Open findings in it."""
    current: bool


def rail(chair: Chair, current: str) -> tuple[RailItem, ...]:
    """The whole rail, in the practice's own order."""
    waiting = waiting_by_step(chair)
    return tuple(_item(chair, step, current, waiting.get(step.key, 0)) for step in ordered_steps(chair))


def ordered_steps(chair: Chair) -> tuple[Step, ...]:
    """The steps in the practice's order, less those that it leaves out."""
    settings = chair.settings
    wanted = [step for step in STEPS if step.key not in settings.steps_left_out]
    rank = {key: place for place, key in enumerate(settings.step_order)}
    return tuple(sorted(wanted, key=lambda step: rank.get(step.key, len(rank) + STEPS.index(step))))


def waiting_by_step(chair: Chair) -> dict[str, int]:
    """How many open findings concern each step; a finding counts where its first subject is measured."""
    counts: dict[str, int] = {}
    for finding in chair.beside:
        if finding.severity == "note" or not finding.about:
            continue
        step = STEP_OF.get(finding.about[0].measurement)
        key = step.key if step else finding.about[0].measurement.split(".")[0]
        counts[key] = counts.get(key, 0) + 1
    return counts


def _item(chair: Chair, step: Step, current: str, waiting: int) -> RailItem:
    state = step_state(chair, step)
    words = {"done": "done", "begun": "begun", "open": "open", "not_taken": "not taken"}[state]
    return RailItem(
        step=step,
        address=step_address(chair, step.key),
        state=state,
        words=words,
        waiting=waiting,
        current=step.key == current,
    )


def step_address(chair: Chair, key: str) -> str:
    """Where a step's page is."""
    base = f"/fittings/{chair.stored.fitting_id}"
    if key == "review":
        return f"{base}/review"
    return f"{base}/orders/1" if key == "orders" else f"{base}/steps/{key}"


def step_state(chair: Chair, step: Step) -> str:
    """done, begun, open, or not_taken where every box has a reason instead of a reading."""
    if step.key in ("review", "orders"):
        return "done" if chair.frozen else "open"
    boxes = boxes_of_step(step)
    filled = [bool(standing_in(chair, box)) for box in boxes]
    gaps = [not_taken_in(chair, box) is not None for box in boxes]
    open_boxes = [box for box in boxes if is_open(chair, box)]
    fields_done, fields_begun = _fields(chair, step.key)
    if not open_boxes and fields_done and (not boxes or any(filled) or any(gaps)):
        return "not_taken" if boxes and not any(filled) else "done"
    return "begun" if any(filled) or any(gaps) or fields_begun else "open"


def _fields(chair: Chair, key: str) -> tuple[bool, bool]:
    """Whether a step's telling fields are all filled, and whether any is."""
    wanted = FIELDS_THAT_SHOW.get(key, ())
    present = [any(path.startswith(field) for path in chair.stored.fields) for field in wanted]
    return all(present), any(present)

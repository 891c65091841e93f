"""How far a fitting is: boxes settled out of all that are wanted, and findings that wait."""

from dataclasses import dataclass

from app.web.box import PAIR_OF_STEP, boxes_of_step
from app.web.chair import Chair
from app.web.rail import ordered_steps
from app.web.step_view import is_open, may_stay_blank, not_taken_in, standing_in


@dataclass(frozen=True, slots=True)
class Progress:
    """`settled` boxes have a reading or a reason; `wanted` are all that may not stay blank."""

    settled: int
    wanted: int
    waiting: int

    @property
    def words(self) -> str:
        """For a line on a list."""
        taken = f"{self.settled} of {self.wanted} taken"
        if not self.waiting:
            return taken
        return f"{taken} · {self.waiting} to answer"


def progress_of(chair: Chair) -> Progress:
    """How far a fitting is, in this practice's own steps."""
    settled = wanted = 0
    for step in ordered_steps(chair):
        number = PAIR_OF_STEP.get(step.key)
        if number is not None and chair.fitting.pair(number) is None:
            continue  # a pair that is not ordered asks for no readings
        for box in boxes_of_step(step):
            if is_open(chair, box):
                wanted += 1
            elif standing_in(chair, box) or (not_taken_in(chair, box) and not may_stay_blank(chair, box)):
                settled, wanted = settled + 1, wanted + 1
    return Progress(settled, wanted, len(chair.open_findings))

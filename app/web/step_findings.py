"""The findings that a page without boxes shows: those about its step."""

from app.catalogue.catalogue import STEP_OF
from app.catalogue.step import Step
from app.plausibility.finding import Finding
from app.web.chair import Chair
from app.web.step_view import Shown, shown_findings

SUBJECTS_OF_STEP = {
    "person": ("history", "person", "taken"),
    "cover_test": ("cover_test",),
    "prescription": ("prescription",),
    "pair_1": ("pair", "pair_1"),
    "pair_2": ("pair", "pair_2"),
}
PAIR_OF = {"pair_1": 1, "pair_2": 2}


def belongs(finding: Finding, step: Step) -> bool:
    """True where a finding's first subject is something on this step."""
    if not finding.about:
        return False
    first = finding.about[0]
    measured = STEP_OF.get(first.measurement)
    if measured is not None and measured.key == step.key:
        return True
    if step.key in PAIR_OF and first.pair == PAIR_OF[step.key]:
        return True
    return (
        measured is None
        and first.measurement.split(".")[0] in SUBJECTS_OF_STEP.get(step.key, ())
        and (first.pair is None or first.pair == PAIR_OF.get(step.key, first.pair))
    )


def findings_of_step(chair: Chair, step: Step) -> tuple[Shown, ...]:
    """Findings about a step, open ones first, worst first."""
    return shown_findings(chair, (one for one in chair.judgement.findings if belongs(one, step)))

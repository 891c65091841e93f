"""From what a finding is about to the page where it is measured or chosen, and its name in words."""

from app.catalogue.catalogue import MEASUREMENTS, STEP_OF
from app.fitting.field_paths import UnknownField, label_at
from app.plausibility.finding import Subject
from app.web.box import BoxKey
from app.web.screens import SCREENS
from app.web.sheet_text import name_of

STEP_OF_FIELD = {
    "person": "person",
    "taken": "person",
    "history": "person",
    "cover_test": "cover_test",
    "prescription": "prescription",
}
"""Where a field is asked that stands on no screenful of its own."""
PERSON_STEP = "person"


def address_of(fitting_id: str, subject: Subject) -> str:
    """Address of the box that holds the subject, or of the step that asks for it."""
    base = f"/fittings/{fitting_id}/steps"
    measurement = MEASUREMENTS.get(subject.measurement)
    if measurement is not None:
        method = subject.method if measurement.each_method else None
        side = subject.side if measurement.sides != "one" else None
        return f"{base}/{STEP_OF[measurement.key].key}?box={BoxKey(measurement, side, method)}"
    return f"{base}/{_screen_of_field(subject)}"


def _screen_of_field(subject: Subject) -> str:
    path = subject.measurement
    for step, screens in SCREENS.items():
        for screen in screens:
            if path in screen.holds or (screen.kind == "powers" and path.startswith(f"{screen.holds[0]}.")):
                return f"{step}?part={screen.key}"
    steps = path.split(".")
    if steps[0] == "pair" and len(steps) > 1:
        return f"pair_{steps[1]}"
    if steps[0] in STEP_OF_FIELD:
        return STEP_OF_FIELD[steps[0]]
    return f"pair_{subject.pair}" if subject.pair else PERSON_STEP


def words_of(subject: Subject) -> str:
    """The subject's name in words, with side and pair."""
    if subject.measurement in MEASUREMENTS:
        return name_of(subject.measurement, subject.side, subject.pair)
    try:
        return label_at(subject.measurement)
    except UnknownField:
        return name_of(subject.measurement, subject.side, subject.pair)

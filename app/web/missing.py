"""What is wanted at sign-off and not there: boxes with neither reading nor reason, and questions without answer."""

from collections.abc import Iterator

from app.fitting.field_paths import DISTANCES, HISTORY_QUESTIONS, label_at
from app.fitting.fields import missing_fields
from app.plausibility.finding import Subject
from app.web.box import boxes_of_step, pair_of
from app.web.chair import Chair
from app.web.rail import ordered_steps
from app.web.step_view import is_open

PAIR_STEPS = {"pair_1": 1, "pair_2": 2}


def missing_things(chair: Chair) -> tuple[tuple[Subject, str], ...]:
    """Everything that is wanted and missing, in the order of the steps, each with its name in words."""
    return (*_missing_readings(chair), *_missing_answers(chair))


def _missing_readings(chair: Chair) -> Iterator[tuple[Subject, str]]:
    for step in ordered_steps(chair):
        number = PAIR_STEPS.get(step.key)
        if number is not None and chair.fitting.pair(number) is None:
            continue  # a pair that is not ordered asks for no readings
        for box in boxes_of_step(step):
            if is_open(chair, box):
                pair = pair_of(box.measurement)
                yield Subject(box.measurement.key, box.side, pair, box.method), box.name


def _missing_answers(chair: Chair) -> Iterator[tuple[Subject, str]]:
    texts = {path: value.text for path, value in chair.stored.fields.items() if value.text}
    steps = {step.key for step in ordered_steps(chair)}
    questions = HISTORY_QUESTIONS.values() if "person" in steps else ()
    wanted = [f"history.{question.key}" for question in questions if question.required]
    if "cover_test" in steps:
        wanted += [f"cover_test.{distance}.finding" for distance in DISTANCES]
    for path in wanted:
        if path not in texts:
            yield Subject(path), label_at(path)
    for path, words in missing_fields(texts).items():
        if path not in wanted:
            yield Subject(path), f"{label_at(path)}: {words}"

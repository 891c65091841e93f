"""Evidence: the readings that the expectation rests on, each with its place in the model and its noise."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from app.catalogue.catalogue import MEASUREMENTS
from app.catalogue.measurement import Side
from app.fitting.fitting import Fitting
from app.fitting.working import WorkingValue, working_values
from app.plausibility.expectation_face import Kind, put_face
from app.plausibility.expectation_model import Blueprint, Model
from app.plausibility.expectation_own import with_own_reference
from app.plausibility.expectation_pair import put_pair
from app.plausibility.finding import Subject
from app.practice.settings import Adjustments, PracticeSettings
from app.reference.populations import SEXES, Sex, SurveyPart

REPEAT_LIMIT_IN_ERRORS = 2.77
"""Two readings agree within 1.96 · √2 technical errors of measurement (Ulijaszek and Kerr 1999)."""
PUBLISHED_ERRORS_MM: dict[tuple[str, str | None], float] = {
    ("pd_distance", "pupil_gauge"): 0.27,
    ("pd_distance", "rule"): 0.40,
    ("pd_distance", None): 0.40,
    ("pd_near", None): 0.40,
    ("pd_worn", None): 0.40,
    ("pd_near_worn", None): 0.40,
    ("pd_monocular", None): 0.25,
}
"""Technical error by measurement and method: McMahon 2012, gauge 0.27 and rule 0.40; one eye carries 1/√2 of
it."""
NOT_COMPARABLE = frozenset({"over_covering", "cosmetic_centre", "lid_lifted", "dim_light", "after_drops"})
"""Conditions under which a reading says nothing about the others, nor they about it."""
ROUGHER = {"estimated": 3.0, "middle_of_swing": 2.0, "habitual_posture": 1.5, "limbus_used": 1.5}
"""Factor on the error of a reading taken so. Judgement."""
EYES_TOGETHER = frozenset({"pd_distance", "pd_near", "pd_worn", "pd_near_worn"})
ONE_EYE_ONLY = EYES_TOGETHER | {
    "pd_monocular",
    "pupil_horizontal",
    "pupil_vertical",
    "iris_diameter",
    "lid_aperture",
}
COVERED = "fellow_eye_covered"
LIDS_DIFFER_MM = 0.5
"""Further spread of a crest height that was given for one side, since the lids differ. Judgement."""
ROOM_WORDS = {"dim": "dim", "dark": "dim", "low": "dim", "bright": "bright", "strong": "bright"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """One working value and its place in the model. `variance` is that of its error, in squares of its unit."""

    subject: Subject
    condition: str | None
    node: str
    value: float
    variance: float


def evidence_of(fitting: Fitting, settings: PracticeSettings) -> tuple[Evidence, ...]:
    """Every reading that can be compared with others; readings that a squint or a covering sets apart are
    left out."""
    return tuple(evidence_from(fitting, working_values(fitting), settings))


def evidence_from(
    fitting: Fitting, working: Iterable[WorkingValue], settings: PracticeSettings
) -> Iterable[Evidence]:
    """As `evidence_of`, from working values that were worked out already."""
    own = dict(settings.own_repeatability)
    one_eye = _one_eye(fitting)
    for one in working:
        if not _comparable(one, squint=fitting.cover_test.squint, one_eye=one_eye):
            continue
        node = node_of(one.measurement, one.side, one.pair, one.method)
        if node is not None:
            yield Evidence(
                subject=Subject(measurement=one.measurement, side=one.side, pair=one.pair, method=one.method),
                condition=one.condition,
                node=node,
                value=one.value,
                variance=_variance(one, own.get(one.measurement)),
            )


def node_of(measurement: str, side: Side | None, pair: int | None, method: str | None) -> str | None:
    """Name of the node that a reading shows; None where the model has none."""
    if measurement == "pd_distance":
        return "pd_by_rule" if method == "rule" else "pd"
    if measurement == "crest_height":
        return measurement
    declared = MEASUREMENTS.get(measurement)
    if declared is None or declared.off_pair != (pair is not None):
        return None
    if (declared.sides == "each") != (side is not None):
        return None
    name = measurement if pair is None else f"{measurement}@{pair}"
    return name if side is None else f"{name}.{side}"


def error_of(measurement: str, method: str | None, own: float | None = None) -> float:
    """Technical error of one reading in the measurement's unit: the practice's own, else published, else
    tolerance.

    Tolerance / 2.77, the repeat limit in technical errors (Ulijaszek and Kerr 1999).
    """
    if own is not None:
        return own
    published = PUBLISHED_ERRORS_MM.get((measurement, method)) or PUBLISHED_ERRORS_MM.get((measurement, None))
    if published is not None:
        return published
    return MEASUREMENTS[measurement].tolerance(method) / REPEAT_LIMIT_IN_ERRORS


def reading_variance(
    measurement: str, *, method: str | None, condition: str | None = None, own: float | None = None
) -> float:
    """Variance of one reading about the truth: technical error², at least step² / 12 for rounding to the scale.

    A technical error comes from readings as they were written down, so that rounding is in it already.
    """
    error = error_of(measurement, method, own) * ROUGHER.get(condition or "", 1.0)
    return float(max(error**2, MEASUREMENTS[measurement].scale_step ** 2 / 12))


def _variance(one: WorkingValue, own: float | None) -> float:
    single = reading_variance(one.measurement, method=one.method, condition=one.condition, own=own)
    unsettled = 0.0 if one.settled else (one.spread / 2) ** 2
    lids = LIDS_DIFFER_MM**2 if one.measurement == "crest_height" and one.side is not None else 0.0
    return single / min(one.count, 2) + unsettled + lids


def _comparable(one: WorkingValue, *, squint: bool, one_eye: bool) -> bool:
    if one.condition in NOT_COMPARABLE or (one_eye and one.measurement in ONE_EYE_ONLY):
        return False
    if not squint:
        return True
    covered = COVERED in (one.method, one.condition)
    if one.measurement == "pd_distance":
        return covered or one.method == "pupil_gauge"
    return covered or one.measurement not in EYES_TOGETHER | {"pd_monocular"}


def _one_eye(fitting: Fitting) -> bool:
    tests = (fitting.cover_test.distance, fitting.cover_test.near)
    seen = any(test is not None and test.finding == "not_applicable" for test in tests)
    return seen or fitting.history.get("prosthetic_eye") in ("R", "L")


def room_of(fitting: Fitting) -> str:
    """The room light as one of dim, normal, bright: by the words that were written, else normal."""
    words = (fitting.taken.room_light or "").casefold()
    return next((room for word, room in ROOM_WORDS.items() if word in words), "normal")


def models_for(
    fitting: Fitting, settings: PracticeSettings, *, pairs: frozenset[int], survey: SurveyPart = "all"
) -> tuple[Model, ...]:
    """The models that the person may follow: one where the sex is stated, else both."""
    sexes: tuple[Sex, ...] = SEXES if fitting.person.sex is None else (fitting.person.sex,)
    kinds = {
        sex: Kind(
            sex=sex,
            age=fitting.age,
            child=fitting.child,
            room=room_of(fitting),
            centre_of_rotation_mm=settings.adjustments.centre_of_rotation_mm,
            survey=survey,
            head_width_inside_breadth_mm=settings.head_width_inside_breadth_mm,
        )
        for sex in SEXES
    }
    if settings.own_reference and not fitting.child:
        both = own_models_of(kinds["F"], kinds["M"], pairs, settings.adjustments, own=settings.own_reference)
        return tuple(both[sex] for sex in sexes)
    return tuple(model_of(kinds[sex], pairs, settings.adjustments) for sex in sexes)


@lru_cache(maxsize=128)
def own_models_of(
    women: Kind,
    men: Kind,
    pairs: frozenset[int],
    adjustments: Adjustments,
    *,
    own: tuple[tuple[str, float, float], ...],
) -> dict[Sex, Model]:
    """Both sexes' models with a practice's own means and spreads."""
    models: dict[Sex, Model] = {
        "F": model_of(women, pairs, adjustments),
        "M": model_of(men, pairs, adjustments),
    }
    return with_own_reference(models, own)


@lru_cache(maxsize=256)
def model_of(kind: Kind, pairs: frozenset[int], adjustments: Adjustments) -> Model:
    """The model of one kind of person with the pairs that are measured; kept, since building takes
    milliseconds."""
    plan = Blueprint()
    put_face(plan, kind)
    for number in sorted(pairs):
        put_pair(plan, number, adjustments, child=kind.child)
    return plan.model()

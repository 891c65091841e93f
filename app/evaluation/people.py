"""Whole fittings of real people: surveyed dimensions as they are, the rest completed by the generative model."""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from app.catalogue.catalogue import MEASUREMENTS
from app.catalogue.measurement import Side
from app.fitting.cover_test import CoverFinding, CoverTest
from app.fitting.fitting import Fitting, Person, Taken
from app.fitting.pair import Pair
from app.fitting.reading import Reading
from app.fitting.working import settle
from app.plausibility.expectation_evidence import error_of, model_of, node_of
from app.plausibility.expectation_face import SURVEY_NODES, Kind
from app.plausibility.expectation_model import Floats, Model
from app.practice.settings import Adjustments
from app.reference.derive_survey_figures import matrix, read_people
from app.reference.populations import Sex, SurveyPart

TAKEN_ON = "2026-06-01"
PAIR = 2
TAIL_FREEDOM = 15
"""What the survey lacks is drawn from Student's t with so many degrees of freedom, scaled to the model's SD:
tails as heavy as those of the heaviest-tailed surveyed dimension (head breadth of men, excess kurtosis 0.54)."""
LEFT_OUT = frozenset(
    {"crest_angle", "inward_drop_angle", "let_back_angle", "joint_height", "face_form_angle"}
)
"""Optional readings that an ordinary fitting does without; the whole catalogue would make 72."""
TWICE = frozenset(
    {"pd_distance", "pd_monocular", "pd_near", "pd_worn", "pd_near_worn", "head_circumference"}
    | {"segment_height", "fitting_height"}
)
"""Taken twice, as the rule of two readings asks: PDs, the tape round the head, heights marked on the worn pair.
Common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Surveyed:
    """One person of the survey: true dimensions in the order of SURVEY_NODES, mm."""

    sex: Sex
    age: int
    dimensions: Floats


def surveyed(path: Path, part: SurveyPart) -> list[Surveyed]:
    """People of the survey with even or odd subject number, or all."""
    digits = {"all": (0, 1), "even": (0,), "odd": (1,)}[part]
    people = [one for one in read_people(path) if int(one["subjectid"]) % 2 in digits]
    values = matrix(people)
    return [
        Surveyed(sex="F" if one["sex"] == "F" else "M", age=int(one["age"]), dimensions=row)
        for one, row in zip(people, values, strict=True)
    ]


def sample(people: list[Surveyed], count: int, draw: np.random.Generator) -> list[Surveyed]:
    """So many people, women and men alike, with replacement."""
    by_sex = {sex: [one for one in people if one.sex == sex] for sex in ("F", "M")}
    return [
        by_sex[sex][int(draw.integers(len(by_sex[sex])))]
        for sex in np.where(draw.random(count) < 0.5, "F", "M")
    ]


def true_nodes(one: Surveyed, draw: np.random.Generator) -> tuple[Model, Floats]:
    """Every dimension of one person: surveyed ones as they are, the others drawn; curves as curves, not as
    tangents."""
    model = model_of(Kind(sex=one.sex, age=one.age, survey="even"), frozenset({PAIR}), Adjustments())
    causes = draw.standard_t(TAIL_FREEDOM, model.weights.shape[1]) * np.sqrt(1 - 2 / TAIL_FREEDOM)
    places = [model.index[node] for node in SURVEY_NODES]
    block = model.weights[places][:, : len(places)]
    causes[: len(places)] = np.linalg.solve(block, one.dimensions - model.means[places])
    nodes = model.means + model.weights @ causes
    for link in model.curved:
        parents = nodes[list(link.parents)]
        tangent = link.value + link.gradient @ (parents - link.at_build)
        for node, weight in link.followers:
            nodes[node] += weight * (link.curve(parents)[0] - tangent)
    return model, nodes


def boxes() -> Iterator[tuple[str, Side | None, int | None, str | None]]:
    """Every box of an ordinary fitting with its second pair: measurement, side, pair, method."""
    for key, declared in MEASUREMENTS.items():
        if key in LEFT_OUT:
            continue
        sides: tuple[Side | None, ...] = ("R", "L") if declared.sides == "each" else (None,)
        methods: tuple[str | None, ...] = ("rule", "pupil_gauge") if key == "pd_distance" else (None,)
        for method in methods:
            for side in sides:
                yield key, side, PAIR if declared.off_pair else None, method


def fitting_of(one: Surveyed, draw: np.random.Generator, *, with_pair: bool = True) -> Fitting:
    """An honest fitting: every box read with its instrument's error and rounded to the scale's step.

    The technical error is that of readings as written: the rounding's part (step² / 12) is taken out of it first.
    """
    model, nodes = true_nodes(one, draw)
    readings: list[Reading] = []
    for key, side, pair, method in boxes():
        node = node_of(key, side, pair, method)
        if node is None or (pair is not None and not with_pair):
            continue
        step = MEASUREMENTS[key].scale_step
        error = max(error_of(key, method) ** 2 - step**2 / 12, 0.0) ** 0.5
        taken: list[float] = []
        while not _enough(taken, key, method):
            taken.append(round((nodes[model.index[node]] + draw.normal(0, error)) / step) * step)
        readings += [reading(key, value, side, pair, method) for value in taken]
    stated = bool(draw.random() < 0.5)
    return Fitting(
        person=Person(reference="simulated", born=f"{2026 - one.age}-01-01", sex=one.sex if stated else None),
        taken=Taken(on=TAKEN_ON, by="simulated", role="practitioner", room_light="normal"),
        readings=tuple(readings),
        cover_test=CoverTest(distance=CoverFinding(finding="none"), near=CoverFinding(finding="none")),
        pairs=(Pair(pair=PAIR, kind="own_frame", lens_form="bifocal"),) if with_pair else (),
    )


def _enough(taken: list[float], key: str, method: str | None) -> bool:
    """One reading is enough, or of those taken twice as many as it takes for two to agree, four at most."""
    if not taken or key not in TWICE:
        return bool(taken)
    agreed = settle(taken, tolerance=MEASUREMENTS[key].tolerance(method))[1] in ("agree", "mean_of_closest")
    return agreed or len(taken) == 4


def reading(key: str, value: float, side: Side | None, pair: int | None, method: str | None) -> Reading:
    """One reading as it would be typed."""
    whole = round(float(value), 4) + 0.0
    return Reading(
        measurement=key, value=whole, text=f"{whole:g}", side=side, pair=pair, method=method, by="simulated"
    )

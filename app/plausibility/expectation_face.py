"""The face and head of one person as a generative model: adults by the survey, children by their own tables."""

from dataclasses import dataclass

import numpy as np

from app.optics.pupil_size import OLDEST_Y, YOUNGEST_Y, disc_area_deg2, expected_pupil_diameter
from app.plausibility.expectation_links import diagonal, frontal_angle, near_pd
from app.plausibility.expectation_model import Blueprint
from app.reference import populations as people
from app.reference.populations import Sex, Spread, SurveyPart

NO_RANGE_UNDER_YEARS = 4
"""Under this age only the links are used. Common practice: no usual range there."""
SAYS_NOTHING = 6.0
"""Factor on the spread between people where a table is not to count: under 4 years."""
SURVEY_AGES = (17, 60)
"""The survey's change with age is not carried beyond these ages."""
USUAL_AGE = 40
"""Age taken where none is known, for pupil and lids: about the middle of adults."""
SURVEY_NODES = ("pd", "head_breadth", "head_length", "head_circumference", "bizygomatic", "head_height_line")


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """What is known of a person before anything is measured. `age` in years, None where it is not known."""

    sex: Sex
    age: int | None = None
    child: bool = False
    room: str = "normal"
    centre_of_rotation_mm: float = 27.0
    survey: SurveyPart = "all"
    head_width_inside_breadth_mm: float = -people.EAR_POINTS_INSIDE_BREADTH.offset

    @property
    def vague(self) -> float:
        """Factor on every spread between people."""
        young = self.child and self.age is not None and self.age < NO_RANGE_UNDER_YEARS
        return SAYS_NOTHING if young else 1.0


def put_face(plan: Blueprint, kind: Kind) -> None:
    """Every dimension that is read off the face, in the order in which one follows from another."""
    if kind.child:
        _put_child_head(plan, kind)
    else:
        _put_adult_head(plan, kind)
    _put_diagonals(plan)
    _put_pds(plan, kind)
    _put_nose(plan, kind)
    _put_sides(plan, kind)
    _put_eyes(plan, kind)


def _put_adult_head(plan: Blueprint, kind: Kind) -> None:
    group = people.survey_group(kind.sex, kind.survey)
    age = group.age_mean if kind.age is None else min(max(kind.age, SURVEY_AGES[0]), SURVEY_AGES[1])
    means = np.array(group.mean) + (age - group.age_mean) * np.array(group.per_year)
    plan.put_block(dict(zip(SURVEY_NODES, means.tolist(), strict=True)), np.array(group.covariance))
    inside, height = people.EAR_POINTS_INSIDE_BREADTH, people.HEAD_HEIGHT_FROM_SURVEY
    plan.put_sum("head_width", offset=-kind.head_width_inside_breadth_mm, sd=inside.sd, head_breadth=1.0)
    plan.put_sum("head_height", offset=height.offset, sd=height.sd, head_height_line=1.0)
    _put_temples(plan, kind)
    length = people.FRONT_TO_EAR[kind.sex]
    plan.put(
        "length_to_tangent",
        mean=length.mean,
        sd=length.sd,
        head_length=people.FRONT_TO_EAR_PER_HEAD_LENGTH,
    )
    plan.put_sides(
        "length_to_tangent", half_difference_sd=0.75
    )  # common practice: noted above 2, asked above 5


def _put_temples(plan: Blueprint, kind: Kind) -> None:
    inside = people.TEMPLES_INSIDE_EAR_POINTS
    plan.put(
        "temple_width",
        mean=plan.mean("head_width") + inside.offset,
        sd=inside.sd,
        head_width=people.TEMPLES_PER_HEAD_WIDTH,
    )


def _put_child_head(plan: Blueprint, kind: Kind) -> None:
    age = kind.age if kind.age is not None else 10
    _put_spread(plan, "pd", people.child_pd(kind.sex, age), kind.vague)
    _put_spread(plan, "head_circumference", people.child_circumference(kind.sex, age), kind.vague)
    for name in ("head_width", "head_height", "length_to_tangent"):
        _put_spread(plan, name, people.CHILD[name], kind.vague)
    _put_temples(plan, kind)
    plan.put_sides("length_to_tangent", half_difference_sd=0.75)


def _put_diagonals(plan: Blueprint) -> None:
    """R runs from the right temple to the left ear, so it takes the left ear's length."""
    plan.put("diagonal_shared", sd=people.DIAGONAL_MODEL.sd)
    for side, ear in (("R", "L"), ("L", "R")):
        base = f"diagonal_line.{side}"
        plan.put_curve(base, ("temple_width", "head_width", f"length_to_tangent.{ear}"), diagonal)
        plan.put_from(
            f"head_diagonal.{side}",
            mean=plan.mean(base),
            sd=people.DIAGONAL_EACH_SD,
            parents={base: 1.0, "diagonal_shared": 1.0},
        )


def _put_pds(plan: Blueprint, kind: Kind) -> None:
    rule = people.RULE_ABOVE_GAUGE
    plan.put_sum("pd_by_rule", offset=rule.offset, sd=rule.sd, pd=1.0)
    plan.put_from("nose_lean", mean=0.0, sd=1.0, parents={})
    plan.put_from(
        "eye.half",
        mean=0.0,
        sd=people.SINGLE_EYE_HALF_DIFFERENCE_SD,
        parents={},
    )
    for side, sign in (("R", 1.0), ("L", -1.0)):
        name = f"pd_monocular.{side}"
        plan.put_from(name, mean=plan.mean("pd") / 2, sd=0.0, parents={"pd": 0.5, "eye.half": sign})
    distance = people.WORKING_DISTANCE_CM
    plan.put("working_distance", mean=distance.mean, sd=distance.sd)
    plan.put_curve("near_line", ("pd", "working_distance"), near_pd(kind.centre_of_rotation_mm))
    plan.put_sum("pd_near", sd=people.NEAR_MODEL.sd, near_line=1.0)


def _put_nose(plan: Blueprint, kind: Kind) -> None:
    spreads = {
        name: people.CHILD.get(name, spread) if kind.child else spread
        for name, spread in people.NASAL.items()
    }
    deviations = np.array([spread.sd * kind.vague for spread in spreads.values()])
    plan.put_block(
        {name: spread.mean for name, spread in spreads.items()},
        nasal_correlations() * np.outer(deviations, deviations),
    )
    plan.put_curve("flank_line", ("bridge_width_10", "bridge_width_15"), frontal_angle)
    plan.put_sum("frontal_angle", sd=people.FRONTAL_MODEL.sd, flank_line=1.0)
    lean, own = people.LEAN_SHARE, (1 - people.LEAN_SHARE**2) ** 0.5
    for name in ("frontal_angle", "splay_angle"):
        sd = people.FLANK_HALF_DIFFERENCE_SD
        plan.put_sides(name, half_difference_sd=own * sd, with_half={"nose_lean": lean * sd})
    _put_spread(plan, "crest_angle", people.usual(10, 45), kind.vague)
    _put_spread(plan, "lash_projection", people.usual(7, 11), kind.vague)
    plan.put_sides("lash_projection", half_difference_sd=0.25)  # judgement


def nasal_correlations() -> np.ndarray:
    """Correlations of the nasal dimensions in the order of `populations.NASAL`; positive definite."""
    names = list(people.NASAL)
    found = np.eye(len(names))
    for (first, second), value in people.NASAL_CORRELATIONS.items():
        one, other = names.index(first), names.index(second)
        found[one, other] = found[other, one] = value
    return found


def _put_sides(plan: Blueprint, kind: Kind) -> None:
    """Half differences: common practice, noted and asked above 1.5 and 4°, 5 and 10°, judgement for the others."""
    for name, adult, half in (
        ("side_angle", people.usual(4, 14), 0.6),
        ("drop_angle", people.usual(30, 55), 1.25),
        ("inward_drop_angle", people.usual(5, 20), 1.25),
        ("drop_length", people.usual(30, 45), 0.75),
    ):
        spread = people.CHILD.get(name, adult) if kind.child else adult
        _put_spread(plan, name, spread, kind.vague)
        plan.put_sides(name, half_difference_sd=half)


def _put_eyes(plan: Blueprint, kind: Kind) -> None:
    age = USUAL_AGE if kind.age is None else kind.age
    _put_spread(plan, "iris_diameter", people.IRIS[kind.sex], kind.vague)
    plan.put_sides("iris_diameter", half_difference_sd=people.IRIS_DIFFERENCE_SD / 2)
    lids = people.LID_APERTURE
    ageing = people.LID_APERTURE_PER_YEAR * min(max(age - 25, 0), 50)
    plan.put_from(
        "lid_aperture",
        mean=lids.mean + ageing,
        sd=kind.vague * (lids.sd**2 - (people.LID_APERTURE_PER_IRIS * people.IRIS[kind.sex].sd) ** 2) ** 0.5,
        parents={"iris_diameter": people.LID_APERTURE_PER_IRIS},
    )
    plan.put_sides("lid_aperture", half_difference_sd=people.LID_DIFFERENCE_SD / 2)
    plan.put(
        "pupil", mean=pupil_mean_mm(age=age, room=kind.room), sd=people.PUPIL_BETWEEN_PEOPLE_SD[kind.room]
    )
    plan.put_sides("pupil", half_difference_sd=people.PUPIL_DIFFERENCE_SD / 2)
    for side in ("R", "L"):
        plan.put_from(
            f"pupil_horizontal.{side}", mean=plan.mean("pupil"), sd=0.0, parents={f"pupil.{side}": 1.0}
        )
        plan.put_from(
            f"pupil_vertical.{side}",
            mean=plan.mean("pupil"),
            sd=people.PUPIL_ROUNDNESS_SD,
            parents={f"pupil.{side}": 1.0},
        )


def pupil_mean_mm(*, age: float, room: str) -> float:
    """Mean pupil in mm at an age in years and a room light in words, by the unified formula.

    Source: Watson and Yellott 2012, doi 10.1167/12.10.12; the room's luminance is a judgement.
    """
    return expected_pupil_diameter(
        luminance_cd_per_m2=people.ROOM_LUMINANCE_CD_PER_M2[room],
        field_area_deg2=disc_area_deg2(people.ROOM_FIELD_DEG),
        age_y=min(max(age, YOUNGEST_Y), OLDEST_Y),
    )


def _put_spread(plan: Blueprint, name: str, spread: Spread, vague: float) -> None:
    plan.put(name, mean=spread.mean, sd=spread.sd * vague)

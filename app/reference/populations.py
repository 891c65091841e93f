"""Means and spreads of faces and heads, each with its source: what the expected bands start from.

Lengths mm, angles degrees. The survey's figures (means, covariances, sample sizes) lie in survey_figures.json,
made by derive_survey_figures.py. They describe adult military personnel of one country, 17 to 58 years old, in
2010-12: fit and selected, nobody older, few very small or very large people. For others the means are a guess
and the spread is too small; what links readings of one face to one another holds all the same. Sex and age are used
where they are known, ancestry never. What the survey lacks comes from the papers named here or, where nothing was
published, from common practice: then the trade's usual range is taken to reach from the 1st to the 99th percentile.
"""

import json
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import Literal

from app.reference.bibliography import (
    ABRAHAM_2019,
    COMMON_PRACTICE,
    FACE_MODEL_SIMULATION,
    LAM_1987,
    LAM_1995,
    MACLACHLAN_HOWLAND_2002,
    MCMAHON_2012,
    READ_2006,
    RUFER_2005,
    USAF_1967,
)

Sex = Literal["F", "M"]
SEXES: tuple[Sex, Sex] = ("F", "M")
SurveyPart = Literal["all", "even", "odd"]
"""all: what ships. even: what the evaluation learns from. odd: what it judges."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SurveyGroup:
    """One sex of the survey: sample size, mean (mm), covariance (mm²), mean age (years), change a year (mm)."""

    n: int
    mean: tuple[float, ...]
    covariance: tuple[tuple[float, ...], ...]
    percentiles: dict[int, tuple[float, ...]]
    age_mean: float
    per_year: tuple[float, ...]


@cache
def survey_group(sex: Sex, part: SurveyPart = "all") -> SurveyGroup:
    """The survey's figures of one sex. Order of dimensions: `survey_dimensions()`."""
    found = _file()["groups"][part][sex]
    return SurveyGroup(
        n=found["n"],
        mean=tuple(found["mean"]),
        covariance=tuple(tuple(row) for row in found["covariance"]),
        percentiles={int(share): tuple(values) for share, values in found["percentiles"].items()},
        age_mean=found["age_mean"],
        per_year=tuple(found["per_year"]),
    )


def survey_dimensions() -> tuple[str, ...]:
    """Names of the survey's dimensions, in the order of every mean and covariance."""
    return tuple(_file()["dimensions"])


@cache
def _file() -> dict:  # type: ignore[type-arg]
    return json.loads(Path(__file__).with_name("survey_figures.json").read_text("utf-8"))  # type: ignore[no-any-return]


@dataclass(frozen=True, slots=True)
class Spread:
    """Mean and standard deviation between people, and where they come from."""

    mean: float
    sd: float
    source: str


@dataclass(frozen=True, slots=True)
class Link:
    """How far one dimension stands from what others make of it: offset, standard deviation, source."""

    offset: float
    sd: float
    source: str


NORMAL_99 = 2.326348
"""Standard normal quantile of 99 %."""


def usual(low: float, high: float) -> Spread:
    """A spread from the trade's usual range, taken to reach from the 1st to the 99th percentile of a normal spread.

    >>> usual(85, 105).mean, round(usual(85, 105).sd, 2)
    (95.0, 4.3)
    """
    return Spread(
        (low + high) / 2, (high - low) / 2 / NORMAL_99, f"{COMMON_PRACTICE}: usual {low:g} to {high:g}"
    )


# Head: what links the readings to the survey's dimensions

EAR_POINTS_INSIDE_BREADTH = Link(
    -8.0,
    3.4,
    f"{COMMON_PRACTICE}: ear points lie about 8 mm inside the widest part of the skull; compare {USAF_1967}",
)
TEMPLES_INSIDE_EAR_POINTS = Link(
    -10.0, 2.5, f"{COMMON_PRACTICE}, 3 to 20 mm; {ABRAHAM_2019} found means of 129.3 and 121.2, 8 apart"
)
TEMPLES_PER_HEAD_WIDTH = 0.8
"""Change of temple width with head width. Judgement: heads taper, and the difference of the two is 3 to 20 mm."""
HEAD_HEIGHT_FROM_SURVEY = Link(0.0, 3.0, "judgement: the ear point's level against the survey's tragion")
FRONT_TO_EAR: dict[Sex, Spread] = {
    "M": Spread(104.0, 4.3, f"{COMMON_PRACTICE}: usual 92 to 112; sellion to tragion 98.3 in {USAF_1967}"),
    "F": Spread(100.0, 4.3, f"{COMMON_PRACTICE}: usual 92 to 112, about 4 less than in men"),
}
FRONT_TO_EAR_PER_HEAD_LENGTH = 0.35
"""Change of front-to-ear with head length: 0.356 by regression on men of USAF 1967 (R² 0.20)."""
DIAGONAL_MODEL = Link(0.0, 2.0, f"geometry of a trapezium; {COMMON_PRACTICE}: asked above 8 mm")
DIAGONAL_EACH_SD = 1.0
"""Further spread of each diagonal by itself. Common practice: the two differ by more than 6 mm in few."""

# Eyes

RULE_ABOVE_GAUGE = Link(
    0.59, 0.45, f"{MCMAHON_2012}: mean +0.59, 95 % in −0.69 to +1.88, less repeatabilities"
)
SINGLE_EYE_HALF_DIFFERENCE_SD = 0.8
"""Half of right less left single-eye PD. 40 students' right and left pupil to nose ("Eyes", resampledata3, CC0):
R − L 0.42 ± 1.73 with a rule's error in it; Arenas 2014: 79 of 100 adults have some difference."""
NEAR_MODEL = Link(0.0, 0.5, "similar triangles; judgement for the eye's centre of rotation and convergence")
WORKING_DISTANCE_CM = usual(33, 50)
IRIS: dict[Sex, Spread] = {
    "M": Spread(11.77, 0.37, f"{RUFER_2005}"),
    "F": Spread(11.64, 0.47, f"{RUFER_2005}"),
}
IRIS_DIFFERENCE_SD = 0.15
"""Right less left iris. Judgement: right and left did not differ in Rüfer 2005."""
LID_APERTURE = Spread(9.7, 1.2, f"{READ_2006}, 76 young adults")
LID_APERTURE_PER_IRIS = 1.0
"""Change of the lid opening with the iris: the upper lid lies a little below the iris's upper edge and the lower
lid touches the lower edge, whatever its size. Judgement from that anatomy."""
LID_APERTURE_PER_YEAR = -0.03
"""From 9.7 in young adults to about 8.7 at 58 (Rana 2023: mean margin distances 3.5 and 5.2)."""
LID_DIFFERENCE_SD = 0.525
"""Right less left lid opening: 5.7 of 100 differ by 1 mm or more (Lam 1995), as for a normal spread."""
LID_DIFFERENCE_SOURCE = str(LAM_1995)
PUPIL_DIFFERENCE_SD = 0.305
"""Right less left pupil: 19 of 100 differ by 0.4 mm or more (Lam 1987), as for a normal spread."""
PUPIL_DIFFERENCE_SOURCE = str(LAM_1987)
PUPIL_BETWEEN_PEOPLE_SD = {"dim": 1.0, "normal": 0.7, "bright": 0.55}
"""Spread of the pupil between people of one age, by words for the room light. In one light about 0.9 dim to 0.4
bright (Winn 1994; sizes from memory), in between by the logarithm of the flux: 0.9, 0.6 and 0.45; and light that
was not measured but is off by a factor of two either way makes about 0.4 more (judgement), added as squares."""
PUPIL_ROUNDNESS_SD = 0.1
"""Upright less across: minor to major axis about 0.96 (Szmigiel and others). Judgement for the size."""
ROOM_LUMINANCE_CD_PER_M2 = {"dim": 1.0, "normal": 10.0, "bright": 100.0}
"""Luminance that the eyes see, by words for the room light. Judgement: a 500 lx wall gives about 80, but most of
what is looked at is darker."""
ROOM_FIELD_DEG = 60.0

# Nose: spreads from common practice, how they go together from a face model

NASAL: dict[str, Spread] = {
    "bridge_width_10": Spread(18.0, 2.3, f"{COMMON_PRACTICE}: usual 15 to 22; 17.0 ± 2.2 in a face model"),
    "bridge_width_15": Spread(22.5, 2.6, f"{COMMON_PRACTICE}: usual 18 to 27; 21.6 ± 3.5 in a face model"),
    "splay_angle": usual(17, 40),
    "bridge_projection": usual(-3, 6),
    "apical_radius": Spread(8.0, 1.6, f"{COMMON_PRACTICE}: usual 6 to 10.5; 6.5 ± 1.8 in a face model"),
    "crest_height": usual(2, 9),
}
NASAL_CORRELATIONS: dict[tuple[str, str], float] = {
    ("bridge_width_10", "bridge_width_15"): 0.92,
    ("bridge_width_10", "splay_angle"): 0.2,
    ("bridge_width_15", "splay_angle"): 0.3,
    ("bridge_width_10", "bridge_projection"): -0.2,
    ("bridge_width_15", "bridge_projection"): -0.35,
    ("splay_angle", "bridge_projection"): -0.5,
    ("splay_angle", "apical_radius"): 0.4,
    ("bridge_width_10", "apical_radius"): 0.1,
    ("bridge_width_15", "apical_radius"): 0.1,
    ("bridge_projection", "crest_height"): 0.3,
    ("apical_radius", "crest_height"): 0.3,
    ("bridge_width_10", "crest_height"): -0.3,
    ("bridge_width_15", "crest_height"): -0.25,
}
"""Rounded towards nought from the face-model simulation (widths 0.92, frontal angle and projection −0.49, splay and
projection −0.60, radius and splay 0.48; radius and width 0.0, 0.2 and 0.4 with the crest 4, 7 and 10 mm above the
lid, while from 4 to 10 mm the mean radius rises from 6.5 to 9.6 and the mean width falls from 17.0 to 13.5). A real
crest is no arc between straight flanks: arc and flanks weigh little here, and a check of its own compares them."""
NASAL_CORRELATIONS_SOURCE = str(FACE_MODEL_SIMULATION)
FRONTAL_MODEL = Link(
    0.0, 1.2, f"arctan of the widths' difference; {COMMON_PRACTICE}: within 6° nearly always, errors included"
)
FLANK_HALF_DIFFERENCE_SD = 1.05
"""Half of right less left frontal or splay angle. Common practice: noted above 4°, asked above 8°."""
LEAN_SHARE = 0.6
"""Share of those differences that a leaning nose gives both. Judgement."""

# Children

CHILD_PD_SD = 3.0
"""Within one year of age about 2.5 to 3 (MacLachlan and Howland 2002, from memory)."""
CHILD_CIRCUMFERENCE_BY_AGE: dict[Sex, tuple[tuple[int, float, float], ...]] = {
    "M": ((4, 522.2, 0.02809), (6, 531.7, 0.02884), (8, 538.7, 0.02916), (10, 544.8, 0.02938), (12, 551.3, 0.02956),
          (14, 558.6, 0.02971), (16, 565.9, 0.02982)),
    "F": ((4, 511.0, 0.02342), (6, 521.7, 0.02294), (8, 530.1, 0.02303), (10, 537.4, 0.02342), (12, 543.6, 0.02392),
          (14, 548.7, 0.02441), (16, 553.2, 0.02483)),
}  # fmt: skip
"""Age, median (mm) and coefficient of variation of head circumference: the British 1990 growth reference."""
CHILD_CIRCUMFERENCE_SOURCE = "British 1990 growth reference (Cole, Freeman and Preece 1998)"


def child_pd(sex: Sex, age_years: float) -> Spread:
    """PD of a child: boys 43.36 + 1.663 a − 0.034 a², girls 41.76 + 1.891 a − 0.052 a² (mm, a in years).

    Source: MacLachlan and Howland 2002, coefficients from memory; at five years 50.8 and 49.9, against 51.0 at
    48 to 71 months in a thesis of Pacific University, 1993.

    >>> round(child_pd("M", 5).mean, 1), round(child_pd("F", 5).mean, 1)
    (50.8, 49.9)
    """
    start, rise, bend = (43.36, 1.663, -0.034) if sex == "M" else (41.76, 1.891, -0.052)
    mean = start + rise * age_years + bend * age_years**2
    return Spread(mean, CHILD_PD_SD, f"{MACLACHLAN_HOWLAND_2002}, coefficients from memory")


def child_circumference(sex: Sex, age_years: float) -> Spread:
    """Head circumference of a child of 4 to 16 years in mm, between the tabled ages by straight lines.

    >>> round(child_circumference("F", 7).mean, 1)
    525.9
    """
    table = CHILD_CIRCUMFERENCE_BY_AGE[sex]
    age = min(max(age_years, table[0][0]), table[-1][0])
    for (younger, low, low_cv), (older, high, high_cv) in pairwise(table):
        if age <= older:
            share = (age - younger) / (older - younger)
            median = low + share * (high - low)
            return Spread(median, median * (low_cv + share * (high_cv - low_cv)), CHILD_CIRCUMFERENCE_SOURCE)
    raise AssertionError("the table covers every age it is asked for")


CHILD: dict[str, Spread] = {
    "head_width": usual(115, 142),
    "head_height": usual(100, 130),
    "length_to_tangent": usual(68, 95),
    "side_angle": usual(0, 8),
    "drop_length": usual(22, 36),
    "bridge_width_10": usual(15, 25),
    "bridge_width_15": usual(19, 31),
    "splay_angle": usual(25, 42),
    "bridge_projection": usual(-4, 3),
    "crest_height": usual(-1, 5),
    "lens_height": usual(24, 40),
    "distance_between_lenses": usual(12, 19),
}
"""Children's own figures, by the trade's usual ranges under 16."""

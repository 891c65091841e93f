"""What the expectation starts from, against surveys and papers that it was not made from, and against the survey's
own counts."""

import json
from itertools import pairwise
from math import erfc, sqrt
from pathlib import Path

import numpy as np
import pytest
from scipy.stats import norm

from app.optics.pupil_size import disc_area_deg2, expected_pupil_diameter
from app.plausibility.expectation_evidence import error_of, model_of
from app.plausibility.expectation_face import Kind, pupil_mean_mm
from app.plausibility.expectation_model import Model
from app.practice.settings import Adjustments
from app.reference import populations as people
from app.reference.populations import Sex

DIMENSIONS = people.survey_dimensions()
COUNTS = json.loads((Path(__file__).parents[1] / "data" / "ansur2_counts.json").read_text("utf-8"))


def model(sex: Sex, age: int | None = None, *, child: bool = False) -> Model:
    return model_of(Kind(sex=sex, age=age, child=child), frozenset(), Adjustments())


def mixture_share_below(node: str, value: float) -> float:
    """Share of adults, women and men alike, below a value."""
    parts = [model(sex) for sex in people.SEXES]
    return float(
        np.mean(
            [
                norm.cdf((value - part.means[part.index[node]]) / part.standard_deviation(node))
                for part in parts
            ]
        )
    )


def difference_sd(part: Model, first: str, second: str) -> float:
    weights = part.weights[part.index[first]] - part.weights[part.index[second]]
    return float(np.sqrt(weights @ weights))


# ANSUR II, 2012 Anthropometric Survey of U.S. Army Personnel, NATICK/TR-15/007: summary statistics in mm;
# (interpupillary breadth, head breadth, head length, head circumference, bizygomatic breadth, tragion
# to top of head)
PUBLISHED: dict[Sex, tuple[tuple[float, float, float, float], ...]] = {
    "M": (
        (64.0, 3.42, 56.0, 72.5),
        (154.3, 5.53, 142, 168),
        (199.5, 7.03, 182, 215),
        (574.4, 16.05, 538, 614.2),
        (142.6, 6.22, 129, 158),
        (131.2, 6.16, 116, 145),
    ),
    "F": (
        (61.7, 3.62, 53.5, 70.5),
        (147.8, 5.19, 136, 160),
        (189.8, 7.45, 171.9, 208),
        (561.1, 19.36, 521, 611),
        (133.8, 5.56, 122, 147),
        (126.5, 6.55, 110, 142),
    ),
}


@pytest.mark.parametrize("sex", people.SEXES)
def test_shipped_means_spreads_and_percentiles_are_those_of_the_survey(sex: Sex) -> None:
    group = people.survey_group(sex)
    assert group.n == {"M": 4082, "F": 1986}[sex]
    for place, (mean, sd, first, last) in enumerate(PUBLISHED[sex]):
        assert group.mean[place] == pytest.approx(mean, abs=0.06)
        assert sqrt(group.covariance[place][place]) == pytest.approx(sd, abs=0.01)
        assert group.percentiles[1][place] == pytest.approx(first, abs=0.15)
        assert group.percentiles[99][place] == pytest.approx(last, abs=0.15)


@pytest.mark.parametrize("sex", people.SEXES)
def test_shipped_figures_follow_from_the_counts_of_every_person(sex: Sex) -> None:
    # the public table of ANSUR II, counted by value: another way from the same people to the same figures
    group = people.survey_group(sex)
    compared = 0
    for place, name in enumerate(DIMENSIONS):
        if name not in COUNTS["counts"]:
            continue
        counted = {float(value): count for value, count in COUNTS["counts"][name][sex].items()}
        values = np.repeat(list(counted), list(counted.values()))
        assert group.mean[place] == pytest.approx(values.mean(), abs=0.01)
        assert sqrt(group.covariance[place][place]) == pytest.approx(values.std(ddof=1), abs=0.01)
        compared += 1
    assert compared >= 3


def test_another_survey_of_men_lies_close() -> None:
    # US Air Force survey of 1967, 2,420 men, AMRL-TR-77-1: interpupillary, head breadth, length,
    # circumference
    group = people.survey_group("M")
    for place, (mean, sd) in enumerate(((62.69, 3.62), (156.0, 5.43), (198.71, 6.74), (575.2, 14.28))):
        own_sd = sqrt(group.covariance[place][place])
        assert abs(group.mean[place] - mean) < 0.45 * own_sd
        assert own_sd == pytest.approx(sd, rel=0.15)


def test_the_two_halves_of_the_survey_are_whole() -> None:
    for sex in people.SEXES:
        even, odd, everybody = (people.survey_group(sex, part) for part in ("even", "odd", "all"))
        assert even.n + odd.n == everybody.n
        assert even.mean[0] == pytest.approx(odd.mean[0], abs=0.4)


def test_adult_pds_are_spread_as_the_published_review_says() -> None:
    # Dodgson 2004, Proc. SPIE 5291:36: mean about 63, the vast majority within 50 to 75, almost all
    # within 45 to 80
    assert mixture_share_below("pd", 63) == pytest.approx(0.5, abs=0.05)
    assert mixture_share_below("pd", 75) - mixture_share_below("pd", 50) > 0.995
    assert mixture_share_below("pd", 80) - mixture_share_below("pd", 45) > 0.9999


def test_adult_pds_lie_near_those_of_another_measured_population() -> None:
    # Yildirim 2015, Clin Ophthalmol, 756 people of 19 to 89 years by autorefractor: 62.5 ± 4.1, up to
    # 76, rising with age
    means = [model(sex, 40).means[0] for sex in people.SEXES]
    assert np.mean(means) == pytest.approx(62.5, abs=1)
    assert model("M", 55).means[0] > model("M", 20).means[0] + 0.5


def test_childrens_pds_lie_near_a_second_source() -> None:
    # Pacific University thesis 1993, 220 children: 51.0 at 48 to 71 months; Dodgson 2004: about 40 at
    # least to five years
    five = [people.child_pd(sex, 5) for sex in people.SEXES]
    assert np.mean([one.mean for one in five]) == pytest.approx(51.0, abs=1)
    assert all(one.mean - 3 * one.sd > 40 for one in five)
    grown = [people.child_pd("M", age).mean for age in range(4, 17)]
    assert all(older > younger for younger, older in pairwise(grown))


def test_childrens_heads_follow_the_british_reference() -> None:
    # British 1990 growth reference: boys of 10 years 508 to 582 mm between the 1st and 99th percentile
    boy = people.child_circumference("M", 10)
    low, high = norm.ppf([0.01, 0.99], boy.mean, boy.sd)
    assert (low, high) == (pytest.approx(508, abs=1), pytest.approx(582, abs=1))


def test_the_near_pd_is_narrower_by_what_was_measured() -> None:
    # Evereklioglu 1999: 2.92 on average; Gantz 2021: about 3; Abraham 2019: 65.5 and 60.9, so 4.6
    part = model("F", 40)
    narrower = part.means[part.index["pd"]] - part.means[part.index["pd_near"]]
    assert 2.9 < narrower < 4.6


def test_rule_and_gauge_differ_as_measured() -> None:
    # McMahon 2012: rule less gauge +0.59, 95 % within −0.69 to +1.88
    part = model("F", 40)
    offset = part.means[part.index["pd_by_rule"]] - part.means[part.index["pd"]]
    noise = error_of("pd_distance", "rule") ** 2 + error_of("pd_distance", "pupil_gauge") ** 2
    sd = sqrt(difference_sd(part, "pd_by_rule", "pd") ** 2 + noise)
    assert offset == pytest.approx(0.59, abs=0.001)
    assert 1.96 * sd == pytest.approx((1.88 + 0.69) / 2, abs=0.1)


@pytest.mark.parametrize(
    ("age", "diameters"),
    [
        (20, (5.40, 3.98, 2.95)),
        (50, (4.56, 3.52, 2.76)),
        (70, (4.00, 3.21, 2.63)),
        (10, (5.28, 3.92, 2.92)),
    ],
)
def test_the_pupil_expected_is_that_of_the_unified_formula(
    age: int, diameters: tuple[float, float, float]
) -> None:
    # Watson and Yellott 2012, J Vis 12(10):12, 60° field, both eyes, 1, 10 and 100 cd/m²
    for room, diameter in zip(("dim", "normal", "bright"), diameters, strict=True):
        assert pupil_mean_mm(age=age, room=room) == pytest.approx(diameter, abs=0.011)
    assert pupil_mean_mm(age=age, room="dim") == expected_pupil_diameter(
        luminance_cd_per_m2=1, field_area_deg2=disc_area_deg2(60), age_y=age
    )


def share_at_least(difference_mm: float, sd: float) -> float:
    """Share of people whose right and left differ by so much or more, either way."""
    return erfc(difference_mm / sd / sqrt(2))


def test_unequal_pupils_are_as_common_as_published() -> None:
    sd = difference_sd(model("F", 40), "pupil_horizontal.R", "pupil_horizontal.L")
    # Lam 1987: 19 % by 0.4 mm or more at any one time, 128 people; Steck 2018, doi
    # 10.2147/OPTH.S147019: 23.8 % in
    # daylight; in every light by 0.6 mm almost nobody; 2.3 % of 1,306 children by 1.0 mm or more
    assert share_at_least(0.4, sd) == pytest.approx(0.19, abs=0.01)
    assert abs(share_at_least(0.4, sd) - 0.238) < 0.07
    assert share_at_least(0.6, sd) < 0.06
    assert share_at_least(1.0, sd) < 0.023


def test_unequal_lids_are_as_common_as_published() -> None:
    sd = difference_sd(model("F", 40), "lid_aperture.R", "lid_aperture.L")
    # Lam 1995, Am J Ophthalmol 120:518: 5.7 % by 1 mm or more, the largest of 88 people 2.1 mm
    assert share_at_least(1.0, sd) == pytest.approx(0.057, abs=0.003)
    assert 88 * share_at_least(2.1, sd) < 1


def test_lids_of_young_adults_are_as_wide_as_published() -> None:
    # Read 2006: 9.7 ± 1.2 (76 young adults); Knezi 2020, 90 people of 19 years: 9.4 ± 1.55
    part = model("F", 22)
    assert part.means[part.index["lid_aperture"]] == pytest.approx(9.55, abs=0.2)
    assert part.standard_deviation("lid_aperture") == pytest.approx(1.35, abs=0.2)


def test_the_iris_lies_between_three_studies() -> None:
    # Gharaee 2014: 11.65 ± 0.36 (1,001 people); Hashemi 2015: 11.80, 10.8 to 12.8 within 2 SD (4,787)
    means = [model(sex).means[model(sex).index["iris_diameter"]] for sex in people.SEXES]
    assert 11.6 < np.mean(means) < 11.85


def test_single_eye_pds_are_unequal_in_as_many_people_as_published() -> None:
    # Arenas 2014, doi 10.1155/2014/347826: 79 % of 1,262 adults have some difference; read to 0.5 mm, a
    # difference shows
    # from 0.25 mm up
    sd = difference_sd(model("F", 40), "pd_monocular.R", "pd_monocular.L")
    assert share_at_least(0.25, sd) == pytest.approx(0.79, abs=0.1)


def test_head_width_at_the_ears_lies_inside_the_head_and_near_a_measured_one() -> None:
    # USAF 1967 men: bitragion breadth 142.5 ± 5.6; Maseedupalli 2023, India: 154.2 ± 9.1 men, 145.4 ±
    # 8.9 women
    for sex, measured in (("M", (142.5, 154.2)), ("F", (133.5, 145.4))):
        part = model(sex, 30)  # type: ignore[arg-type]
        width = part.means[part.index["head_width"]]
        assert width < part.means[part.index["head_breadth"]]
        assert measured[0] < width < measured[1]


def test_front_to_ear_lies_near_the_depth_of_the_face() -> None:
    # Abraham 2019: length to bend 103.4 ± 6.5; USAF 1967 men: sellion ahead of tragion 98.3 ± 5.9
    part = model("M", 30)
    assert 98.3 < part.means[part.index["length_to_tangent.R"]] < 103.4 + 10
    assert part.standard_deviation("length_to_tangent.R") == pytest.approx(5.9, abs=1.2)


def test_the_model_keeps_the_covariances_of_the_survey() -> None:
    part = model("M")
    group = people.survey_group("M")
    assert part.covariance("head_breadth", "head_circumference") == pytest.approx(
        group.covariance[1][3], abs=1e-3
    )
    assert part.covariance("pd", "bizygomatic") == pytest.approx(group.covariance[0][4], abs=1e-3)

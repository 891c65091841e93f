"""The figures that ship are derived from single people by plain statistics, one half apart from the other."""

from pathlib import Path

import numpy as np
import pytest

from app.reference.derive_survey_figures import DIMENSIONS, read_people, survey_figures

PEOPLE = [
    *((1, "F", 20, 60.0), (2, "F", 30, 62.0), (3, "F", 40, 61.0), (4, "F", 50, 63.0)),
    *((5, "M", 20, 64.0), (6, "M", 30, 63.0), (7, "M", 40, 66.0), (8, "M", 50, 65.0)),
]


def survey_file(folder: Path) -> Path:
    lines = [",".join(("subjectid", "sex", "age", *DIMENSIONS))]
    for number, sex, age, pd in PEOPLE:
        others = (150 + number, 190 - number, 560 + 2 * number, 138 + number % 3, 128 - number % 4)
        lines.append(",".join(map(str, (number, sex, age, pd, *others))))
    path = folder / "survey.csv"
    path.write_text("\n".join(lines), "utf-8")
    return path


def test_means_covariances_and_trends_are_those_of_numpy(tmp_path: Path) -> None:
    groups = survey_figures(read_people(survey_file(tmp_path)))["groups"]
    women = groups["all"]["F"]
    pds, ages = [60.0, 62.0, 61.0, 63.0], [20, 30, 40, 50]
    assert women["n"] == 4
    assert women["mean"][0] == pytest.approx(np.mean(pds))
    assert women["covariance"][0][0] == pytest.approx(np.var(pds, ddof=1), abs=1e-4)
    assert women["per_year"][0] == pytest.approx(np.polyfit(ages, pds, 1)[0], abs=1e-5)
    assert groups["even"]["F"]["mean"][0] == pytest.approx(62.5)
    assert groups["odd"]["M"]["mean"][0] == pytest.approx(65)


def test_a_table_without_a_dimension_is_refused_by_its_name(tmp_path: Path) -> None:
    path = tmp_path / "survey.csv"
    path.write_text("subjectid,sex,age\n1,F,30\n", "utf-8")
    with pytest.raises(ValueError, match="headbreadth"):
        read_people(path)

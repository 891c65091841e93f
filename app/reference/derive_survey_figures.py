"""Derives the survey figures that ship with the app from the survey's public table of single people.

Run: `python -m app.reference.derive_survey_figures SURVEY.csv > app/reference/survey_figures.json`.
The table itself (ANSUR II, 6,068 people) is not part of the app: only means, covariances and sample sizes are.

Whom it describes: adult military personnel of one country, 17 to 58 years, 2010-12, fit and selected. Nobody
older, no children, few very small or very large people. No use is made of ancestry: a man is any man.
"""

import argparse
import csv
import json
import sys
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import numpy as np

DIMENSIONS = (
    "interpupillarybreadth",
    "headbreadth",
    "headlength",
    "headcircumference",
    "bizygomaticbreadth",
    "tragiontopofhead",
)
"""Columns of the public table, mm; interpupillary breadth by pupillometer, distance fixation, steps of 0.5 mm."""
PERCENTILES = (1, 5, 50, 95, 99)
HALVES = {"all": (0, 1), "even": (0,), "odd": (1,)}
"""all: shipped. even: learnt from, odd: judged, in the evaluation (by the last digit of the subject's number)."""
SOURCE = (
    "ANSUR II public data: C. C. Gordon and others, 2012 Anthropometric Survey of U.S. Army Personnel: Methods and"
    " Summary Statistics, NATICK/TR-15/007, 2014"
)

Person = dict[str, str]


def read_people(path: Path) -> list[Person]:
    """Every person of the table, as text by column. Raises ValueError where a column is missing."""
    with path.open(newline="", encoding="utf-8") as table:
        people = list(csv.DictReader(table))
    wanted = {"subjectid", "sex", "age", *DIMENSIONS}
    missing = wanted - set(people[0] if people else ())
    if missing:
        raise ValueError(f"the survey table has no column {', '.join(sorted(missing))}")
    return people


def matrix(people: Iterable[Person]) -> np.ndarray:
    """People by dimensions, mm."""
    return np.array([[float(person[name]) for name in DIMENSIONS] for person in people])


def figures(people: list[Person]) -> dict[str, Any]:
    """Mean, covariance (n − 1), percentiles and age trend of one group. Lengths mm, ages years.

    The trend is the slope of each dimension on age by least squares; the covariance is about the trend's mean,
    so it still contains what age does, which is little (PD about 0.5 mm in ten years).
    """
    values = matrix(people)
    ages = np.array([float(person["age"]) for person in people])
    from_mean = ages - ages.mean()
    slope = from_mean @ (values - values.mean(axis=0)) / (from_mean @ from_mean)
    return {
        "n": len(people),
        "mean": values.mean(axis=0).round(4).tolist(),
        "covariance": np.cov(values, rowvar=False).round(4).tolist(),
        "percentiles": {
            str(share): np.percentile(values, share, axis=0).round(3).tolist() for share in PERCENTILES
        },
        "age_mean": round(float(ages.mean()), 3),
        "per_year": slope.round(5).tolist(),
    }


def survey_figures(people: list[Person]) -> dict[str, Any]:
    """The whole file: for each half of the survey and each sex its figures."""
    groups: dict[str, Any] = {}
    for half, digits in HALVES.items():
        inside = [person for person in people if int(person["subjectid"]) % 2 in digits]
        groups[half] = {sex: figures([one for one in inside if one["sex"] == sex]) for sex in ("F", "M")}
    return {"source": SOURCE, "unit": "mm", "dimensions": list(DIMENSIONS), "groups": groups}


def main() -> None:
    """Reads the table named on the command line and writes the figures to standard output."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("survey", type=Path, help="the survey's public table, CSV")
    people = read_people(parser.parse_args().survey)
    json.dump(survey_figures(people), sys.stdout, indent=1)
    sys.stdout.write("\n")


if __name__ == "__main__":
    main()

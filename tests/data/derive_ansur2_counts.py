"""Counts how many people of the ANSUR II survey had each value, so that tests need no file of people.

Usage: python tests/data/derive_ansur2_counts.py SURVEY.csv > tests/data/ansur2_counts.json

SURVEY.csv holds one person a row with the columns sex (F, M), interpupillarybreadth, headcircumference and
headbreadth, all in millimetres. The survey's public files hold the first in tenths of a millimetre: divide it.
"""

import csv
import json
import sys
from collections import Counter
from pathlib import Path

SOURCE = "ANSUR II, US Army anthropometric survey 2010-12, NATICK/TR-15/007, public release"
COLUMNS = ("interpupillarybreadth", "headcircumference", "headbreadth")
SEXES = ("F", "M")


def counts_in(people: list[dict[str, str]]) -> dict[str, dict[str, dict[str, int]]]:
    """For each column and sex: value in mm as text, and how many people had it, lowest first."""
    counted: dict[str, dict[str, dict[str, int]]] = {}
    for column in COLUMNS:
        counted[column] = {}
        for sex in SEXES:
            values = Counter(float(person[column]) for person in people if person["sex"] == sex)
            counted[column][sex] = {f"{value:g}": values[value] for value in sorted(values)}
    return counted


def main() -> None:
    """Print the counts of the survey named on the command line."""
    with Path(sys.argv[1]).open(encoding="utf-8", newline="") as file:
        people = list(csv.DictReader(file))
    table = {"source": SOURCE, "unit": "mm", "people": len(people), "counts": counts_in(people)}
    print(json.dumps(table, indent=1))


if __name__ == "__main__":
    main()

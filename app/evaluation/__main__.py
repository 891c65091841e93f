"""`python -m app.evaluation --survey CSV --seed N`: how well the expected bands judge, and what they cost.

The survey is the public table of ANSUR II with the columns named in app/reference/derive_survey_figures.py.
`--calibrate` finds the critical values on the even half and writes them to standard output instead.
"""

import argparse
import json
import sys
from pathlib import Path

import numpy as np

from app.evaluation.calibrate import calibrate
from app.evaluation.people import surveyed
from app.evaluation.report import document, table
from app.evaluation.surveyed_only import run_trials
from app.evaluation.whole import run
from app.plausibility.expectation_limits import critical_values


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m app.evaluation", description=__doc__)
    parser.add_argument("--survey", type=Path, required=True, help="the survey's public table, CSV")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--honest", type=int, default=4000, help="honest fittings (default 4000)")
    parser.add_argument("--slips", type=int, default=4000, help="fittings with one slip (default 4000)")
    parser.add_argument("--json", type=Path, help="write the figures to this file too")
    parser.add_argument("--calibrate", type=int, metavar="FITTINGS", help="find the critical values instead")
    return parser.parse_args()


def main() -> None:
    """Prints the table, and writes the JSON where it is asked for."""
    wanted = _arguments()
    if wanted.calibrate:
        found = calibrate(wanted.survey, fittings=wanted.calibrate, seed=wanted.seed)
        sys.stdout.write(json.dumps(found, indent=1) + "\n")
        return
    people, critical = surveyed(wanted.survey, "odd"), critical_values()
    draw = np.random.default_rng(wanted.seed)
    whole = run(people, honest=wanted.honest, slips=wanted.slips, critical=critical, draw=draw)
    each = run(people, honest=0, slips=wanted.slips, critical=critical, draw=draw, kinds_alike=False)
    trials = run_trials(wanted.survey, seed=wanted.seed)
    sys.stdout.write(table(whole, each, trials, wanted.seed) + "\n")
    if wanted.json is not None:
        wanted.json.write_text(json.dumps(document(whole, each, trials, wanted.seed), indent=1) + "\n")


if __name__ == "__main__":
    main()

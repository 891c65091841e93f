"""`python -m tests.bench.bench_expectation`: time of bands, suspects and searches for 62 readings.

Asked for: all bands and suspects under 5 ms, the search for a pair of wrong readings under 20 ms, and at least 150
fittings without pairs judged in a second. Middle of many runs; the first is left out, since it builds the model.
"""

from collections.abc import Callable
from statistics import median
from time import perf_counter

from app.fitting.fitting import Fitting
from app.plausibility.expectation import bands_of, expected_bands, suspects_of
from app.plausibility.expectation_judgement import judge_expectation
from app.plausibility.judge import judge
from app.practice.settings import PracticeSettings
from tests.plausibility.expected_face import Box, box, every_box, ordinary_fitting

RUNS = 200
SETTINGS = PracticeSettings()


def both(fitting: Fitting) -> None:
    """Bands and suspects from one judgement, as a page or an assessment takes them."""
    judged = judge_expectation(fitting, SETTINGS)
    if judged is not None:
        bands_of(judged)
        suspects_of(judged)


def milliseconds(action: Callable[[], object]) -> float:
    """Median time of one run."""
    action()
    times = []
    for _ in range(RUNS):
        start = perf_counter()
        action()
        times.append(perf_counter() - start)
    return 1000 * median(times)


def main() -> None:
    """Prints one line for each time."""
    two_wrong: dict[Box, float | None] = {box("pd_monocular", "L"): 35, box("length_to_tangent", "R"): 120}
    without_pair: dict[Box, float | None] = {each: None for each in every_box() if each[2] is not None}
    cases: tuple[tuple[str, Callable[[], object]], ...] = (
        ("bands and suspects, honest, sex not stated", lambda: both(ordinary)),
        ("bands and suspects, honest, sex stated", lambda: both(stated)),
        ("bands and suspects, one wrong reading", lambda: both(one)),
        ("bands and suspects, two wrong readings (pair search)", lambda: both(two)),
        ("expected_bands alone", lambda: expected_bands(ordinary, SETTINGS)),
        ("judge, everything, without pairs", lambda: judge(face, SETTINGS)),
    )
    ordinary, stated = ordinary_fitting(), ordinary_fitting(sex="F")
    one, two = ordinary_fitting({box("head_width"): 165}), ordinary_fitting(two_wrong)
    face = ordinary_fitting(without_pair)
    for name, action in cases:
        print(f"{name:56}{milliseconds(action):8.2f} ms")


if __name__ == "__main__":
    main()

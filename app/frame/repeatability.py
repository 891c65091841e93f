"""How sure one working value is: its standard deviation from the repeatability that the catalogue declares."""

from math import sqrt

from app.catalogue.catalogue import MEASUREMENTS
from app.fitting.working import WorkingValue

REPEAT_LIMIT_FACTOR = 1.96 * sqrt(2)
"""A repeat limit (95 % of differences of two readings) is this many standard deviations of one reading.
Source: ISO 5725-6 (from memory), 2.8 rounded there; technical error of measurement, Ulijaszek and Kerr 1999,
doi 10.1017/S0007114599001348."""
MEDIAN_FACTOR = sqrt(3.141592653589793 / 2)
"""Standard deviation of a median of many normal readings against that of their mean. Textbook statistics."""


def standard_deviation(value: WorkingValue) -> float:
    """Standard deviation of a working value, in its own unit.

    One reading: repeat limit / (1.96 √2). The mean of two that agree: that / √2, also where they are the closest
    of several. Two that disagree: half their difference, if that is more, since it is what the mean may be out
    by. A median of n that never agreed: the larger of limit and spread, as one reading's, × 1.25 / √n.

    Source: repeat limits of the catalogue, each with its own source; textbook statistics of means and medians.
    """
    single = MEASUREMENTS[value.measurement].tolerance(value.method) / REPEAT_LIMIT_FACTOR
    if value.state == "single":
        return single
    if value.state == "third_needed":
        return max(single / sqrt(2), value.spread / 2)
    if value.state == "median":
        return max(single, value.spread / 2) * MEDIAN_FACTOR / sqrt(value.count)
    return single / sqrt(2)

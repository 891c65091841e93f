"""What all tests share: measured figures are printed once, at the end of the run."""

import pytest
from hypothesis import HealthCheck, settings

# Machines differ in speed; a law that holds does not hold less on a slow one.
settings.register_profile("project", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("project")

MEASURED = "measured"


@pytest.fixture
def measured(record_property):
    """Say a measured figure in words; it is printed at the end, whichever process ran the test."""
    return lambda words: record_property(MEASURED, words)


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Print what was measured."""
    reports = [report for kind in ("passed", "failed") for report in terminalreporter.stats.get(kind, [])]
    lines = [
        words
        for report in reports
        if getattr(report, "when", "") == "call"
        for name, words in report.user_properties
        if name == MEASURED
    ]
    if lines:
        terminalreporter.section("measured")
        for words in sorted(lines):
            terminalreporter.write_line(words)

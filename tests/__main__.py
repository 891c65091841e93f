"""`python3 -m tests`: install what the tests need, then run the code checkers and the tests."""

from app.bootstrap import run_inside_environment

run_inside_environment("tests", extra="[test]")

import subprocess  # noqa: E402
import sys  # noqa: E402

import pytest  # noqa: E402

CHECKS = (
    ("ruff", "check", "."),
    ("ruff", "format", "--check", "."),
    ("mypy",),
)


def run_checks() -> bool:
    """Run the code checkers; True when all are content."""
    return all(
        subprocess.run([sys.executable, "-m", *check], check=False).returncode == 0 for check in CHECKS
    )


arguments = sys.argv[1:]
checked = run_checks() if not arguments else True
status = int(pytest.main(arguments or ["--numprocesses", "auto"]))
sys.exit(status or int(not checked))

"""Every published or independently computed worked example, through the public functions.

Each case names its topic, inputs, expected values with their tolerances, and its source. The environment
variable `WORKED_EXAMPLES` points the test at another file of the same form. A form without an adapter fails.
"""

import json
import os
from pathlib import Path
from typing import Any

import pytest

from tests.worked_examples import (  # noqa: F401  (importing them enters their forms)
    centration_forms,
    frame_forms,
    lens_forms,
    power_forms,
    prism_forms,
    tolerance_forms,
)
from tests.worked_examples.forms import ADAPTERS

FILE = Path(os.environ.get("WORKED_EXAMPLES", Path(__file__).parent / "data" / "worked_examples.json"))
CASES: list[dict[str, Any]] = json.loads(FILE.read_text(encoding="utf-8"))


def answer(case: dict[str, Any]) -> Any:
    """What the public functions make of the inputs of a case."""
    form = (case["topic"], frozenset(case["inputs"]))
    if form not in ADAPTERS:
        pytest.fail(f"no adapter for the form {case['topic']} with {', '.join(sorted(case['inputs']))}")
    return ADAPTERS[form](**case["inputs"])


def agrees(name: str, found: Any, wanted: Any, tolerance: float) -> bool:
    """True when a value is the wanted one within the case's tolerance.

    A cylinder axis counts round the half turn.
    """
    if isinstance(wanted, bool | str):
        return bool(found == wanted)
    difference = abs(found - wanted)
    if name.endswith("axis_deg"):
        difference = min(difference, abs(180 - difference))
    return bool(difference <= tolerance)


@pytest.mark.parametrize("case", CASES, ids=[case["id"] for case in CASES])
def test_a_worked_example_comes_out_as_published(case: dict[str, Any]) -> None:
    found = answer(case)

    for name, wanted in case["expected"].items():
        assert name in found, f"{name} is not worked out; source {case['source']}"
        assert agrees(name, found[name], wanted, case["tolerance"][name]), (
            f"{name}: {found[name]}, published {wanted}; source {case['source']}"
        )


def test_every_case_states_a_source_and_a_tolerance_for_each_expected_value() -> None:
    for case in CASES:
        assert case["source"]
        assert set(case["expected"]) == set(case["tolerance"])

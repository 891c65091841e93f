"""`assess` and `explain`: JSON for what was read, one line and status 2 for what is no fitting."""

import io
import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from app.__main__ import main
from app.fitting.fitting_file import write_fitting
from app.fitting.schema import assessment_schema
from app.plausibility.families import CHECKS
from tests.frame.worked_set import FACES, fitting_of

ROOT = Path(__file__).parent.parent.parent
EXAMPLE = ROOT / "tests" / "fitting" / "example.json"
SCHEMA = Draft202012Validator(assessment_schema())


class BytesInput:
    """Standard input as a shell pipe gives it."""

    def __init__(self, content: bytes) -> None:
        self.buffer = io.BytesIO(content)


def assessed(capsys: pytest.CaptureFixture[str], *arguments: str) -> Any:
    assert main(["assess", *arguments]) == 0
    return json.loads(capsys.readouterr().out)


def refused(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    assert main(list(arguments)) == 2
    printed = capsys.readouterr()
    assert printed.out == ""
    assert printed.err.endswith("\n")
    assert printed.err.count("\n") == 1
    return printed.err.strip()


def test_the_example_file_is_assessed_in_the_published_form(capsys: pytest.CaptureFixture[str]) -> None:
    document = assessed(capsys, str(EXAMPLE))

    assert list(SCHEMA.iter_errors(document)) == []
    assert document["schema"] == "chair-to-bench/assessment/1"
    gauge = document["working"][0]
    assert (gauge["measurement"], gauge["method"], gauge["value"]) == ("pd_distance", "pupil_gauge", 61.5)
    assert (gauge["spread"], gauge["from"], gauge["side"]) == (0, 1, None)
    assert {finding["check"] for finding in document["findings"]} <= set(CHECKS)


@pytest.mark.parametrize("face", FACES, ids=lambda face: face.name)
def test_the_worked_set_is_assessed_with_its_orders(
    face: Any, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "fitting.json"
    file.write_text(json.dumps(write_fitting(fitting_of(face))))

    document = assessed(capsys, str(file))

    assert list(SCHEMA.iter_errors(document)) == []
    first, second = document["pairs"]
    frame = {(line["dimension"], line["side"]): line for line in first["frame"]}
    assert frame["head_width", None]["ordered"] == face.frame_head
    assert frame["bridge_projection", None]["facial"] == face.projection
    assert frame["bridge_projection", None]["adjustment"] == -1.5
    assert frame["overall_length", "L"]["ordered"] == face.overall[1]
    assert frame["let_back", "R"]["unit"] == "deg"
    lenses = [second["lenses"][side]["decentration_in"] for side in "RL"]
    assert tuple(lenses) == face.decentration_2


def test_the_power_at_the_worn_vertex_is_that_of_a_published_case(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """−12.00 from 10 to 14 mm: −12.61 (brainscape.com, spectacle magnification, 17752956)."""
    document = json.loads(EXAMPLE.read_text())
    document["prescription"] = {"tested_at_mm": 10, "R": {"sphere": -12}}
    document["pairs"][0]["vertex_mm"] = 14
    file = tmp_path / "fitting.json"
    file.write_text(json.dumps(document))

    lens = assessed(capsys, str(file))["pairs"][0]["lenses"]["R"]

    assert round(lens["power_at_worn_vertex"]["sphere"], 2) == -12.61
    assert lens["prism_for_1mm"] == 1.2


def test_a_file_of_lines_gives_a_line_for_each(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    one = json.dumps(json.loads(EXAMPLE.read_text()))
    file = tmp_path / "fittings.jsonl"
    file.write_text(f"{one}\n\n{one}\n")

    assert main(["assess", "--lines", str(file)]) == 0

    lines = capsys.readouterr().out.splitlines()
    assert len(lines) == 2
    assert lines[0] == lines[1]
    assert SCHEMA.is_valid(json.loads(lines[0]))


def test_standard_input_is_read(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setattr(sys, "stdin", BytesInput(EXAMPLE.read_bytes()))

    assert assessed(capsys, "-")["pairs"][0]["pair"] == 1


def test_a_bad_line_is_named_and_nothing_is_printed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    document = json.loads(EXAMPLE.read_text())
    good = json.dumps(document)
    document["readings"][3]["unit"] = "kg"
    file = tmp_path / "fittings.jsonl"
    file.write_text(f"{good}\n{json.dumps(document)}\n")

    line = refused(capsys, "assess", "--lines", str(file))

    assert line == "line 2: readings[3].unit: must be one of mm, cm, in, not “kg”"


@pytest.mark.parametrize(
    ("content", "line"),
    [
        (b"{", "line 1, column 2: is not JSON"),
        (b"\xff", "file: is not UTF-8 text"),
        (b'{"schema": "chair-to-bench/fitting/1", "persn": {}}', "persn: is not a key known here; person?"),
        (b"[]", "file: must be an object"),
    ],
)
def test_what_is_no_fitting_gets_one_line_and_status_2(
    content: bytes, line: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "fitting.json"
    file.write_bytes(content)

    assert refused(capsys, "assess", str(file)).startswith(line)


def test_a_file_that_is_not_there_is_said_so(capsys: pytest.CaptureFixture[str]) -> None:
    assert refused(capsys, "assess", "no/such/file.json").startswith("no/such/file.json: cannot be read")


def test_explain_lists_every_check_and_explains_each(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["explain"]) == 0
    listed = capsys.readouterr().out

    for name, check in CHECKS.items():
        assert name in listed
        assert main(["explain", name]) == 0
        page = capsys.readouterr().out
        assert check.title in page
        assert "Source:" in page


def test_an_unknown_check_is_answered_with_the_closest(capsys: pytest.CaptureFixture[str]) -> None:
    name = next(iter(CHECKS))

    assert refused(capsys, "explain", name[:-1]).endswith(f"; {name}?")


def test_the_command_itself_gives_status_2_and_one_line() -> None:
    command = [sys.executable, "-m", "app", "assess", "-"]

    done = subprocess.run(command, input=b"not json", capture_output=True, cwd=ROOT, check=False)

    assert (done.returncode, done.stdout) == (2, b"")
    assert done.stderr.decode().splitlines() == ["line 1, column 1: is not JSON: Expecting value"]

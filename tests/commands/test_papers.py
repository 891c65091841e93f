"""`papers`: what leaves the practice for one fitting file, from the command line."""

import subprocess
import sys
from pathlib import Path

from tests.documents.test_papers import NAMES
from tests.plausibility.demo_files import DEMO


def papers(*arguments: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "app", "papers", *arguments]
    return subprocess.run(command, capture_output=True, text=True, check=False, cwd=DEMO.parent)


def test_every_paper_is_written_and_named(tmp_path: Path) -> None:
    done = papers(str(DEMO / "patient_1.json"), str(tmp_path / "out"))
    assert done.returncode == 0, done.stderr
    assert {line.split()[0] for line in done.stdout.splitlines()} == NAMES
    assert {one.name for one in (tmp_path / "out").iterdir()} == NAMES


def test_an_older_drawing_does_not_pass_for_one_that_cannot_be_made(tmp_path: Path) -> None:
    out, file = tmp_path / "out", tmp_path / "fitting.json"
    papers(str(DEMO / "patient_1.json"), str(out))
    text = (DEMO / "patient_1.json").read_text(encoding="utf-8")
    file.write_text(text.replace('"lens_width": 48,', ""), encoding="utf-8")
    done = papers(str(file), str(out))
    assert done.returncode == 0
    assert (
        "pair-1-front.svg could not be written: The front cannot be drawn, missing: Lens width" in done.stdout
    )
    assert not (out / "pair-1-front.svg").exists()
    assert (out / "pair-1-order.pdf").exists()


def test_a_file_that_is_no_fitting_is_refused_with_its_place(tmp_path: Path) -> None:
    file = tmp_path / "fitting.json"
    file.write_text('{"schema": "chair-to-bench/fitting/1"}', encoding="utf-8")
    done = papers(str(file), str(tmp_path / "out"))
    assert done.returncode == 2
    assert done.stderr.count("\n") == 1


def test_a_folder_that_cannot_be_written_to_is_said_in_one_line(tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("a file")
    done = papers(str(DEMO / "patient_1.json"), str(tmp_path / "taken"))
    assert done.returncode == 2
    assert "cannot be written to" in done.stderr

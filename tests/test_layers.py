"""The rooms of the app: who may import whom, how long a file may be, and what must not be named."""

import ast
from pathlib import Path

import pytest

APP = Path(__file__).resolve().parent.parent / "app"
PURE = ("reference", "catalogue", "practice", "fitting", "optics", "frame", "plausibility", "documents")
MAY_IMPORT = {
    "reference": (),
    "catalogue": ("reference",),
    "practice": ("catalogue", "reference"),
    "fitting": ("catalogue", "practice", "reference"),
    "optics": ("reference",),
    "frame": ("fitting", "practice", "catalogue", "optics", "reference"),
    "plausibility": ("frame", "optics", "fitting", "practice", "catalogue", "reference"),
    "documents": ("plausibility", "frame", "optics", "fitting", "practice", "catalogue", "reference"),
    "records": ("fitting", "practice", "catalogue", "reference"),
}
NOT_IN_PURE_ROOMS = ("fastapi", "starlette", "sqlalchemy", "sqlmodel", "jinja2", "uvicorn", "time")
LONGEST_FILE = 300
LONGEST_FUNCTION = 60
FILES = sorted(APP.rglob("*.py"))


def name_of(file: Path) -> str:
    return str(file.relative_to(APP))


def imports_of(file: Path) -> set[str]:
    """Names of all modules that a file imports."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found.add(node.module)
    return found


@pytest.mark.parametrize("file", FILES, ids=name_of)
def test_imports_run_one_way(file: Path):
    room = file.relative_to(APP).parts[0]
    ours = {name.split(".")[1] for name in imports_of(file) if name.startswith("app.") and "." in name}

    if room in MAY_IMPORT:
        assert ours <= {room, *MAY_IMPORT[room]}
    if room in PURE:
        assert not {name.split(".")[0] for name in imports_of(file)} & set(NOT_IN_PURE_ROOMS)


@pytest.mark.parametrize("file", FILES, ids=name_of)
def test_a_file_is_short_and_says_what_it_is_for(file: Path):
    text = file.read_text(encoding="utf-8")
    tree = ast.parse(text)

    assert len(text.splitlines()) <= LONGEST_FILE
    assert not text or ast.get_docstring(tree), "the first line says what the file is for"
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef) and "migrations" not in file.parts:
            assert (node.end_lineno or 0) - node.lineno < LONGEST_FUNCTION, f"{node.name} is too long"


def test_sql_stands_only_among_the_records():
    elsewhere = [
        name_of(file)
        for file in FILES
        if file.relative_to(APP).parts[0] != "records"
        and any(name.split(".")[0] in ("sqlalchemy", "sqlmodel", "sqlite3") for name in imports_of(file))
    ]

    assert elsewhere == []

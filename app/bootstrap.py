"""Create .venv beside pyproject.toml and run the caller inside it. Standard library only."""

import hashlib
import os
import subprocess
import sys
import venv
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
ENVIRONMENT = ROOT / ".venv"
PYTHON = ENVIRONMENT / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
OLDEST_PYTHON = (3, 11)


def run_inside_environment(module: str, extra: str = "") -> None:
    """Return at once inside .venv; otherwise install what is missing and run `python -m module` there."""
    if Path(sys.prefix).resolve() == ENVIRONMENT.resolve():
        return
    if sys.version_info < OLDEST_PYTHON:
        sys.exit("Python 3.11 or newer is needed; this is " + sys.version.split()[0])
    install_if_needed(extra)
    command = [str(PYTHON), "-m", module, *sys.argv[1:]]
    os.chdir(ROOT)
    if os.name == "nt":  # on Windows execv returns to the shell before the child has ended
        sys.exit(subprocess.run(command, check=False).returncode)
    os.execv(command[0], command)


def install_if_needed(extra: str) -> None:
    """Bring .venv up to date with pyproject.toml; nothing to do when its stamp fits."""
    wanted = hashlib.sha256(
        (ROOT / "pyproject.toml").read_bytes() + extra.encode() + sys.version.encode()
    ).hexdigest()
    stamp = ENVIRONMENT / f"installed{extra}.sha256"
    if stamp.is_file() and stamp.read_text() == wanted and PYTHON.exists():
        return
    print("Installing into .venv (first run only) …", flush=True)
    create_environment()
    pip = [str(PYTHON), "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
    if subprocess.run([*pip, "--editable", f".{extra}"], cwd=ROOT, check=False).returncode:
        sys.exit("Installing failed: see the lines above. The package registry must be reachable once.")
    stamp.write_text(wanted)


def create_environment() -> None:
    """Make .venv, or say which system package is missing."""
    if PYTHON.exists():
        return
    try:
        venv.create(ENVIRONMENT, with_pip=True, clear=ENVIRONMENT.exists())
    except subprocess.CalledProcessError:
        sys.exit("Python's venv is incomplete on this machine. On Debian or Ubuntu: apt install python3-venv")

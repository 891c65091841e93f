"""The demo practice's fitting files."""

import json
from pathlib import Path
from typing import Any

DEMO = Path(__file__).resolve().parents[2] / "demo"


def demo_text(name: str) -> str:
    """The text of one file of the demo practice."""
    return (DEMO / f"{name}.json").read_text(encoding="utf-8")


def demo_document(name: str) -> dict[str, Any]:
    """One file of the demo practice, parsed."""
    document: dict[str, Any] = json.loads(demo_text(name))
    return document

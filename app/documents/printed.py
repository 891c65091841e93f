"""Papers as PDF: a template and plain data, set by typst (https://typst.app) with its own fonts.

The same template and data give the same bytes: no clock, no fonts of the machine. Pages are tagged and meet
PDF/UA-1 (ISO 14289-1), so that a screen reader can read them.
"""

import json
from functools import cache
from pathlib import Path
from typing import Any

import typst

TEMPLATES = Path(__file__).resolve().parent.parent.parent / "templates" / "pdf"
NO_CLOCK = 0


def to_pdf(template: str, data: dict[str, Any]) -> bytes:
    """The PDF of a template under templates/pdf, with the data as its input `data` in JSON."""
    compiler = typst.Compiler(
        TEMPLATES / template,
        root=TEMPLATES,
        font_paths=_fonts(),
        ignore_system_fonts=True,
        sys_inputs={"data": json.dumps(data, ensure_ascii=False, sort_keys=True)},
    )
    made = compiler.compile(format="pdf", timestamp=NO_CLOCK, pdf_standards=["ua-1"])
    if not isinstance(made, bytes):
        raise TypeError("the typesetter gave no single document")
    return made


@cache
def _fonts() -> typst.Fonts:
    """Only the fonts that come with the typesetter: every machine prints the same."""
    return typst.Fonts(include_system_fonts=False)

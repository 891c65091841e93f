"""`assess`: what follows from fitting files, as JSON on standard output."""

import json
import sys

from app.commands.documents import read_documents
from app.documents.assessment import assessment
from app.practice.settings import PracticeSettings


def assess(name: str, *, lines: bool) -> None:
    """Prints one assessment for each fitting, one a line with `lines`. Raises Refused before printing anything."""
    settings = PracticeSettings()
    assessments = [assessment(document.fitting, settings) for document in read_documents(name, lines=lines)]
    for document in assessments:
        sys.stdout.write(json.dumps(document, ensure_ascii=False, indent=None if lines else 1) + "\n")

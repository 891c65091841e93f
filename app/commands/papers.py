"""`papers`: writes what leaves the practice for one fitting file into a folder."""

import sys
from pathlib import Path

from app.commands.documents import read_documents
from app.commands.refusal import Refused
from app.documents.order_paper import Paper
from app.documents.papers import Wanted, papers
from app.practice.settings import PracticeSettings


def write_papers(name: str, folder: str, *, paper: Paper, orders_address: str = "") -> None:
    """Writes every paper that can be written; prints the names written, and what could not be written and why.

    Raises Refused where the file is no fitting or the folder cannot be written to.
    """
    fitting = read_documents(name, lines=False)[0].fitting
    place = Path(folder)
    wanted = Wanted(fitting=fitting, settings=PracticeSettings(), paper=paper, orders_address=orders_address)
    try:
        place.mkdir(parents=True, exist_ok=True)
        for one in papers(wanted):
            if one.content is None:
                sys.stdout.write(f"{one.name} could not be written: {one.why_not}\n")
                (place / one.name).unlink(missing_ok=True)  # an older one would pass for this one
                continue
            (place / one.name).write_bytes(one.content)
            left_out = f" without: {'; '.join(one.left_out)}" if one.left_out else ""
            sys.stdout.write(f"{one.name}{left_out}\n")
    except OSError as error:
        raise Refused(f"{folder}: cannot be written to: {error.strerror}") from None

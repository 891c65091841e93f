"""`import`: fitting files into the records."""

import sys

from app.commands.documents import read_documents
from app.commands.one_writer import change_records
from app.commands.settings_read import location


def import_fittings(name: str, *, lines: bool, by: str) -> None:
    """Stores the fittings of a file and prints the identity of each: all are stored or none. Raises Refused."""
    files = [
        {"text": document.content.decode("utf-8-sig"), "place": document.place}
        for document in read_documents(name, lines=lines)
    ]
    answer = change_records(location().database_url, {"wish": "import", "by": by, "files": files})
    for identity in answer["fittings"]:
        sys.stdout.write(f"{identity}\n")

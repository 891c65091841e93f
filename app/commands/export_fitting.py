"""`export`: one stored fitting as a fitting file on standard output."""

import sys
from contextlib import closing

from app.commands.refusal import Refused, one_line
from app.commands.settings_read import location
from app.fitting.fitting_file import write_fitting_text
from app.records.database import file_of, open_database
from app.records.errors import RecordsError
from app.records.fittings import load_fitting


def export_fitting(identity: str) -> None:
    """Prints the fitting of that identity with all its readings; only reads. Raises Refused."""
    url = location().database_url
    try:
        if not file_of(url).exists():
            raise Refused("there are no records yet")
        with closing(open_database(url)) as database:
            stored = load_fitting(database, identity)
    except RecordsError as error:
        raise Refused(one_line(error)) from None
    sys.stdout.write(write_fitting_text(stored.fitting))

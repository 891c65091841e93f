"""`token`: a bearer token for the JSON interface, shown once."""

import sys

from app.commands.one_writer import change_records
from app.commands.settings_read import location


def token(*, name: str, role: str) -> None:
    """Prints a new token of the named account, which is made where there is none. Raises Refused."""
    answer = change_records(location().database_url, {"wish": "token", "name": name, "role": role})
    sys.stdout.write(f"{answer['token']}\n")

"""`serve`: the app for this machine, until it is stopped."""

import sys
from contextlib import closing
from ipaddress import ip_address

from app.commands.listening import answer_until_stopped, listening, stopping_tidily
from app.commands.one_writer import answering_commands
from app.commands.refusal import Refused, one_line
from app.commands.settings_read import location
from app.records.accounts import list_accounts
from app.records.database import open_database
from app.records.errors import RecordsError
from app.web.application import create_application

NO_ACCOUNT_YET = (
    "No account yet. In another window: python -m app account --role manager --name NAME,"
    " then one for each person."
)


def serve(*, host: str | None, port: int | None) -> None:
    """Serves the records of the data folder as their one writer. Raises Refused."""
    given = location()
    host, port = host or given.host, port or given.port
    if not _this_machine_only(host):
        raise Refused(
            f"{host}: without https the app serves only on this machine (127.0.0.1 or localhost);"
            " a tablet on the network needs https, which comes with a later version"
        )
    try:
        database = open_database(given.database_url, exclusive=True)
    except RecordsError as error:
        raise Refused(one_line(error)) from None
    with (
        stopping_tidily(),
        closing(database),
        listening(host, port) as taken,
        answering_commands(database),
    ):
        application = create_application(database)
        shown = f"[{host}]" if ":" in host else host
        sys.stdout.write(f"Chair to Bench: http://{shown}:{port} (on this machine). Stop with Ctrl-C.\n")
        if not list_accounts(database):
            sys.stdout.write(f"{NO_ACCOUNT_YET}\n")
        sys.stdout.flush()
        answer_until_stopped(application, taken)


def _this_machine_only(host: str) -> bool:
    try:
        return ip_address(host).is_loopback
    except ValueError:
        return host == "localhost"

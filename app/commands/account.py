"""`account`: the first account of a practice, or a new passphrase for one."""

import getpass
import sys

from app.commands.one_writer import change_records
from app.commands.refusal import Refused
from app.commands.settings_read import location


def account(*, name: str, role: str) -> None:
    """Asks for the passphrase (a line of standard input where there is no keyboard) and sets it. Raises Refused."""
    wish = {"wish": "account", "name": name, "role": role, "passphrase": _passphrase(name)}
    change_records(location().database_url, wish)
    sys.stdout.write(f"{name} can sign in as {role}.\n")


def _passphrase(name: str) -> str:
    if not sys.stdin.isatty():
        return sys.stdin.readline().rstrip("\n")
    typed = getpass.getpass(f"Passphrase for {name}: ")
    if getpass.getpass("Again: ") != typed:
        raise Refused("the two passphrases differ; nothing was changed")
    return typed

"""What a command wishes the one writer to do, and the doing of it: at the stopped store or inside the server."""

import hashlib
from collections.abc import Callable
from typing import Any

from app.commands.refusal import Refused, one_line
from app.fitting.fitting_file import NotAFitting, read_fitting_text
from app.records.accounts import Account, account_named, change_passphrase, create_account
from app.records.actor import Actor
from app.records.database import Database
from app.records.errors import NotAllowed, RecordsError
from app.records.file_import import FileToImport, NotImported, import_files
from app.records.identity import new_key
from app.records.tokens import make_token
from app.web.assistant_limits import as_the_caller_may

Wish = dict[str, Any]
"""A JSON object: `wish` names one of WISHES, the rest are its arguments."""
Answer = dict[str, Any]
"""A JSON object: the answer, or `refused` with one line of words."""
TOKEN_NAME = "command line"  # noqa: S105 - what the token is called, no secret


def carry_out(database: Database, wish: Wish) -> Answer:
    """Does what is wished. A refusal is an answer too: it must reach the other process in words."""
    arguments = {key: value for key, value in wish.items() if key != "wish"}
    try:
        return WISHES[wish["wish"]](database, **arguments)
    except (RecordsError, Refused, NotAFitting) as error:
        return {"refused": one_line(error)}


def give_token(database: Database, *, name: str, role: str) -> Answer:
    """A bearer token for the named account, which is made where there is none."""
    account = account_of(database, name=name, role=role)
    return {"token": make_token(database, actor=None, account=account.account, name=TOKEN_NAME)}


def set_account(database: Database, *, name: str, role: str, passphrase: str) -> Answer:
    """The named account, made where there is none, with this passphrase from now on."""
    account = account_of(database, name=name, role=role)
    change_passphrase(database, actor=None, account=account.account, passphrase=passphrase)
    return {"account": account.account}


def take_in(database: Database, *, by: str, files: list[dict[str, str]]) -> Answer:
    """Stores fitting files under their persons' references, all or none.

    Each file is its `text` and its `place` among the others. The same text by the same account is stored once.
    """
    account = account_named(database, by)
    if account is None or not account.active:
        raise Refused(f"there is no account called {by}; name who takes the fitting in with --by")
    read = [_file_of(account.actor, **file) for file in files]
    try:
        stored = import_files(database, actor=account.actor, files=read)
    except NotImported as refusal:
        raise Refused(one_line(refusal)) from None
    return {"fittings": [one.fitting_id for one in stored]}


def _file_of(actor: Actor, *, text: str, place: str) -> FileToImport:
    key = hashlib.sha256(f"{actor.account} {text}".encode()).hexdigest()
    try:
        fitting = as_the_caller_may(actor, read_fitting_text(text))
    except (NotAFitting, NotAllowed) as refusal:
        raise Refused(f"{place}{one_line(refusal)}") from None
    return FileToImport(key=f"import.{key}", fitting=fitting, place=place)


def account_of(database: Database, *, name: str, role: str) -> Account:
    """The active account of that name and role, made where there is none of that name."""
    found = account_named(database, name)
    if found is None:
        create_account(database, key=new_key(), actor=None, sign_in=name, name=name, role=role)
        found = account_named(database, name)
    if found is None or not found.active:
        raise Refused(f"the account of {name} is closed")
    if found.role != role:
        raise Refused(f"{found.name} has the role {found.role} here, not {role}")
    return found


WISHES: dict[str, Callable[..., Answer]] = {"token": give_token, "account": set_account, "import": take_in}

"""Changing the records from the command line: through the running server, or directly while none runs.

While a server runs it alone writes. It listens on a local socket whose address and secret lie in a file beside
the database that only its owner can read; messages are JSON, never pickled objects.
"""

import json
import logging
import os
import secrets
import threading
from collections.abc import Iterator
from contextlib import closing, contextmanager
from multiprocessing.connection import Client, Listener
from pathlib import Path
from typing import Any

from app.commands.refusal import Refused, one_line
from app.commands.wishes import Answer, Wish, carry_out
from app.records.database import Database, file_of, open_database
from app.records.errors import RecordsError, StoreInUse

SECRET_BYTES = 32
LARGEST_MESSAGE = 64 * 1024 * 1024
"""Bytes; ours: thousands of fittings in one import."""
STOP: Wish = {"wish": "stop listening"}
LOGGER = logging.getLogger(__name__)


def change_records(url: str, wish: Wish) -> Answer:
    """Has the wish carried out by whoever may write. Raises Refused with the words of a refusal."""
    try:
        with closing(open_database(url, exclusive=True)) as database:
            answer = carry_out(database, wish)
    except StoreInUse as in_use:
        answer = _ask_server(file_of(url), wish, in_use)
    except RecordsError as error:
        raise Refused(one_line(error)) from None
    if "refused" in answer:
        raise Refused(str(answer["refused"]))
    return answer


@contextmanager
def answering_commands(database: Database) -> Iterator[None]:
    """While this lasts, commands on this machine are carried out by this server."""
    key = secrets.token_bytes(SECRET_BYTES)
    file = _address_file(database.file)
    with Listener(authkey=key) as listener:
        _write_privately(file, json.dumps({"address": listener.address, "key": key.hex()}))
        thread = threading.Thread(target=_answer_until_stopped, args=(listener, database), daemon=True)
        thread.start()
        try:
            yield
        finally:
            file.unlink(missing_ok=True)
            with Client(listener.address, authkey=key) as connection:
                connection.send_bytes(json.dumps(STOP).encode())
            thread.join()


def _answer_until_stopped(listener: Listener, database: Database) -> None:
    while True:
        try:
            with listener.accept() as connection:
                wish = json.loads(connection.recv_bytes(LARGEST_MESSAGE))
                if wish == STOP:
                    return
                connection.send_bytes(json.dumps(carry_out(database, wish)).encode())
        except Exception:
            # whatever one caller did wrong (no secret, gone away, not JSON), the next must still be heard
            LOGGER.warning("A command was not carried out", exc_info=True)


def _ask_server(database_file: Path, wish: Wish, in_use: StoreInUse) -> Answer:
    try:
        known: dict[str, Any] = json.loads(_address_file(database_file).read_text())
        with Client(known["address"], authkey=bytes.fromhex(known["key"])) as connection:
            connection.send_bytes(json.dumps(wish).encode())
            answer: Answer = json.loads(connection.recv_bytes(LARGEST_MESSAGE))
            return answer
    except (OSError, EOFError, ValueError, KeyError):
        raise Refused(one_line(in_use)) from None


def _address_file(database_file: Path) -> Path:
    return database_file.with_name(database_file.name + ".commands")


def _write_privately(file: Path, text: str) -> None:
    file.unlink(missing_ok=True)
    with os.fdopen(os.open(file, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w") as opened:
        opened.write(text)

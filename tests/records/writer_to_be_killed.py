"""Stores readings as fast as it can and notes the key of each one that was acknowledged, until it is killed.

Run as a program: database URL, fitting, file of notes, number of rounds, and when the note is made: `after` the
answer, or `before` it, as a server would that acknowledges too early. Each round is a process of its own that this
one starts, kills after a moment, and collects; so that the modules are loaded once, not in every round.
"""

import os
import random
import signal
import sys
import time

from app.fitting.reading import Reading
from app.records.accounts import account_named
from app.records.database import open_database
from app.records.identity import new_key
from app.records.readings import add_reading


def write_for_ever(url: str, fitting_id: str, notes: int, when: str) -> None:
    """Store readings one after the other; note the key of each before or after its answer is there."""
    database = open_database(url, exclusive=True)
    account = account_named(database, "practitioner")
    assert account is not None
    reading = Reading(measurement="pd_near", value=58.5, text="58.5")
    while True:
        key = new_key()
        if when == "before":
            os.write(notes, f"{key}\n".encode())
        add_reading(database, key=key, actor=account.actor, fitting_id=fitting_id, reading=reading)
        if when == "after":
            os.write(notes, f"{key}\n".encode())


def kill_again_and_again(url: str, fitting_id: str, notes_file: str, rounds: int, when: str) -> None:
    """Start a writer and kill it at a random moment, as often as asked."""
    moments = random.Random(20261002)  # a fixed seed: the same moments in every run
    notes = os.open(notes_file, os.O_WRONLY | os.O_CREAT | os.O_APPEND)
    for _ in range(rounds):
        writer = os.fork()
        if writer == 0:
            write_for_ever(url, fitting_id, notes, when)
        time.sleep(moments.uniform(0.02, 0.25))
        os.kill(writer, signal.SIGKILL)
        os.waitpid(writer, 0)


if __name__ == "__main__":
    kill_again_and_again(sys.argv[1], sys.argv[2], sys.argv[3], int(sys.argv[4]), sys.argv[5])

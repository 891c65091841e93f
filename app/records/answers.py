"""Answers to findings: every one is kept, the latest for the same values counts."""

from typing import Literal, get_args

from sqlalchemy import Connection, insert

from app.records.actor import Actor
from app.records.database import Database
from app.records.errors import NotStorable
from app.records.fitting_rows import open_row
from app.records.identity import now
from app.records.requests import Answer, Request, write_once
from app.records.rights import require
from app.records.storable import text_of
from app.records.tables import naming as wide
from app.records.tables.fittings import ANSWER

Kind = Literal["measured_again", "corrected", "right_because", "known_investigated", "referred", "emergency"]
KINDS: tuple[Kind, ...] = get_args(Kind)
WITHOUT_JUDGEMENT: tuple[Kind, ...] = ("measured_again", "corrected")
"""What an assistant may answer: it says what was done, not that a finding is fine."""


def answer_finding(
    database: Database,
    *,
    key: str,
    actor: Actor,
    fitting_id: str,
    check: str,
    fingerprint: str,
    kind: Kind,
    words: str = "",
) -> None:
    """Answer a finding for the values that its fingerprint names. An earlier answer by somebody else stays."""
    if kind not in KINDS:
        raise NotStorable("That is not an answer to a finding.")
    require(actor, "answer findings" if kind in WITHOUT_JUDGEMENT else "decide that a finding is right")
    row = {
        "check": text_of(check, what="name of the check", longest=wide.KEY),
        "fingerprint": text_of(fingerprint, what="list of values", longest=wide.NOTE),
        "kind": kind,
        "words": text_of(words, what="answer", longest=wide.NOTE),
    }
    wish = Request(key=key, actor=actor, action="answer_finding", body=[fitting_id, row])

    def work(connection: Connection) -> Answer:
        place = {"fitting_id": open_row(connection, fitting_id)}
        by = {"account": actor.account, "by": actor.name, "at": now()}
        connection.execute(insert(ANSWER), {**place, **row, **by})
        return {}

    write_once(database, wish, work)

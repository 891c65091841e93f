"""Pairs that are made again, each linked to its cause."""

from dataclasses import dataclass

from sqlalchemy import Connection, bindparam, insert, select

from app.records.actor import Actor
from app.records.database import Database
from app.records.errors import NotStorable
from app.records.fitting_rows import row_of
from app.records.identity import new_identity, now
from app.records.pair_changes import PairChange, change_pair
from app.records.storable import text_of
from app.records.tables.bench import REMAKE
from app.records.tables.naming import NOTE

CAUSES: dict[str, str] = {
    "bridge_width": "Bridge too wide or narrow",
    "crest_height": "Crest at the wrong height",
    "projection_sign": "Projection: inset and outset exchanged",
    "bridge_angles": "Frontal or splay angle wrong",
    "temple_width": "Temple width too small",
    "head_width": "Head width too small or large",
    "side_length": "Length of side wrong",
    "sides_swapped": "Right and left exchanged",
    "not_level": "Front not level",
    "centration": "Centration distance wrong",
    "heights": "Segment or fitting height wrong",
    "vertex_not_given": "Vertex distance not given",
    "near_imbalance": "Prism difference in the reading field",
    "thickness": "Lens too thick or heavy",
    "material_or_allergy": "Wrong material, or a reaction to it",
    "colour_or_style": "Wrong colour or style",
    "old_prescription": "An old prescription was used",
    "sent_twice": "Sent twice, or with old values",
    "pairs_mixed": "The pairs' prescriptions were exchanged",
    "maker": "Not made as ordered",
    "other": "Other, in words",
}
"""Reasons for remakes in handmade work; common practice."""

_OF_FITTING = select(REMAKE).where(REMAKE.c.fitting_id == bindparam("fitting_row")).order_by(REMAKE.c.id)


@dataclass(frozen=True, slots=True, kw_only=True)
class Remake:
    """One remake: the version that was made, and why it is made again."""

    pair: int
    version: int
    cause: str
    words: str
    by: str
    at: str


def remake_pair(
    database: Database,
    *,
    key: str,
    actor: Actor,
    fitting_id: str,
    pair: int,
    version: int,
    cause: str,
    words: str,
) -> None:
    """Have a pair made again for a cause (a key of CAUSES). The pair's state follows by the rules of its
    life.
    """
    if cause not in CAUSES:
        raise NotStorable("Choose the cause of the remake from the list.")
    if cause == "other" and not words.strip():
        raise NotStorable("Say in words why it is made again.")
    row = {
        "identity": new_identity(),
        "pair": pair,
        "version": version,
        "cause": cause,
        "words": text_of(words.strip(), what="note", longest=NOTE),
    }

    def also(connection: Connection, fitting_row: int) -> dict[str, str]:
        by = {"account": actor.account, "by": actor.name, "at": now()}
        connection.execute(insert(REMAKE), {**row, "fitting_id": fitting_row, **by})
        return {}

    said = f"{CAUSES[cause]}. {row['words']}".strip()
    change = PairChange(fitting_id=fitting_id, pair=pair, state="remake", words=said, cause=cause)
    change_pair(database, key=key, actor=actor, change=change, also=also)


def remakes_of(database: Database, fitting_id: str) -> tuple[Remake, ...]:
    """Every remake of a fitting's pairs, the oldest first."""
    with database.read() as connection:
        rows = connection.execute(_OF_FITTING, {"fitting_row": row_of(connection, fitting_id)}).all()
    return tuple(
        Remake(pair=one.pair, version=one.version, cause=one.cause, words=one.words, by=one.by, at=one.at)
        for one in rows
    )

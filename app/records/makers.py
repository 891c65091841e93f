"""The address book of makers: frame makers and lens labs, what each wants and how it is sent; every version
kept.
"""

from dataclasses import dataclass

from sqlalchemy import Connection, Row, bindparam, func, insert, select

from app.records.actor import Actor
from app.records.database import Database
from app.records.errors import Conflict, NotFound, NotStorable
from app.records.identity import new_identity, now
from app.records.requests import Answer, Request, write_once
from app.records.rights import require
from app.records.storable import text_of
from app.records.tables import naming as wide
from app.records.tables.bench import MAKER_VERSION

KINDS: dict[str, str] = {"frame_maker": "Frame maker", "lens_lab": "Lens lab"}
WANTS: dict[str, str] = {
    "sheet": "Order sheet",
    "drawing": "Drawing at 1:1",
    "cutting_file": "Cutting file (DXF)",
    "lab_message": "Lab message",
    "tracing": "Tracing on paper",
    "sample": "Colour sample",
}
WAYS: dict[str, str] = {
    "post": "Post",
    "courier": "Courier",
    "email": "Secure mail",
    "upload": "Upload to the maker",
    "by_hand": "By hand",
}
MOST_DAYS = 365

_OTHER = MAKER_VERSION.alias("other")
_NEWEST = select(MAKER_VERSION).where(
    MAKER_VERSION.c.number
    == select(func.max(_OTHER.c.number)).where(_OTHER.c.maker == MAKER_VERSION.c.maker).scalar_subquery()
)
_ONE = _NEWEST.where(MAKER_VERSION.c.maker == bindparam("wanted"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Maker:
    """An entry of the address book. `usual_days` is how long an order usually takes."""

    kind: str
    name: str
    wants: tuple[str, ...] = ()
    way: str = "post"
    address: str = ""
    telephone: str = ""
    email: str = ""
    usual_days: int | None = None
    note: str = ""
    active: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class MakerEntry:
    """An entry with its identity and version."""

    maker_id: str
    version: int
    maker: Maker


def save_maker(
    database: Database,
    *,
    key: str,
    actor: Actor,
    maker: Maker,
    maker_id: str | None = None,
    base_version: int = 0,
) -> str:
    """Keep an entry, new or changed from `base_version`; gives its identity. Conflict where somebody was
    first.
    """
    require(actor, "keep the address book")
    row = _row(maker)
    wish = Request(key=key, actor=actor, action="save_maker", body=[maker, maker_id, base_version])

    def work(connection: Connection) -> Answer:
        identity = maker_id or new_identity()
        if maker_id is not None:
            there = connection.execute(_ONE, {"wanted": maker_id}).first()
            if there is None:
                raise NotFound("maker")
            if there.number != base_version:
                raise Conflict({})
        by = {"account": actor.account, "by": actor.name, "at": now()}
        connection.execute(
            insert(MAKER_VERSION), {"maker": identity, "number": base_version + 1, **row, **by}
        )
        return {"maker": identity}

    return str(write_once(database, wish, work).answer["maker"])


def load_maker(database: Database, maker_id: str) -> MakerEntry:
    """The entry of that identity."""
    with database.read() as connection:
        row = connection.execute(_ONE, {"wanted": maker_id}).first()
    if row is None:
        raise NotFound("maker")
    return _entry(row)


def list_makers(database: Database, *, also_inactive: bool = False) -> tuple[MakerEntry, ...]:
    """The address book by name."""
    with database.read() as connection:
        rows = connection.execute(_NEWEST.order_by(MAKER_VERSION.c.kind, MAKER_VERSION.c.name)).all()
    return tuple(_entry(row) for row in rows if row.active or also_inactive)


def _row(maker: Maker) -> dict[str, object]:
    if maker.kind not in KINDS or maker.way not in WAYS or not set(maker.wants) <= set(WANTS):
        raise NotStorable(
            "Choose from the lists: a frame maker or a lens lab, what it wants, how it is sent."
        )
    if not maker.name.strip():
        raise NotStorable("Give the maker's name.")
    if maker.usual_days is not None and not 1 <= maker.usual_days <= MOST_DAYS:
        raise NotStorable(f"The usual time lies from 1 to {MOST_DAYS} days.")
    return {
        "kind": maker.kind,
        "name": text_of(maker.name.strip(), what="name", longest=wide.NAME),
        "wants": ",".join(maker.wants),
        "way": maker.way,
        "address": text_of(maker.address, what="address", longest=wide.NOTE),
        "telephone": text_of(maker.telephone, what="telephone", longest=wide.SHORT),
        "email": text_of(maker.email, what="mail address", longest=wide.NAME),
        "usual_days": maker.usual_days,
        "note": text_of(maker.note, what="note", longest=wide.NOTE),
        "active": maker.active,
    }


def _entry(row: Row[tuple[object, ...]]) -> MakerEntry:
    return MakerEntry(
        maker_id=row.maker,
        version=row.number,
        maker=Maker(
            kind=row.kind,
            name=row.name,
            wants=tuple(part for part in row.wants.split(",") if part),
            way=row.way,
            address=row.address,
            telephone=row.telephone,
            email=row.email,
            usual_days=row.usual_days,
            note=row.note,
            active=row.active,
        ),
    )

"""What every write to a fitting begins with: finding its row, open, and counting the write."""

from sqlalchemy import Connection, bindparam, select, update

from app.records.errors import Frozen, NotFound
from app.records.tables.fittings import FITTING

_COUNT_IF_OPEN = (
    update(FITTING)
    .where(FITTING.c.identity == bindparam("fitting"), FITTING.c.state == "open")
    .values(revision=FITTING.c.revision + 1)
    .returning(FITTING.c.id)
)
_COUNT = (
    update(FITTING)
    .where(FITTING.c.identity == bindparam("fitting"))
    .values(revision=FITTING.c.revision + 1)
    .returning(FITTING.c.id)
)
_ANY = select(FITTING.c.id).where(FITTING.c.identity == bindparam("fitting"))


def open_row(connection: Connection, fitting_id: str) -> int:
    """Row of a fitting that may be written to, counted as written. Raises Frozen where it is signed off.

    Counting first also makes two writers to one fitting wait for each other on a database with row locks.
    """
    row: int | None = connection.execute(_COUNT_IF_OPEN, {"fitting": fitting_id}).scalar()
    if row is None:
        row_of(connection, fitting_id)
        raise Frozen
    return row


def counted_row(connection: Connection, fitting_id: str) -> int:
    """Row of a fitting, open or signed, counted as written."""
    row: int | None = connection.execute(_COUNT, {"fitting": fitting_id}).scalar()
    if row is None:
        raise NotFound("fitting")
    return row


def row_of(connection: Connection, fitting_id: str) -> int:
    """Row of a fitting, open or signed."""
    row: int | None = connection.execute(_ANY, {"fitting": fitting_id}).scalar()
    if row is None:
        raise NotFound("fitting")
    return row

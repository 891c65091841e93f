"""How Alembic reaches the database: through the connection that it is given, else the one in the settings."""

from alembic import context
from sqlalchemy import Connection, create_engine

from app.records.location import Location
from app.records.tables.every import METADATA

OUTSIDE = ("person_search",)
"""Search indexes are made by hand in migrations; the tables that SQLite makes for them are not ours to compare."""


def is_ours(name: str | None, kind: str, _parents: object) -> bool:
    """False for the tables behind the search indexes."""
    return kind != "table" or name is None or not name.startswith(OUTSIDE)


def run(connection: Connection) -> None:
    """Bring the connected database to the wanted form, in its transaction."""
    context.configure(
        connection=connection,
        target_metadata=METADATA,
        include_name=is_ours,
        render_as_batch=True,
        compare_type=True,
        transactional_ddl=True,
    )
    with context.begin_transaction():
        context.run_migrations()


given = context.config.attributes.get("connection")
if given is not None:
    run(given)
else:
    with create_engine(Location().database_url).begin() as ours:
        run(ours)

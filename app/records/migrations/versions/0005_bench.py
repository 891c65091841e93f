"""The bench: makers, orders sent and confirmed, questions, pairs made again.

Revision: 0005, after 0004.
"""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None

APPEND_ONLY = ("maker_version", "dispatch", "acknowledgement", "bench_query", "bench_query_entry", "remake")


def upgrade() -> None:
    """Bring the database to the new form."""
    make_maker_version()
    make_dispatch()
    make_acknowledgement()
    make_bench_query()
    make_bench_query_entry()
    make_remake()
    for table in APPEND_ONLY:
        refuse_changes(table)


def refuse_changes(table: str) -> None:
    """Let the database itself refuse to change or remove a row of an append-only table."""
    for action in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER {table}_no_{action.lower()} BEFORE {action} ON {table} "
            f"BEGIN SELECT raise(ABORT, 'rows of {table} are never changed'); END"
        )


def make_maker_version() -> None:
    """Table of the address book of makers and labs."""
    op.create_table(
        "maker_version",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("maker", sa.String(length=32), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(length=64), nullable=False),
        sa.Column("name", sa.String(length=200), nullable=False),
        sa.Column("wants", sa.String(length=4000), nullable=False),
        sa.Column("way", sa.String(length=64), nullable=False),
        sa.Column("address", sa.String(length=4000), nullable=False),
        sa.Column("telephone", sa.String(length=100), nullable=False),
        sa.Column("email", sa.String(length=200), nullable=False),
        sa.Column("usual_days", sa.Integer(), nullable=True),
        sa.Column("note", sa.String(length=4000), nullable=False),
        sa.Column("active", sa.Boolean(), nullable=False),
        sa.Column("account", sa.String(length=32), nullable=False),
        sa.Column("by", sa.String(length=200), nullable=False),
        sa.Column("at", sa.String(length=32), nullable=False),
        sa.ForeignKeyConstraint(
            ["account"], ["account.identity"], name=op.f("fk_maker_version_account_account")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_maker_version")),
        sa.UniqueConstraint("maker", "number", name=op.f("uq_maker_version_maker_number")),
    )


def make_dispatch() -> None:
    """Table of orders sent."""
    op.create_table(
        "dispatch",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("identity", sa.String(length=32), nullable=False),
        sa.Column("fitting_id", sa.Integer(), nullable=False),
        sa.Column("pair", sa.Integer(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("maker", sa.String(length=32), nullable=False),
        sa.Column("kind", sa.String(length=64), nullable=False),
        sa.Column("name", sa.String(length=200), nullable=False),
        sa.Column("way", sa.String(length=64), nullable=False),
        sa.Column("sent", sa.String(length=4000), nullable=False),
        sa.Column("words", sa.String(length=4000), nullable=False),
        sa.Column("account", sa.String(length=32), nullable=False),
        sa.Column("by", sa.String(length=200), nullable=False),
        sa.Column("at", sa.String(length=32), nullable=False),
        sa.CheckConstraint("pair BETWEEN 1 AND 9", name=op.f("ck_dispatch_pair")),
        sa.ForeignKeyConstraint(["account"], ["account.identity"], name=op.f("fk_dispatch_account_account")),
        sa.ForeignKeyConstraint(["fitting_id"], ["fitting.id"], name=op.f("fk_dispatch_fitting_id_fitting")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_dispatch")),
        sa.UniqueConstraint("identity", name=op.f("uq_dispatch_identity")),
    )
    op.create_index(op.f("ix_dispatch_fitting_id"), "dispatch", ["fitting_id"])
    op.create_index(op.f("ix_dispatch_maker"), "dispatch", ["maker"])


def make_acknowledgement() -> None:
    """Table of orders confirmed."""
    op.create_table(
        "acknowledgement",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("dispatch_id", sa.Integer(), nullable=False),
        sa.Column("promised", sa.String(length=10), nullable=True),
        sa.Column("words", sa.String(length=4000), nullable=False),
        sa.Column("account", sa.String(length=32), nullable=False),
        sa.Column("by", sa.String(length=200), nullable=False),
        sa.Column("at", sa.String(length=32), nullable=False),
        sa.ForeignKeyConstraint(
            ["account"], ["account.identity"], name=op.f("fk_acknowledgement_account_account")
        ),
        sa.ForeignKeyConstraint(
            ["dispatch_id"], ["dispatch.id"], name=op.f("fk_acknowledgement_dispatch_id_dispatch")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_acknowledgement")),
    )
    op.create_index(op.f("ix_acknowledgement_dispatch_id"), "acknowledgement", ["dispatch_id"])


def make_bench_query() -> None:
    """Table of questions from the bench."""
    op.create_table(
        "bench_query",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("identity", sa.String(length=32), nullable=False),
        sa.Column("fitting_id", sa.Integer(), nullable=False),
        sa.Column("pair", sa.Integer(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("dimension", sa.String(length=64), nullable=False),
        sa.Column("value", sa.String(length=4000), nullable=False),
        sa.Column("account", sa.String(length=32), nullable=False),
        sa.Column("by", sa.String(length=200), nullable=False),
        sa.Column("at", sa.String(length=32), nullable=False),
        sa.CheckConstraint("pair BETWEEN 1 AND 9", name=op.f("ck_bench_query_pair")),
        sa.ForeignKeyConstraint(
            ["account"], ["account.identity"], name=op.f("fk_bench_query_account_account")
        ),
        sa.ForeignKeyConstraint(
            ["fitting_id"], ["fitting.id"], name=op.f("fk_bench_query_fitting_id_fitting")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_bench_query")),
        sa.UniqueConstraint("identity", name=op.f("uq_bench_query_identity")),
    )
    op.create_index(op.f("ix_bench_query_fitting_id"), "bench_query", ["fitting_id"])


def make_bench_query_entry() -> None:
    """Table of what was said about a question."""
    op.create_table(
        "bench_query_entry",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("query_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(length=64), nullable=False),
        sa.Column("words", sa.String(length=4000), nullable=False),
        sa.Column("version", sa.Integer(), nullable=True),
        sa.Column("account", sa.String(length=32), nullable=False),
        sa.Column("by", sa.String(length=200), nullable=False),
        sa.Column("at", sa.String(length=32), nullable=False),
        sa.ForeignKeyConstraint(
            ["account"], ["account.identity"], name=op.f("fk_bench_query_entry_account_account")
        ),
        sa.ForeignKeyConstraint(
            ["query_id"], ["bench_query.id"], name=op.f("fk_bench_query_entry_query_id_bench_query")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_bench_query_entry")),
    )
    op.create_index(op.f("ix_bench_query_entry_query_id"), "bench_query_entry", ["query_id"])


def make_remake() -> None:
    """Table of pairs made again."""
    op.create_table(
        "remake",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("identity", sa.String(length=32), nullable=False),
        sa.Column("fitting_id", sa.Integer(), nullable=False),
        sa.Column("pair", sa.Integer(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("cause", sa.String(length=64), nullable=False),
        sa.Column("words", sa.String(length=4000), nullable=False),
        sa.Column("account", sa.String(length=32), nullable=False),
        sa.Column("by", sa.String(length=200), nullable=False),
        sa.Column("at", sa.String(length=32), nullable=False),
        sa.CheckConstraint("pair BETWEEN 1 AND 9", name=op.f("ck_remake_pair")),
        sa.ForeignKeyConstraint(["account"], ["account.identity"], name=op.f("fk_remake_account_account")),
        sa.ForeignKeyConstraint(["fitting_id"], ["fitting.id"], name=op.f("fk_remake_fitting_id_fitting")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_remake")),
        sa.UniqueConstraint("identity", name=op.f("uq_remake_identity")),
    )
    op.create_index(op.f("ix_remake_fitting_id"), "remake", ["fitting_id"])

"""Pairs: what happens to each of the two after sign-off.

Revision: 0003, after 0002.
"""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

APPEND_ONLY = ("pair_event",)


def upgrade() -> None:
    """Bring the database to the new form."""
    make_pair_events()
    for table in APPEND_ONLY:
        refuse_changes(table)


def refuse_changes(table: str) -> None:
    """Let the database itself refuse to change or remove a row of an append-only table."""
    for action in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER {table}_no_{action.lower()} BEFORE {action} ON {table} "
            f"BEGIN SELECT raise(ABORT, 'rows of {table} are never changed'); END"
        )


def make_pair_events() -> None:
    """What happened to each pair."""
    op.create_table(
        "pair_event",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("identity", sa.String(length=32), nullable=False),
        sa.Column("fitting_id", sa.Integer(), nullable=False),
        sa.Column("pair", sa.Integer(), nullable=False),
        sa.Column("state", sa.String(length=64), nullable=False),
        sa.Column("words", sa.String(length=4000), nullable=False),
        sa.Column("promised", sa.String(length=10), nullable=True),
        sa.Column("account", sa.String(length=32), nullable=False),
        sa.Column("by", sa.String(length=200), nullable=False),
        sa.Column("at", sa.String(length=32), nullable=False),
        sa.CheckConstraint("pair BETWEEN 1 AND 9", name=op.f("ck_pair_event_pair")),
        sa.ForeignKeyConstraint(
            ["account"], ["account.identity"], name=op.f("fk_pair_event_account_account")
        ),
        sa.ForeignKeyConstraint(
            ["fitting_id"], ["fitting.id"], name=op.f("fk_pair_event_fitting_id_fitting")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_pair_event")),
        sa.UniqueConstraint("identity", name=op.f("uq_pair_event_identity")),
    )
    op.create_index(op.f("ix_pair_event_fitting_id"), "pair_event", ["fitting_id"])

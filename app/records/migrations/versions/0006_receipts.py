"""What came back: measured values, decisions, what was adjusted and handed over.

Revision: 0006, after 0005.
"""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None

APPEND_ONLY = ("receipt_value", "receipt_decision", "collection", "adjusted_value")


def upgrade() -> None:
    """Bring the database to the new form."""
    make_receipt_value()
    make_receipt_decision()
    make_collection()
    make_adjusted_value()
    for table in APPEND_ONLY:
        refuse_changes(table)


def refuse_changes(table: str) -> None:
    """Let the database itself refuse to change or remove a row of an append-only table."""
    for action in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER {table}_no_{action.lower()} BEFORE {action} ON {table} "
            f"BEGIN SELECT raise(ABORT, 'rows of {table} are never changed'); END"
        )


def make_receipt_value() -> None:
    """Table of values measured on what came back."""
    op.create_table(
        "receipt_value",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("fitting_id", sa.Integer(), nullable=False),
        sa.Column("pair", sa.Integer(), nullable=False),
        sa.Column("arrival", sa.Integer(), nullable=False),
        sa.Column("item", sa.String(length=64), nullable=False),
        sa.Column("side", sa.String(length=1), nullable=True),
        sa.Column("parts", sa.Integer(), nullable=True),
        sa.Column("text", sa.String(length=100), nullable=False),
        sa.Column("account", sa.String(length=32), nullable=False),
        sa.Column("by", sa.String(length=200), nullable=False),
        sa.Column("at", sa.String(length=32), nullable=False),
        sa.CheckConstraint("pair BETWEEN 1 AND 9", name=op.f("ck_receipt_value_pair")),
        sa.ForeignKeyConstraint(
            ["account"], ["account.identity"], name=op.f("fk_receipt_value_account_account")
        ),
        sa.ForeignKeyConstraint(
            ["fitting_id"], ["fitting.id"], name=op.f("fk_receipt_value_fitting_id_fitting")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_receipt_value")),
    )
    op.create_index(op.f("ix_receipt_value_fitting_id"), "receipt_value", ["fitting_id"])


def make_receipt_decision() -> None:
    """Table of decisions on what came back."""
    op.create_table(
        "receipt_decision",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("identity", sa.String(length=32), nullable=False),
        sa.Column("fitting_id", sa.Integer(), nullable=False),
        sa.Column("pair", sa.Integer(), nullable=False),
        sa.Column("arrival", sa.Integer(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("outcome", sa.String(length=64), nullable=False),
        sa.Column("standard", sa.String(length=64), nullable=False),
        sa.Column("reason", sa.String(length=4000), nullable=False),
        sa.Column("document", sa.Text(), nullable=False),
        sa.Column("frame_maker", sa.String(length=32), nullable=True),
        sa.Column("lens_maker", sa.String(length=32), nullable=True),
        sa.Column("account", sa.String(length=32), nullable=False),
        sa.Column("by", sa.String(length=200), nullable=False),
        sa.Column("at", sa.String(length=32), nullable=False),
        sa.CheckConstraint("pair BETWEEN 1 AND 9", name=op.f("ck_receipt_decision_pair")),
        sa.ForeignKeyConstraint(
            ["account"], ["account.identity"], name=op.f("fk_receipt_decision_account_account")
        ),
        sa.ForeignKeyConstraint(
            ["fitting_id"], ["fitting.id"], name=op.f("fk_receipt_decision_fitting_id_fitting")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_receipt_decision")),
        sa.UniqueConstraint("identity", name=op.f("uq_receipt_decision_identity")),
    )
    op.create_index(op.f("ix_receipt_decision_fitting_id"), "receipt_decision", ["fitting_id"])
    op.create_index(op.f("ix_receipt_decision_frame_maker"), "receipt_decision", ["frame_maker"])
    op.create_index(op.f("ix_receipt_decision_lens_maker"), "receipt_decision", ["lens_maker"])


def make_collection() -> None:
    """Table of pairs handed over."""
    op.create_table(
        "collection",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("identity", sa.String(length=32), nullable=False),
        sa.Column("fitting_id", sa.Integer(), nullable=False),
        sa.Column("pair", sa.Integer(), nullable=False),
        sa.Column("practitioner", sa.String(length=200), nullable=False),
        sa.Column("received_by", sa.String(length=200), nullable=False),
        sa.Column("checks", sa.String(length=4000), nullable=False),
        sa.Column("advice", sa.String(length=4000), nullable=False),
        sa.Column("words", sa.String(length=4000), nullable=False),
        sa.Column("account", sa.String(length=32), nullable=False),
        sa.Column("by", sa.String(length=200), nullable=False),
        sa.Column("at", sa.String(length=32), nullable=False),
        sa.CheckConstraint("pair BETWEEN 1 AND 9", name=op.f("ck_collection_pair")),
        sa.ForeignKeyConstraint(
            ["account"], ["account.identity"], name=op.f("fk_collection_account_account")
        ),
        sa.ForeignKeyConstraint(
            ["fitting_id"], ["fitting.id"], name=op.f("fk_collection_fitting_id_fitting")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_collection")),
        sa.UniqueConstraint("identity", name=op.f("uq_collection_identity")),
    )
    op.create_index(op.f("ix_collection_fitting_id"), "collection", ["fitting_id"])


def make_adjusted_value() -> None:
    """Table of what was adjusted."""
    op.create_table(
        "adjusted_value",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("collection_id", sa.Integer(), nullable=False),
        sa.Column("item", sa.String(length=64), nullable=False),
        sa.Column("side", sa.String(length=1), nullable=True),
        sa.Column("parts", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["collection_id"], ["collection.id"], name=op.f("fk_adjusted_value_collection_id_collection")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_adjusted_value")),
    )
    op.create_index(op.f("ix_adjusted_value_collection_id"), "adjusted_value", ["collection_id"])

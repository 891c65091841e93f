"""Contacts: calls, messages and checks of identity at the desk.

Revision: 0004, after 0003.
"""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None

APPEND_ONLY = ("contact",)


def upgrade() -> None:
    """Bring the database to the new form."""
    make_contacts()
    for table in APPEND_ONLY:
        refuse_changes(table)


def refuse_changes(table: str) -> None:
    """Let the database itself refuse to change or remove a row of an append-only table."""
    for action in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER {table}_no_{action.lower()} BEFORE {action} ON {table} "
            f"BEGIN SELECT raise(ABORT, 'rows of {table} are never changed'); END"
        )


def make_contacts() -> None:
    """What was said with whom."""
    op.create_table(
        "contact",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("identity", sa.String(length=32), nullable=False),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.String(length=64), nullable=False),
        sa.Column("words", sa.String(length=4000), nullable=False),
        sa.Column("account", sa.String(length=32), nullable=False),
        sa.Column("by", sa.String(length=200), nullable=False),
        sa.Column("at", sa.String(length=32), nullable=False),
        sa.ForeignKeyConstraint(["account"], ["account.identity"], name=op.f("fk_contact_account_account")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_contact_person_id_person")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_contact")),
        sa.UniqueConstraint("identity", name=op.f("uq_contact_identity")),
    )
    op.create_index(op.f("ix_contact_person_id"), "contact", ["person_id"])

"""Fittings: readings, fields, answers and signed versions.

Revision: 0002, after 0001.
"""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

APPEND_ONLY = (
    "field_version",
    "finding_answer",
    "signed_version",
    "reopening",
    "reading",
    "reading_error",
    "acceptance",
    "not_taken",
    "withdrawal",
)


def upgrade() -> None:
    """Bring the database to the new form."""
    make_fittings()
    make_fields()
    make_readings()
    make_reasons()
    make_answers_and_versions()
    for table in APPEND_ONLY:
        refuse_changes(table)


def refuse_changes(table: str) -> None:
    """Let the database itself refuse to change or remove a row of an append-only table."""
    for action in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER {table}_no_{action.lower()} BEFORE {action} ON {table} "
            f"BEGIN SELECT raise(ABORT, 'rows of {table} are never changed'); END"
        )


def make_fittings() -> None:
    """The visits."""
    op.create_table(
        "fitting",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("identity", sa.String(length=32), nullable=False),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("sequence", sa.Integer(), nullable=False),
        sa.Column("state", sa.String(length=64), nullable=False),
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("taken_on", sa.String(length=10), nullable=False),
        sa.Column("taken_by", sa.String(length=200), nullable=True),
        sa.Column("taken_role", sa.String(length=64), nullable=True),
        sa.Column("from_paper", sa.Boolean(), nullable=False),
        sa.Column("account", sa.String(length=32), nullable=False),
        sa.Column("at", sa.String(length=32), nullable=False),
        sa.CheckConstraint("state IN ('open', 'signed')", name=op.f("ck_fitting_state")),
        sa.ForeignKeyConstraint(["account"], ["account.identity"], name=op.f("fk_fitting_account_account")),
        sa.ForeignKeyConstraint(["person_id"], ["person.id"], name=op.f("fk_fitting_person_id_person")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_fitting")),
        sa.UniqueConstraint("identity", name=op.f("uq_fitting_identity")),
        sa.UniqueConstraint("person_id", "sequence", name=op.f("uq_fitting_person_id_sequence")),
    )
    op.create_index(op.f("ix_fitting_state"), "fitting", ["state"])


def make_fields() -> None:
    """What was answered or chosen, as it stands and in every version."""
    op.create_table(
        "field",
        sa.Column("fitting_id", sa.Integer(), nullable=False),
        sa.Column("path", sa.String(length=120), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("text", sa.String(length=4000), nullable=True),
        sa.Column("by", sa.String(length=200), nullable=False),
        sa.Column("at", sa.String(length=32), nullable=False),
        sa.ForeignKeyConstraint(["fitting_id"], ["fitting.id"], name=op.f("fk_field_fitting_id_fitting")),
        sa.PrimaryKeyConstraint("fitting_id", "path", name=op.f("pk_field")),
        sqlite_with_rowid=False,
    )
    op.create_table(
        "field_version",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("fitting_id", sa.Integer(), nullable=False),
        sa.Column("path", sa.String(length=120), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("text", sa.String(length=4000), nullable=True),
        sa.Column("account", sa.String(length=32), nullable=False),
        sa.Column("by", sa.String(length=200), nullable=False),
        sa.Column("at", sa.String(length=32), nullable=False),
        sa.ForeignKeyConstraint(
            ["account"], ["account.identity"], name=op.f("fk_field_version_account_account")
        ),
        sa.ForeignKeyConstraint(
            ["fitting_id"], ["fitting.id"], name=op.f("fk_field_version_fitting_id_fitting")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_field_version")),
        sa.UniqueConstraint(
            "fitting_id", "path", "version", name=op.f("uq_field_version_fitting_id_path_version")
        ),
    )
    op.create_table(
        "draft",
        sa.Column("account", sa.String(length=32), nullable=False),
        sa.Column("fitting_id", sa.Integer(), nullable=False),
        sa.Column("field", sa.String(length=120), nullable=False),
        sa.Column("text", sa.String(length=4000), nullable=False),
        sa.Column("at", sa.String(length=32), nullable=False),
        sa.ForeignKeyConstraint(["account"], ["account.identity"], name=op.f("fk_draft_account_account")),
        sa.ForeignKeyConstraint(["fitting_id"], ["fitting.id"], name=op.f("fk_draft_fitting_id_fitting")),
        sa.PrimaryKeyConstraint("account", "fitting_id", "field", name=op.f("pk_draft")),
        sqlite_with_rowid=False,
    )


def make_readings() -> None:
    """What was measured, and what became of each reading."""
    op.create_table(
        "reading",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("identity", sa.String(length=32), nullable=False),
        sa.Column("fitting_id", sa.Integer(), nullable=False),
        sa.Column("measurement", sa.String(length=64), nullable=False),
        sa.Column("value_parts", sa.Integer(), nullable=False),
        sa.Column("text", sa.String(length=200), nullable=False),
        sa.Column("side", sa.String(length=1), nullable=True),
        sa.Column("method", sa.String(length=64), nullable=True),
        sa.Column("condition", sa.String(length=64), nullable=True),
        sa.Column("instrument", sa.String(length=200), nullable=True),
        sa.Column("pair", sa.Integer(), nullable=True),
        sa.Column("note", sa.String(length=4000), nullable=True),
        sa.Column("source", sa.String(length=64), nullable=False),
        sa.Column("proposed", sa.Boolean(), nullable=False),
        sa.Column("replaces", sa.String(length=32), nullable=True),
        sa.Column("account", sa.String(length=32), nullable=False),
        sa.Column("by", sa.String(length=200), nullable=False),
        sa.Column("role", sa.String(length=64), nullable=False),
        sa.Column("at", sa.String(length=32), nullable=False),
        sa.CheckConstraint("side IN ('R', 'L')", name=op.f("ck_reading_side")),
        sa.CheckConstraint("pair BETWEEN 1 AND 9", name=op.f("ck_reading_pair")),
        sa.CheckConstraint("value_parts BETWEEN -1000000000 AND 1000000000", name=op.f("ck_reading_value")),
        sa.ForeignKeyConstraint(["account"], ["account.identity"], name=op.f("fk_reading_account_account")),
        sa.ForeignKeyConstraint(["fitting_id"], ["fitting.id"], name=op.f("fk_reading_fitting_id_fitting")),
        sa.ForeignKeyConstraint(["replaces"], ["reading.identity"], name=op.f("fk_reading_replaces_reading")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_reading")),
        sa.UniqueConstraint("identity", name=op.f("uq_reading_identity")),
    )
    op.create_index(op.f("ix_reading_fitting_id"), "reading", ["fitting_id"])
    op.create_table(
        "reading_error",
        sa.Column("reading_id", sa.Integer(), nullable=False),
        sa.Column("reason", sa.String(length=4000), nullable=False),
        sa.Column("account", sa.String(length=32), nullable=False),
        sa.Column("by", sa.String(length=200), nullable=False),
        sa.Column("at", sa.String(length=32), nullable=False),
        sa.ForeignKeyConstraint(
            ["account"], ["account.identity"], name=op.f("fk_reading_error_account_account")
        ),
        sa.ForeignKeyConstraint(
            ["reading_id"], ["reading.id"], name=op.f("fk_reading_error_reading_id_reading")
        ),
        sa.PrimaryKeyConstraint("reading_id", name=op.f("pk_reading_error")),
    )
    op.create_table(
        "acceptance",
        sa.Column("reading_id", sa.Integer(), nullable=False),
        sa.Column("account", sa.String(length=32), nullable=False),
        sa.Column("by", sa.String(length=200), nullable=False),
        sa.Column("at", sa.String(length=32), nullable=False),
        sa.ForeignKeyConstraint(
            ["account"], ["account.identity"], name=op.f("fk_acceptance_account_account")
        ),
        sa.ForeignKeyConstraint(
            ["reading_id"], ["reading.id"], name=op.f("fk_acceptance_reading_id_reading")
        ),
        sa.PrimaryKeyConstraint("reading_id", name=op.f("pk_acceptance")),
    )


def make_reasons() -> None:
    """What was left out and why."""
    op.create_table(
        "not_taken",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("fitting_id", sa.Integer(), nullable=False),
        sa.Column("measurement", sa.String(length=64), nullable=False),
        sa.Column("side", sa.String(length=1), nullable=True),
        sa.Column("pair", sa.Integer(), nullable=True),
        sa.Column("reason", sa.String(length=64), nullable=False),
        sa.Column("detail", sa.String(length=4000), nullable=True),
        sa.Column("account", sa.String(length=32), nullable=False),
        sa.Column("by", sa.String(length=200), nullable=False),
        sa.Column("at", sa.String(length=32), nullable=False),
        sa.ForeignKeyConstraint(["account"], ["account.identity"], name=op.f("fk_not_taken_account_account")),
        sa.ForeignKeyConstraint(["fitting_id"], ["fitting.id"], name=op.f("fk_not_taken_fitting_id_fitting")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_not_taken")),
    )
    op.create_index(op.f("ix_not_taken_fitting_id"), "not_taken", ["fitting_id"])
    op.create_table(
        "withdrawal",
        sa.Column("not_taken_id", sa.Integer(), nullable=False),
        sa.Column("account", sa.String(length=32), nullable=False),
        sa.Column("by", sa.String(length=200), nullable=False),
        sa.Column("at", sa.String(length=32), nullable=False),
        sa.ForeignKeyConstraint(
            ["account"], ["account.identity"], name=op.f("fk_withdrawal_account_account")
        ),
        sa.ForeignKeyConstraint(
            ["not_taken_id"], ["not_taken.id"], name=op.f("fk_withdrawal_not_taken_id_not_taken")
        ),
        sa.PrimaryKeyConstraint("not_taken_id", name=op.f("pk_withdrawal")),
    )


def make_answers_and_versions() -> None:
    """Answers to findings, signed versions and reopenings."""
    op.create_table(
        "finding_answer",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("fitting_id", sa.Integer(), nullable=False),
        sa.Column("check", sa.String(length=64), nullable=False),
        sa.Column("fingerprint", sa.String(length=4000), nullable=False),
        sa.Column("kind", sa.String(length=64), nullable=False),
        sa.Column("words", sa.String(length=4000), nullable=False),
        sa.Column("account", sa.String(length=32), nullable=False),
        sa.Column("by", sa.String(length=200), nullable=False),
        sa.Column("at", sa.String(length=32), nullable=False),
        sa.ForeignKeyConstraint(
            ["account"], ["account.identity"], name=op.f("fk_finding_answer_account_account")
        ),
        sa.ForeignKeyConstraint(
            ["fitting_id"], ["fitting.id"], name=op.f("fk_finding_answer_fitting_id_fitting")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_finding_answer")),
    )
    op.create_index(op.f("ix_finding_answer_fitting_id"), "finding_answer", ["fitting_id"])
    op.create_table(
        "signed_version",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("fitting_id", sa.Integer(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("name", sa.String(length=200), nullable=False),
        sa.Column("registration", sa.String(length=100), nullable=False),
        sa.Column("reason", sa.String(length=4000), nullable=True),
        sa.Column("document", sa.Text(), nullable=False),
        sa.Column("document_sha256", sa.String(length=64), nullable=False),
        sa.Column("account", sa.String(length=32), nullable=False),
        sa.Column("at", sa.String(length=32), nullable=False),
        sa.ForeignKeyConstraint(
            ["account"], ["account.identity"], name=op.f("fk_signed_version_account_account")
        ),
        sa.ForeignKeyConstraint(
            ["fitting_id"], ["fitting.id"], name=op.f("fk_signed_version_fitting_id_fitting")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_signed_version")),
        sa.UniqueConstraint("fitting_id", "number", name=op.f("uq_signed_version_fitting_id_number")),
    )
    op.create_index(op.f("ix_signed_version_at"), "signed_version", ["at"])
    op.create_table(
        "reopening",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("fitting_id", sa.Integer(), nullable=False),
        sa.Column("after_number", sa.Integer(), nullable=False),
        sa.Column("reason", sa.String(length=4000), nullable=False),
        sa.Column("account", sa.String(length=32), nullable=False),
        sa.Column("by", sa.String(length=200), nullable=False),
        sa.Column("at", sa.String(length=32), nullable=False),
        sa.ForeignKeyConstraint(["account"], ["account.identity"], name=op.f("fk_reopening_account_account")),
        sa.ForeignKeyConstraint(["fitting_id"], ["fitting.id"], name=op.f("fk_reopening_fitting_id_fitting")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_reopening")),
    )
    op.create_index(op.f("ix_reopening_fitting_id"), "reopening", ["fitting_id"])

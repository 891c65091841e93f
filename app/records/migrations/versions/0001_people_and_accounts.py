"""The first tables: accounts, sign-ins, answered requests, people and the practice's settings.

Revision: 0001.
"""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

APPEND_ONLY = ("person_version", "settings_version")


def upgrade() -> None:
    """Bring the database to the new form."""
    make_accounts()
    make_requests()
    make_people()
    make_settings()
    make_search_index()
    for table in APPEND_ONLY:
        refuse_changes(table)


def refuse_changes(table: str) -> None:
    """Let the database itself refuse to change or remove a row of an append-only table."""
    for action in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER {table}_no_{action.lower()} BEFORE {action} ON {table} "
            f"BEGIN SELECT raise(ABORT, 'rows of {table} are never changed'); END"
        )


def make_accounts() -> None:
    """Who may sign in, and from where."""
    op.create_table(
        "account",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("identity", sa.String(length=32), nullable=False),
        sa.Column("sign_in", sa.String(length=100), nullable=False),
        sa.Column("name", sa.String(length=200), nullable=False),
        sa.Column("role", sa.String(length=64), nullable=False),
        sa.Column("registration", sa.String(length=100), nullable=True),
        sa.Column("passphrase_hash", sa.String(length=200), nullable=True),
        sa.Column("active", sa.Boolean(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("at", sa.String(length=32), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_account")),
        sa.UniqueConstraint("identity", name=op.f("uq_account_identity")),
        sa.UniqueConstraint("sign_in", name=op.f("uq_account_sign_in")),
    )
    op.create_table(
        "session",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("token_sha256", sa.String(length=64), nullable=False),
        sa.Column("account", sa.String(length=32), nullable=False),
        sa.Column("tablet", sa.String(length=200), nullable=False),
        sa.Column("started_at", sa.String(length=32), nullable=False),
        sa.Column("seen_at", sa.String(length=32), nullable=False),
        sa.Column("ended_at", sa.String(length=32), nullable=True),
        sa.ForeignKeyConstraint(["account"], ["account.identity"], name=op.f("fk_session_account_account")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_session")),
        sa.UniqueConstraint("token_sha256", name=op.f("uq_session_token_sha256")),
    )
    op.create_index(op.f("ix_session_account"), "session", ["account"])
    op.create_table(
        "api_token",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("identity", sa.String(length=32), nullable=False),
        sa.Column("token_sha256", sa.String(length=64), nullable=False),
        sa.Column("account", sa.String(length=32), nullable=False),
        sa.Column("name", sa.String(length=200), nullable=False),
        sa.Column("at", sa.String(length=32), nullable=False),
        sa.Column("ended_at", sa.String(length=32), nullable=True),
        sa.ForeignKeyConstraint(["account"], ["account.identity"], name=op.f("fk_api_token_account_account")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_api_token")),
        sa.UniqueConstraint("identity", name=op.f("uq_api_token_identity")),
        sa.UniqueConstraint("token_sha256", name=op.f("uq_api_token_token_sha256")),
    )
    op.create_index(op.f("ix_api_token_account"), "api_token", ["account"])


def make_requests() -> None:
    """What was answered to which request."""
    op.create_table(
        "request",
        sa.Column("key", sa.String(length=128), nullable=False),
        sa.Column("account", sa.String(length=32), nullable=True),
        sa.Column("action", sa.String(length=64), nullable=False),
        sa.Column("body_sha256", sa.String(length=64), nullable=False),
        sa.Column("answer", sa.Text(), nullable=False),
        sa.Column("at", sa.String(length=32), nullable=False),
        sa.PrimaryKeyConstraint("key", name=op.f("pk_request")),
        sqlite_with_rowid=False,
    )


def make_people() -> None:
    """People, and every version of their details."""
    op.create_table(
        "person",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("identity", sa.String(length=32), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("reference", sa.String(length=100), nullable=False),
        sa.Column("family_name", sa.String(length=200), nullable=False),
        sa.Column("given_name", sa.String(length=200), nullable=False),
        sa.Column("preferred_name", sa.String(length=200), nullable=False),
        sa.Column("born", sa.String(length=10), nullable=True),
        sa.Column("sex", sa.String(length=1), nullable=True),
        sa.Column("telephone", sa.String(length=100), nullable=False),
        sa.Column("email", sa.String(length=200), nullable=False),
        sa.Column("address_line", sa.String(length=200), nullable=False),
        sa.Column("contact_channel", sa.String(length=64), nullable=False),
        sa.Column("leave_message", sa.Boolean(), nullable=False),
        sa.Column("permission_to_speak", sa.String(length=200), nullable=False),
        sa.Column("registered_sight_impaired", sa.Boolean(), nullable=False),
        sa.Column("note", sa.String(length=4000), nullable=False),
        sa.Column("account", sa.String(length=32), nullable=False),
        sa.Column("by", sa.String(length=200), nullable=False),
        sa.Column("at", sa.String(length=32), nullable=False),
        sa.Column("search_text", sa.String(length=4000), nullable=False),
        sa.Column("search_family", sa.String(length=400), nullable=False),
        sa.Column("search_given", sa.String(length=400), nullable=False),
        sa.Column("search_reference", sa.String(length=100), nullable=False),
        sa.Column("search_telephone", sa.String(length=100), nullable=False),
        sa.ForeignKeyConstraint(["account"], ["account.identity"], name=op.f("fk_person_account_account")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_person")),
        sa.UniqueConstraint("identity", name=op.f("uq_person_identity")),
        sa.UniqueConstraint("search_reference", name=op.f("uq_person_search_reference")),
    )
    op.create_index(op.f("ix_person_born"), "person", ["born"])
    op.create_index(op.f("ix_person_search_family"), "person", ["search_family"])
    op.create_index(op.f("ix_person_search_given"), "person", ["search_given"])
    op.create_index(op.f("ix_person_search_telephone"), "person", ["search_telephone"])
    op.create_table(
        "person_version",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("person_id", sa.Integer(), nullable=False),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("document", sa.Text(), nullable=False),
        sa.Column("account", sa.String(length=32), nullable=False),
        sa.Column("by", sa.String(length=200), nullable=False),
        sa.Column("at", sa.String(length=32), nullable=False),
        sa.ForeignKeyConstraint(
            ["account"], ["account.identity"], name=op.f("fk_person_version_account_account")
        ),
        sa.ForeignKeyConstraint(
            ["person_id"], ["person.id"], name=op.f("fk_person_version_person_id_person")
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_person_version")),
        sa.UniqueConstraint("person_id", "version", name=op.f("uq_person_version_person_id_version")),
    )


def make_settings() -> None:
    """Versions of the practice's settings."""
    op.create_table(
        "settings_version",
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("document", sa.Text(), nullable=False),
        sa.Column("account", sa.String(length=32), nullable=False),
        sa.Column("by", sa.String(length=200), nullable=False),
        sa.Column("at", sa.String(length=32), nullable=False),
        sa.ForeignKeyConstraint(
            ["account"], ["account.identity"], name=op.f("fk_settings_version_account_account")
        ),
        sa.PrimaryKeyConstraint("number", name=op.f("pk_settings_version")),
    )


def make_search_index() -> None:
    """Three-letter pieces of the normalised text, kept in step by the database itself.

    The text is normalised before it comes here: the index's own folding of accents needs SQLite 3.45.
    """
    op.execute(
        "CREATE VIRTUAL TABLE person_search USING fts5("
        "search_text, content='person', content_rowid='id', tokenize='trigram')"
    )
    forget = (
        "INSERT INTO person_search (person_search, rowid, search_text) "
        "VALUES ('delete', old.id, old.search_text);"
    )
    learn = "INSERT INTO person_search (rowid, search_text) VALUES (new.id, new.search_text);"
    op.execute(f"CREATE TRIGGER person_search_insert AFTER INSERT ON person BEGIN {learn} END")
    op.execute(f"CREATE TRIGGER person_search_delete AFTER DELETE ON person BEGIN {forget} END")
    op.execute(
        "CREATE TRIGGER person_search_update AFTER UPDATE OF search_text ON person "
        f"BEGIN {forget} {learn} END"
    )

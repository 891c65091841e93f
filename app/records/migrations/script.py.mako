"""${message}.

Policy of migrations
- Named NNNN_what_it_does.py; the revision is NNNN. Two branches that add the same number collide loudly: good.
- Hand-edited after autogenerate: sa.String(length=…) in place of SQLModel's type, no import from the app:
  a migration must still run when the tables it was made for have long changed.
- In batch mode (SQLite cannot alter a table in place). Foreign keys are off while migrating and are checked
  at the end, all in one transaction: after a power cut the database has the old form or the new one.
- Never drop or rewrite a row of an append-only table. A column is dropped one release after its last use.
- No way down: the file is copied before a migration, and the copy is the way back.
- Add the triggers of a new append-only table, and set app/records/migrate.py NEWEST to the new revision.

Revision: ${up_revision}, after ${down_revision | comma,n}. Made ${create_date}.
"""

import sqlalchemy as sa
from alembic import op

revision = ${repr(up_revision)}
down_revision = ${repr(down_revision)}
branch_labels = ${repr(branch_labels)}
depends_on = ${repr(depends_on)}


def upgrade() -> None:
    """Bring the database to the new form."""
    ${upgrades if upgrades else "pass"}

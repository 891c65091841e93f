"""The database's form: made by migrations, equal to the declared tables, and append-only where it must be."""

import sqlite3
from pathlib import Path

import pytest
from alembic import command
from alembic.autogenerate import compare_metadata
from alembic.config import Config
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory

from app.records.database import Database, open_database
from app.records.errors import StoreTooNew
from app.records.migrate import MIGRATIONS, NEWEST, migrate, stored_revision
from app.records.sqlite_engines import migrating_engine
from app.records.tables.every import APPEND_ONLY, METADATA
from tests.records.conftest import url_of

CHANGED_IN_PLACE = {
    "account", "session", "api_token", "request", "person", "fitting", "field", "draft",
}  # fmt: skip


def alembic_config() -> Config:
    """Alembic's configuration as the app uses it."""
    config = Config()
    config.set_main_option("script_location", str(MIGRATIONS))
    return config


def test_the_newest_revision_is_the_one_that_the_app_names() -> None:
    assert ScriptDirectory.from_config(alembic_config()).get_current_head() == NEWEST


def test_an_empty_file_becomes_a_database_of_the_newest_form(tmp_path: Path) -> None:
    file = tmp_path / "practice.sqlite"

    open_database(url_of(file)).close()

    assert stored_revision(file) == NEWEST
    connection = sqlite3.connect(file)
    assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    assert connection.execute("PRAGMA foreign_key_check").fetchall() == []
    connection.close()


def test_migrations_and_declared_tables_agree(practice_file: Path) -> None:
    engine = migrating_engine(url_of(practice_file))
    with engine.begin() as connection:
        config = alembic_config()
        config.attributes["connection"] = connection
        command.check(config)
        context = MigrationContext.configure(
            connection, opts={"include_name": lambda name, kind, _: not str(name).startswith("person_search")}
        )
        assert compare_metadata(context, METADATA) == []
    engine.dispose()


def test_every_migration_runs_alone_from_the_one_before(tmp_path: Path) -> None:
    file = tmp_path / "practice.sqlite"
    engine = migrating_engine(url_of(file))
    for script in reversed(list(ScriptDirectory.from_config(alembic_config()).walk_revisions())):
        with engine.begin() as connection:
            config = alembic_config()
            config.attributes["connection"] = connection
            command.upgrade(config, script.revision)
    engine.dispose()

    assert stored_revision(file) == NEWEST


def test_a_migration_that_breaks_off_leaves_the_old_form(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "practice.sqlite"
    url = url_of(file)
    file.touch()

    def break_off_after_half(connection: object) -> None:
        config = alembic_config()
        config.attributes["connection"] = connection
        command.upgrade(config, "0001")
        raise KeyboardInterrupt

    with monkeypatch.context() as patch:
        patch.setattr("app.records.migrate._upgrade", break_off_after_half)
        with pytest.raises(KeyboardInterrupt):
            migrate(url, file, stored=None)

    assert stored_revision(file) is None
    connection = sqlite3.connect(file)
    assert connection.execute("SELECT count(*) FROM sqlite_schema").fetchone() == (0,)
    connection.close()
    open_database(url).close()
    assert stored_revision(file) == NEWEST


def test_an_older_form_is_copied_before_it_is_migrated(tmp_path: Path) -> None:
    file = tmp_path / "practice.sqlite"
    engine = migrating_engine(url_of(file))
    with engine.begin() as connection:
        config = alembic_config()
        config.attributes["connection"] = connection
        command.upgrade(config, "0001")
    engine.dispose()

    open_database(url_of(file)).close()

    assert stored_revision(file) == NEWEST
    assert stored_revision(tmp_path / f"practice.sqlite.before-{NEWEST}") == "0001"


def test_data_of_a_newer_app_are_refused_untouched(database: Database) -> None:
    file = database.file
    with database.write() as connection:
        connection.exec_driver_sql("UPDATE alembic_version SET version_num = '9999'")
    database.close()

    with pytest.raises(StoreTooNew, match="newer version of Chair to Bench"):
        open_database(url_of(file))

    assert stored_revision(file) == "9999"


def test_every_table_is_either_append_only_or_known_to_change() -> None:
    assert set(METADATA.tables) == set(APPEND_ONLY) | CHANGED_IN_PLACE


@pytest.mark.parametrize("table", APPEND_ONLY)
def test_the_database_itself_refuses_to_change_or_remove_a_row(practice_file: Path, table: str) -> None:
    connection = sqlite3.connect(f"{practice_file.as_uri()}?mode=ro", uri=True)
    triggers = connection.execute(
        "SELECT sql FROM sqlite_schema WHERE type = 'trigger' AND tbl_name = ?", (table,)
    ).fetchall()
    connection.close()

    words = " ".join(sql for (sql,) in triggers)
    assert f"BEFORE UPDATE ON {table} " in words
    assert f"BEFORE DELETE ON {table} " in words
    assert words.count("raise(ABORT") == 2

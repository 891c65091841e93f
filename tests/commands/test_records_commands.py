"""`token`, `account`, `import` and `export`: directly while no server runs, through it while one does."""

import io
import json
import stat
import sys
from collections.abc import Iterator
from contextlib import closing
from multiprocessing import AuthenticationError
from multiprocessing.connection import Client
from pathlib import Path

import pytest

from app.__main__ import main
from app.commands.one_writer import answering_commands
from app.fitting.fitting_file import read_fitting, read_fitting_text
from app.records.accounts import account_named, check_passphrase
from app.records.database import Database, open_database
from app.records.tokens import token_holder

EXAMPLE = Path(__file__).parent.parent / "fitting" / "example.json"
NAME = "A. Practitioner"


@pytest.fixture(autouse=True)
def url(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    monkeypatch.setenv("CHAIR_TO_BENCH_DATA", str(tmp_path))
    return f"sqlite:///{tmp_path / 'chair-to-bench.sqlite'}"


@pytest.fixture
def server(url: str) -> Iterator[Database]:
    """A running server's hold on the records, and its ear for commands."""
    with closing(open_database(url, exclusive=True)) as database, answering_commands(database):
        yield database


def printed(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    assert main(list(arguments)) == 0, capsys.readouterr().err
    return capsys.readouterr().out.strip()


def refused(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    assert main(list(arguments)) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.count("\n") == 1
    return err.strip()


def new_token(capsys: pytest.CaptureFixture[str], role: str = "practitioner") -> str:
    return printed(capsys, "token", "--role", role, "--name", NAME)


def test_a_token_makes_its_account_and_stands_for_it(url: str, capsys: pytest.CaptureFixture[str]) -> None:
    first, second = new_token(capsys), new_token(capsys)

    with closing(open_database(url)) as database:
        holder = token_holder(database, first)
        assert holder is not None
        assert (holder.name, holder.role) == (NAME, "practitioner")
        assert token_holder(database, second) == holder


def test_while_the_server_runs_it_makes_the_token(
    server: Database, capsys: pytest.CaptureFixture[str]
) -> None:
    token = new_token(capsys)

    holder = token_holder(server, token)
    assert holder is not None
    assert holder.name == NAME


def test_a_caller_without_the_secret_is_sent_away_and_the_next_one_heard(
    server: Database, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    way = json.loads((tmp_path / "chair-to-bench.sqlite.commands").read_text())

    with pytest.raises(AuthenticationError):
        Client(way["address"], authkey=b"guessed")

    assert token_holder(server, new_token(capsys)) is not None


def test_the_server_says_no_in_the_same_words(server: Database, capsys: pytest.CaptureFixture[str]) -> None:
    new_token(capsys)

    line = refused(capsys, "token", "--role", "manager", "--name", NAME)

    assert line == f"{NAME} has the role practitioner here, not manager"


def test_the_way_to_the_server_is_its_owners_alone_and_goes_with_it(
    url: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    way = tmp_path / "chair-to-bench.sqlite.commands"
    with closing(open_database(url, exclusive=True)) as database:
        with answering_commands(database):
            assert stat.S_IMODE(way.stat().st_mode) == 0o600

        assert not way.exists()
        assert "already runs on these data" in refused(capsys, "token", "--role", "manager", "--name", "M")


def test_a_fitting_goes_in_and_comes_out(capsys: pytest.CaptureFixture[str]) -> None:
    new_token(capsys)

    identity = printed(capsys, "import", str(EXAMPLE), "--by", NAME)
    exported = read_fitting_text(printed(capsys, "export", identity))

    given = read_fitting(json.loads(EXAMPLE.read_text()))
    assert [(one.measurement, one.value, one.text, one.side) for one in exported.readings] == [
        (one.measurement, one.value, one.text, one.side) for one in given.readings
    ]
    assert (exported.pairs, exported.prescription) == (given.pairs, given.prescription)
    assert (exported.history, exported.cover_test) == (given.history, given.cover_test)
    assert exported.person == given.person


def test_the_same_file_twice_is_one_fitting(server: Database, capsys: pytest.CaptureFixture[str]) -> None:
    new_token(capsys)

    once = printed(capsys, "import", str(EXAMPLE), "--by", NAME)

    assert printed(capsys, "import", str(EXAMPLE), "--by", NAME) == once


def test_a_bad_file_among_good_ones_stores_nothing(
    tmp_path: Path, url: str, capsys: pytest.CaptureFixture[str]
) -> None:
    new_token(capsys)
    good = json.dumps(json.loads(EXAMPLE.read_text()))
    file = tmp_path / "fittings.jsonl"
    file.write_text(f"{good}\n{{}}\n")

    line = refused(capsys, "import", "--lines", str(file), "--by", NAME)

    assert line == "line 2: schema: is missing"
    with closing(open_database(url)) as database, database.read() as connection:
        assert connection.exec_driver_sql("SELECT count(*) FROM fitting").scalar() == 0


def test_a_file_of_somebody_else_among_good_ones_stores_nothing(
    tmp_path: Path, url: str, capsys: pytest.CaptureFixture[str]
) -> None:
    new_token(capsys)
    good = json.loads(EXAMPLE.read_text())
    other = good | {"person": good["person"] | {"born": "1999-01-01"}}
    file = tmp_path / "fittings.jsonl"
    file.write_text(f"{json.dumps(good)}\n\n{json.dumps(other)}\n")

    line = refused(capsys, "import", "--lines", str(file), "--by", NAME)

    assert line.startswith("line 3: person.born: differs from what is held")
    with closing(open_database(url)) as database, database.read() as connection:
        for table in ("fitting", "person"):
            assert connection.exec_driver_sql(f"SELECT count(*) FROM {table}").scalar() == 0


def test_an_assistant_takes_in_no_more_than_on_the_tablet(capsys: pytest.CaptureFixture[str]) -> None:
    printed(capsys, "token", "--role", "assistant", "--name", "Tobi")

    assert "taken by the practitioner" in refused(capsys, "import", str(EXAMPLE), "--by", "Tobi")


def test_who_takes_a_file_in_must_be_known_and_may_have_to_be_a_practitioner(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert refused(capsys, "import", str(EXAMPLE), "--by", "Nobody").startswith(
        "there is no account called Nobody"
    )

    printed(capsys, "token", "--role", "receptionist", "--name", "Wren")
    assert "To enter readings takes a practitioner" in refused(capsys, "import", str(EXAMPLE), "--by", "Wren")


def test_a_fitting_that_is_not_there_is_said_so(capsys: pytest.CaptureFixture[str]) -> None:
    assert refused(capsys, "export", "nothing") == "there are no records yet"

    new_token(capsys)
    assert refused(capsys, "export", "nothing").startswith("There is no such fitting")


def test_an_account_gets_its_passphrase_from_standard_input(
    url: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys, "stdin", io.StringIO("four words in a row\n"))

    printed(capsys, "account", "--role", "manager", "--name", "Mara")

    with closing(open_database(url)) as database:
        account = account_named(database, "Mara")
        assert account is not None
        assert check_passphrase(database, "mara", "four words in a row") == account


def test_without_https_only_this_machine_is_served(capsys: pytest.CaptureFixture[str]) -> None:
    assert "only on this machine" in refused(capsys, "serve", "--host", "0.0.0.0")

"""`serve`: wrong settings and a taken address are said in one line, and being stopped leaves nothing behind."""

import os
import signal
import socket
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import pytest

from app.__main__ import main
from app.commands import settings_read
from app.records.location import Location

ROOT = Path(__file__).parent.parent.parent
LONG_ENOUGH_S = 30


@pytest.fixture(autouse=True)
def data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("CHAIR_TO_BENCH_DATA", str(tmp_path / "data"))
    return tmp_path / "data"


def refused(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    assert main(list(arguments)) == 2
    out, err = capsys.readouterr()
    assert (out, err.count("\n")) == ("", 1)
    return err.strip()


@pytest.mark.parametrize("port", ["abc", "0", "70000", "", "80.5"])
@pytest.mark.parametrize("command", [("serve",), ("token", "--role", "manager", "--name", "M")])
def test_a_wrong_port_is_said_in_one_line(
    port: str, command: tuple[str, ...], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("CHAIR_TO_BENCH_PORT", port)

    line = refused(capsys, *command)

    assert line == f"CHAIR_TO_BENCH_PORT must be a whole number from 1 to 65535, not {port!r}"


def test_a_settings_file_that_is_no_text_is_said_in_one_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / ".env").write_bytes(b"CHAIR_TO_BENCH_HOST=\xff\xfe")
    monkeypatch.setitem(Location.model_config, "env_file", tmp_path / ".env")
    monkeypatch.setattr(settings_read, "BESIDE_THE_APP", tmp_path)

    assert refused(capsys, "serve") == f"{tmp_path / '.env'}: is not UTF-8 text at byte 20"


def test_a_database_that_is_no_address_is_said_in_one_line(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("CHAIR_TO_BENCH_DATABASE", "the old laptop")

    assert "must name an SQLite file" in refused(capsys, "serve")


@contextmanager
def taken_port() -> Iterator[int]:
    with closing(socket.socket()) as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        yield other.getsockname()[1]


def test_a_port_in_use_is_said_in_one_line_and_no_address_is_printed(
    capsys: pytest.CaptureFixture[str],
) -> None:
    with taken_port() as port:
        line = refused(capsys, "serve", "--port", str(port))

    assert line.startswith(f"127.0.0.1, port {port}: cannot be used")
    assert "--port" in line


@pytest.mark.skipif(os.name == "nt", reason="Windows has no such signal to send")
def test_a_server_that_is_told_to_stop_tidies_up(data: Path) -> None:
    with taken_port() as port:
        pass
    command = [sys.executable, "-m", "app", "serve", "--port", str(port)]
    with subprocess.Popen(
        command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    ) as server:
        assert server.stdout is not None
        assert server.stdout.readline().startswith(f"Chair to Bench: http://127.0.0.1:{port} ")
        # the address is announced only once calls are heard there
        with closing(socket.create_connection(("127.0.0.1", port), timeout=LONG_ENOUGH_S)) as caller:
            caller.sendall(b"GET /health HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n")
            assert caller.recv(15) == b"HTTP/1.1 200 OK"
        assert (data / "chair-to-bench.sqlite.commands").exists()
        server.send_signal(signal.SIGTERM)
        _, errors = server.communicate(timeout=LONG_ENOUGH_S)

    assert (server.returncode, errors) == (0, "")
    left = sorted(file.name for file in data.iterdir())
    # no secret, no write-ahead log: what was in it is in the file (sqlite.org/wal.html, section 2.2)
    assert left == ["chair-to-bench.sqlite", "chair-to-bench.sqlite.lock"]

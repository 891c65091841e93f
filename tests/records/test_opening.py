"""Opening the records: one server, one owner, a disk of one's own; everything else is refused in words."""

import errno
import os
import subprocess
import sys
from pathlib import Path

import pytest

from app.records.database import Database, open_database
from app.records.errors import (
    StoreDamaged,
    StoreInUse,
    StoreProblem,
    StoreReadOnly,
)
from app.records.file_systems import network_file_system
from tests.records.conftest import url_of


def test_a_second_server_on_the_same_data_refuses_in_words(tmp_path: Path) -> None:
    file = tmp_path / "practice.sqlite"
    first = open_database(url_of(file), exclusive=True)
    program = (
        "import sys; from app.records.database import open_database as o; o(sys.argv[1], exclusive=True)"
    )

    second = subprocess.run(
        [sys.executable, "-c", program, url_of(file)], capture_output=True, text=True, check=False
    )

    assert second.returncode != 0
    assert f"already runs on these data (process {os.getpid()})" in second.stderr
    with pytest.raises(StoreInUse, match="Only one server"):
        open_database(url_of(file), exclusive=True)
    first.close()
    open_database(url_of(file), exclusive=True).close()


def test_the_files_are_readable_by_their_owner_alone(tmp_path: Path) -> None:
    if os.name == "nt":
        pytest.skip("Windows keeps rights in another way")
    file = tmp_path / "data" / "practice.sqlite"

    open_database(url_of(file)).close()

    assert file.stat().st_mode & 0o077 == 0
    assert file.parent.stat().st_mode & 0o077 == 0


def test_a_file_that_is_no_database_is_not_touched(tmp_path: Path) -> None:
    file = tmp_path / "practice.sqlite"
    file.write_bytes(b"a letter to the bench, not a database" * 200)
    before = file.read_bytes()

    with pytest.raises(StoreDamaged, match="restore the latest verified backup"):
        open_database(url_of(file))

    assert file.read_bytes() == before


@pytest.mark.parametrize(
    "url", ["sqlite://", "sqlite:///:memory:", "postgresql://practice/records", "the old laptop"]
)
def test_a_place_that_cannot_hold_records_is_refused_with_an_example(url: str) -> None:
    with pytest.raises(StoreProblem, match=r"such as sqlite:////data/practice\.sqlite"):
        Database(url)


def test_a_folder_that_cannot_be_made_is_said_in_words(tmp_path: Path) -> None:
    (tmp_path / "data").write_text("a file where the folder should be")

    with pytest.raises(StoreReadOnly, match="folder's permissions"):
        open_database(url_of(tmp_path / "data" / "practice.sqlite"))


def test_a_write_protected_disk_is_said_in_words(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = tmp_path / "practice.sqlite"
    open_database(url_of(file)).close()

    def refuse(*_: object, **__: object) -> None:
        raise OSError(errno.EROFS, os.strerror(errno.EROFS))  # as on a disk mounted read-only, open(2)

    monkeypatch.setattr("app.records.store_lock.open", refuse, raising=False)
    with pytest.raises(StoreReadOnly, match="write-protected"):
        open_database(url_of(file), exclusive=True)


@pytest.mark.parametrize(
    ("folder", "kind"),
    [("/srv/practice", "nfs4"), ("/srv/practice/data", "nfs4"), ("/srv", None), ("/mnt/till 2/data", "cifs")],
)
def test_a_network_drive_is_known_as_one(tmp_path: Path, folder: str, kind: str | None) -> None:
    # The form of /proc/mounts: proc(5), fstab(5); a space in a place is written as octal 040.
    mounts = tmp_path / "mounts"
    mounts.write_text(
        "/dev/sda1 / ext4 rw 0 0\n"
        "box:/practice /srv/practice nfs4 rw 0 0\n"
        "//till/share /mnt/till\\0402 cifs rw 0 0\n"
    )

    assert network_file_system(Path(folder), mounts) == kind


def test_data_on_a_network_drive_are_refused_in_words(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("app.records.database.network_file_system", lambda folder: "nfs4")

    with pytest.raises(StoreProblem, match="on this computer's own disk"):
        open_database(url_of(tmp_path / "practice.sqlite"))


@pytest.mark.parametrize("named", ["/data/x.sqlite", "practice.sqlite", "postgresql://practice", "sqlite://"])
def test_a_database_that_is_not_named_as_an_sqlite_file_is_said_in_one_line(named: str) -> None:
    with pytest.raises(StoreProblem, match="must name an SQLite file, such as sqlite:///") as refusal:
        open_database(named)

    assert "\n" not in str(refusal.value)

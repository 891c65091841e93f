"""A lock file beside the database, so that a second server on the same data refuses to start."""

import errno
import os
from pathlib import Path
from typing import IO

from app.records.errors import StoreFull, StoreInUse, StoreReadOnly


class StoreLock:
    """Held from `take` until `release`, or until the process ends, however it ends."""

    def __init__(self, database_file: Path) -> None:
        self._path = database_file.with_name(database_file.name + ".lock")
        self._file: IO[str] | None = None

    def take(self) -> None:
        """Take the lock, or raise StoreInUse naming the process that has it."""
        try:
            file = open(self._path, "a+", encoding="utf-8")  # noqa: SIM115 - open as long as the lock is held
        except OSError as error:
            raise (StoreFull() if error.errno == errno.ENOSPC else StoreReadOnly()) from error
        if not _lock(file):
            file.seek(0)
            holder = file.read().strip() or "unknown"
            file.close()
            raise StoreInUse(
                f"Chair to Bench already runs on these data (process {holder}). "
                "Only one server may write them: stop that one first, or use it."
            )
        file.truncate(0)
        file.write(str(os.getpid()))
        file.flush()
        self._file = file

    def release(self) -> None:
        """Let the next one in."""
        if self._file is not None:
            self._file.close()
            self._file = None


def _lock(file: IO[str]) -> bool:
    """Lock without waiting; False where somebody else holds it."""
    try:
        if os.name == "nt":
            import msvcrt  # only there

            # One byte far behind the text, since a locked byte cannot even be read by others there.
            file.seek(1_000_000)
            getattr(msvcrt, "locking")(file.fileno(), getattr(msvcrt, "LK_NBLCK"), 1)  # noqa: B009
        else:
            import fcntl  # only elsewhere

            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True

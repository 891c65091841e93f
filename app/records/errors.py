"""What can go wrong with the records, each with words for the person and a next step."""

from app.records.field_value import FieldValue


class RecordsError(Exception):
    """The records refused or could not do something; its text is fit for the screen."""


class NotFound(RecordsError):
    """There is no such person, fitting, reading, account …"""

    def __init__(self, what: str = "record") -> None:
        super().__init__(f"There is no such {what} here. It may have been opened from an old address.")


class Conflict(RecordsError):
    """Somebody else changed the same thing meanwhile. `fields` shows what stands there now; nothing was stored."""

    def __init__(self, fields: dict[str, FieldValue]) -> None:
        self.fields = fields
        if not fields:
            super().__init__("Something was entered since this page was made. Look at it again, then decide.")
            return
        who = ", ".join(sorted({value.by for value in fields.values() if value.by})) or "Somebody else"
        super().__init__(f"{who} changed this meanwhile. Both values are shown: choose which one is right.")


class Frozen(RecordsError):
    """The fitting is signed off; a change needs a new version with a reason."""

    def __init__(self) -> None:
        super().__init__("This fitting is signed off. To change it, open a new version and give the reason.")


class KeyReused(RecordsError):
    """One idempotency key came with two different requests."""

    def __init__(self) -> None:
        super().__init__(
            "This was sent under the mark of an earlier, different entry. Please enter it again."
        )


class NotAllowed(RecordsError):
    """The role does not include this."""


class NotStorable(RecordsError, ValueError):
    """A value that cannot be kept as it is: too long, too large, finer than the store keeps, or not text.

    `place` names the part of what was sent, where it is known.
    """

    def __init__(self, words: str, *, place: str = "") -> None:
        super().__init__(words)
        self.place = place


class AlreadyUsed(RecordsError):
    """A reference or a sign-in name that somebody else has."""


class StoreProblem(RecordsError):
    """The database itself cannot do its work now. What was acknowledged before is safe."""


class StoreBusy(StoreProblem):
    """Another writer holds the database longer than we wait."""

    def __init__(self) -> None:
        super().__init__("The database is busy. Nothing was stored; please try again in a moment.")


class StoreFull(StoreProblem):
    """No room on the disk."""

    def __init__(self) -> None:
        super().__init__(
            "The disk of the practice's computer is full. This was not stored; "
            "free some space, then try again. Everything stored before is safe."
        )


class StoreReadOnly(StoreProblem):
    """The file or its folder cannot be written."""

    def __init__(self) -> None:
        super().__init__(
            "The data folder cannot be written. This was not stored; "
            "check the folder's permissions and that its disk is not write-protected."
        )


class StoreNotOpened(StoreProblem):
    """The file cannot be opened, most often since its folder cannot be written, which even reading needs."""

    def __init__(self) -> None:
        super().__init__(
            "The database file cannot be opened. Nothing was stored; check that it is still there, that its "
            "folder may be written by this user, and that its disk is not write-protected (mounted read-only)."
        )


class StoreFailed(StoreProblem):
    """The disk gave an error."""

    def __init__(self) -> None:
        super().__init__(
            "The disk gave an error. This was not stored; check the disk and its cable, "
            "and keep the latest backup at hand."
        )


class StoreDamaged(StoreProblem):
    """The file is not intact: nothing more is written to it."""

    def __init__(self) -> None:
        super().__init__(
            "The database file is damaged. Nothing more is written to it; stop the server, "
            "keep the file as it is, and restore the latest verified backup."
        )


class StoreInUse(StoreProblem):
    """Another server works on the same data."""


class StoreTooNew(StoreProblem):
    """The data were written by a newer version of the app."""

    def __init__(self, revision: str) -> None:
        super().__init__(
            f"These data were written by a newer version of Chair to Bench (form {revision}). "
            "Update the app, or restore a backup made by this version."
        )

"""The settings of this installation for a command: refused in one line that names the one that is wrong."""

from pydantic import ValidationError

from app.commands.refusal import Refused, one_line
from app.records.location import BESIDE_THE_APP, Location

PREFIX = "CHAIR_TO_BENCH_"
EXPECTED = {"port": "must be a whole number from 1 to 65535"}


def location() -> Location:
    """Where the data are and where the server listens. Raises Refused."""
    try:
        return Location()
    except ValidationError as error:
        first = error.errors()[0]
        name = str(first["loc"][0]) if first["loc"] else "settings"
        expected = EXPECTED.get(name, one_line(first["msg"]))
        raise Refused(f"{PREFIX}{name.upper()} {expected}, not {str(first['input'])!r}") from None
    except UnicodeDecodeError as error:
        raise Refused(f"{BESIDE_THE_APP / '.env'}: is not UTF-8 text at byte {error.start}") from None
    except OSError as error:
        raise Refused(f"{BESIDE_THE_APP / '.env'}: cannot be read: {error.strerror}") from None

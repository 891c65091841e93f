"""`explain`: one check's page, or the list of all checks."""

import sys
from difflib import get_close_matches

from app.commands.refusal import Refused
from app.plausibility.explain import NoSuchCheck, list_of_checks
from app.plausibility.explain import explain as page_of
from app.plausibility.families import CHECKS


def explain(name: str | None) -> None:
    """Prints the page of one check, or every check by name where none is named. Raises Refused."""
    if name is None:
        sys.stdout.write(list_of_checks() + "\n")
        return
    try:
        sys.stdout.write(page_of(name) + "\n")
    except NoSuchCheck:
        close = get_close_matches(name, list(CHECKS), n=1)
        offer = f"; {close[0]}?" if close else "; `explain` alone lists them"
        raise Refused(f"there is no check called {name}{offer}") from None

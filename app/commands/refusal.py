"""A command that cannot do what was asked: one line for the person at the keyboard, exit status 2."""


class Refused(Exception):
    """Printed as one line on standard error."""


def one_line(error: BaseException | str) -> str:
    """The words of an error on one line."""
    return " ".join(str(error).split())

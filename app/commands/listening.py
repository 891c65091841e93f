"""Listening on this machine: the address is taken before it is announced, and stopping always tidies up."""

import signal
import socket
import sys
from collections.abc import Iterator
from contextlib import closing, contextmanager
from types import FrameType

import uvicorn
from fastapi import FastAPI

from app.commands.refusal import Refused

WAITING_CALLS = 2048
"""Calls that wait until the server answers its first; what uvicorn asks for itself."""
STOPS = tuple(getattr(signal, name) for name in ("SIGTERM", "SIGHUP", "SIGBREAK") if hasattr(signal, name))
"""How a service manager, a closed window or a console asks a program to stop; Ctrl-C raises by itself."""


@contextmanager
def listening(host: str, port: int) -> Iterator[socket.socket]:
    """A socket that listens at that address, so that calls wait rather than fail. Raises Refused."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    with closing(socket.socket(family)) as taken:
        if sys.platform != "win32":  # there it would let two programs have one address
            taken.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            taken.bind((host, port))
            taken.listen(WAITING_CALLS)
        except OSError as error:
            raise Refused(
                f"{host}, port {port}: cannot be used ({error.strerror}); another program may have it."
                " Choose another with --port or CHAIR_TO_BENCH_PORT"
            ) from None
        yield taken


@contextmanager
def stopping_tidily() -> Iterator[None]:
    """While this lasts, being asked to stop ends the program through every clean-up, with exit status 0."""
    before = {one: signal.signal(one, _stop) for one in STOPS}
    try:
        yield
    finally:
        for one, handler in before.items():
            signal.signal(one, handler)


def answer_until_stopped(application: FastAPI, taken: socket.socket) -> None:
    """Answers what comes in until the program is asked to stop."""
    configured = uvicorn.Config(application, log_level="warning", server_header=False)
    uvicorn.Server(configured).run(sockets=[taken])


def _stop(_number: int, _frame: FrameType | None) -> None:
    raise SystemExit(0)

"""Things made from rows, kept until their rows change: the same fitting is asked for again and again."""

import threading
from collections import OrderedDict
from typing import Generic, TypeVar

Thing = TypeVar("Thing")

MOST = 64
"""Fittings in use at one moment in a busy practice, several times over."""


class Kept(Generic[Thing]):
    """The latest things by key, each good only for the revision of the rows that it was made from."""

    def __init__(self, most: int = MOST) -> None:
        self._most = most
        self._things: OrderedDict[str, tuple[object, Thing]] = OrderedDict()
        self._lock = threading.Lock()

    def get(self, key: str, revision: object) -> Thing | None:
        """The thing of that key where it was made from that revision, else None."""
        with self._lock:
            made_from, thing = self._things.get(key, (None, None))
            if thing is None or made_from != revision:
                return None
            self._things.move_to_end(key)
            return thing

    def keep(self, key: str, revision: object, thing: Thing) -> None:
        """Keep the thing in the place of an older one; the one not asked for longest makes room."""
        with self._lock:
            self._things[key] = (revision, thing)
            self._things.move_to_end(key)
            while len(self._things) > self._most:
                self._things.popitem(last=False)

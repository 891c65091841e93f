"""The forms of worked example: which adapter turns the inputs of a case into the values that it expects.

A form is a topic with the set of names of its inputs. An adapter takes the inputs as keyword arguments and
answers with a mapping of names to numbers or words; it may answer more than a case asks for.
"""

from collections.abc import Callable, Mapping
from typing import Any

Answer = Mapping[str, Any]
Adapter = Callable[..., Answer]
Form = tuple[str, frozenset[str]]
ADAPTERS: dict[Form, Adapter] = {}


def form(topic: str, *names: str) -> Callable[[Adapter], Adapter]:
    """Enter the decorated function as the adapter of one form."""

    def enter(adapter: Adapter) -> Adapter:
        key = (topic, frozenset(names))
        assert key not in ADAPTERS, f"two adapters for {key}"
        ADAPTERS[key] = adapter
        return adapter

    return enter

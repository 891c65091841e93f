"""Whatever stands in a file, it is read or refused with its place: nothing else can happen."""

import json
from copy import deepcopy
from pathlib import Path
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from app.fitting.fitting_file import NotAFitting, read_fitting, read_fitting_text, write_fitting

EXAMPLE: dict[str, Any] = json.loads((Path(__file__).parent / "example.json").read_text())

anything = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3),
    max_leaves=5,
)


def places(document: Any, place: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Every place of a document, as the keys and numbers that lead there."""
    entries: list[tuple[Any, Any]] = []
    if isinstance(document, dict):
        entries = list(document.items())
    if isinstance(document, list):
        entries = list(enumerate(document))
    return [place] * bool(place) + [one for key, value in entries for one in places(value, (*place, key))]


@settings(max_examples=300, deadline=None)
@given(st.sampled_from(places(EXAMPLE)), anything)
def test_a_file_with_anything_at_any_place_is_read_or_refused(place: tuple[Any, ...], put: Any) -> None:
    document = deepcopy(EXAMPLE)
    holder: Any = document
    for step in place[:-1]:
        holder = holder[step]
    holder[place[-1]] = put

    try:
        fitting = read_fitting(document)
    except NotAFitting as refusal:
        line = str(refusal)
    else:
        assert read_fitting(write_fitting(fitting)) == fitting
        return
    assert line.startswith(place[0])
    assert "\n" not in line


@given(st.binary(max_size=60) | st.text(max_size=60))
def test_any_text_is_read_or_refused(content: bytes | str) -> None:
    try:
        read_fitting_text(content)
    except NotAFitting as refusal:
        line = str(refusal)
    assert line
    assert len(line.splitlines()) == 1

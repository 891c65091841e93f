"""The examples in the docstrings of the fitting and of the order hold."""

import doctest
from types import ModuleType

import pytest

from app.fitting import (
    entry,
    field_paths,
    field_text,
    file_place,
    schema_words,
    working,
    written_number,
)
from app.frame import ordered_dimension, ordered_geometry


@pytest.mark.parametrize(
    "module",
    [
        entry,
        field_paths,
        field_text,
        file_place,
        schema_words,
        working,
        written_number,
        ordered_dimension,
        ordered_geometry,
    ],
    ids=lambda module: module.__name__,
)
def test_the_examples_of_a_module_hold(module: ModuleType) -> None:
    result = doctest.testmod(module)

    assert result.attempted > 0
    assert result.failed == 0

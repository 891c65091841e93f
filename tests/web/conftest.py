"""One practice for each test of the pages."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.web.practice import Practice, open_practice


@pytest.fixture
def practice(tmp_path: Path) -> Iterator[Practice]:
    """An empty practice with one account for each role."""
    yield from open_practice(tmp_path)

"""The example's books, built once for all tests that only look at them."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from ledger.books.books import Books
from tests.example.reading import Example
from tests.workshop_example import EXAMPLE_DAY, open_example


@pytest.fixture(scope="session")
def books(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Books]:
    """The books on their last day, 25 November 2026."""
    opened = open_example(tmp_path_factory.mktemp("example") / "books", EXAMPLE_DAY)
    yield opened
    opened.close()


@pytest.fixture(scope="session")
def example(books: Books) -> Example:
    return Example(books)

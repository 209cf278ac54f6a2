"""Tests of the rooms may be coroutines; each has books of its own."""

from __future__ import annotations

import asyncio
import inspect
import shutil
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

import pytest

from ledger.books.books import Books
from tests.screens.small_books import TODAY, Build, begin_empty, begin_small, begin_taxed, built
from tests.workshop import reopened

OpenBooks = Callable[..., Books]


@pytest.hookimpl(tryfirst=True)
def pytest_pyfunc_call(pyfuncitem: pytest.Function) -> bool | None:
    """Run a test that is a coroutine in an event loop of its own."""
    if not inspect.iscoroutinefunction(pyfuncitem.obj):
        return None
    names = inspect.signature(pyfuncitem.obj).parameters
    asyncio.run(pyfuncitem.obj(**{name: pyfuncitem.funcargs[name] for name in names}))
    return True


@pytest.fixture
def open_copy(tmp_path: Path) -> Iterator[OpenBooks]:
    """Open a copy of books, by the function that builds them; another copy with each call. Closed in the end."""
    opened: list[Books] = []

    def open_one(build: Build, day: date = TODAY) -> Books:
        folder = tmp_path / f"copy-{len(opened)}" / "books"
        shutil.copytree(built(build), folder)
        opened.append(reopened(folder, day))
        return opened[-1]

    yield open_one
    for books in opened:
        books.close()


@pytest.fixture
def books(open_copy: OpenBooks) -> Books:
    """The small workshop, with something in every room."""
    return open_copy(begin_small)


@pytest.fixture
def with_prices(open_copy: OpenBooks) -> Books:
    """Rates, answers and prices; no job and no receipt yet."""
    return open_copy(begin_taxed)


@pytest.fixture
def empty_books(open_copy: OpenBooks) -> Books:
    """Begun today, nothing in them."""
    return open_copy(begin_empty)

"""Folders of books that the commands begin once; each test has a copy of its own."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.commands.desk import Desk
from tests.commands.workshop import begin_rules, begin_workshop

Build = Callable[[Desk], None]


@pytest.fixture(scope="session")
def begun_once(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """Folders that were begun already, by name."""
    return {}


@pytest.fixture
def begun(
    begun_once: dict[str, Path],
    tmp_path_factory: pytest.TempPathFactory,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> Callable[[Build], Desk]:
    """A desk at a copy of books that are begun the first time they are asked for."""

    def at(build: Build) -> Desk:
        name = build.__name__
        if name not in begun_once:
            folder = tmp_path_factory.mktemp(name) / "books"
            build(Desk(folder, capsys))
            begun_once[name] = folder
        shutil.copytree(begun_once[name], tmp_path / name / "books")
        return Desk(tmp_path / name / "books", capsys)

    return at


@pytest.fixture
def desk(begun: Callable[[Build], Desk]) -> Desk:
    """The workshop with jobs in every state."""
    return begun(begin_workshop)


@pytest.fixture
def with_rules(begun: Callable[[Build], Desk]) -> Desk:
    """Books with rates, answers and prices, and nothing else."""
    return begun(begin_rules)


@pytest.fixture
def empty_desk(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Desk:
    """A desk at a folder that holds no books yet."""
    return Desk(tmp_path / "books", capsys)

"""What may import what is written in pyproject.toml; these tests hold it and show that it bites."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from tests.structure.tree import CHECKOUT, files_in, text_of

LAYERS = ("screens", "actions", "jobs", "spending", "taxes", "books")
LINT = "from importlinter.cli import lint_imports_command as lint; lint(['--no-cache'])"


def test_the_import_contracts_are_kept() -> None:
    checked = check_contracts(CHECKOUT)
    assert checked.returncode == 0, checked.stdout


def test_every_part_of_ledger_has_its_layer() -> None:
    contracts = tomllib.loads(text_of(Path("pyproject.toml")))["tool"]["importlinter"]["contracts"]
    layers = next(contract["layers"] for contract in contracts if contract["type"] == "layers")
    named = set(re.findall(r"[\w.]+", " ".join(layers)))
    parts = {f"ledger.{path.parts[1].removesuffix('.py')}" for path in files_in("ledger") if path.name != "__init__.py"}
    assert parts - named == set()


@pytest.mark.parametrize(
    ("place", "line"),
    [
        ("ledger/screens/__init__.py", "from textual.app import App"),
        ("ledger/books/__init__.py", "import sqlite3, sqlite_utils"),
        ("checklists/__init__.py", "import ledger.books, ledger.money"),
        ("ledger/actions/__init__.py", "import checklists, ledger.jobs, ledger.spending"),
    ],
)
def test_an_import_that_the_layers_permit_breaks_nothing(place: str, line: str, tmp_path: Path) -> None:
    lay_out_empty_layers(tmp_path)
    (tmp_path / place).write_text(f"{line}\n", encoding="utf-8")
    checked = check_contracts(tmp_path)
    assert checked.returncode == 0, checked.stdout


@pytest.mark.parametrize(
    ("place", "line", "contract"),
    [
        ("ledger/errors.py", "import ledger.money", "layers below"),
        ("ledger/money.py", "from ledger import books", "layers below"),
        ("ledger/taxes/__init__.py", "import checklists", "layers below"),
        ("checklists/__init__.py", "import ledger.taxes", "layers below"),
        ("ledger/jobs/__init__.py", "import ledger.spending", "layers below"),
        ("ledger/actions/__init__.py", "import ledger.screens", "layers below"),
        ("ledger/money.py", "import sqlite3", "open the database"),
        ("ledger/screens/__init__.py", "import sqlite_utils", "open the database"),
        ("checklists/__init__.py", "import sqlite3", "open the database"),
        ("ledger/actions/__init__.py", "from textual.app import App", "terminal library"),
    ],
)
def test_a_forbidden_import_breaks_its_contract(place: str, line: str, contract: str, tmp_path: Path) -> None:
    lay_out_empty_layers(tmp_path)
    (tmp_path / place).write_text(f"def broken() -> None:\n    {line}\n", encoding="utf-8")
    checked = check_contracts(tmp_path)
    broken = [name for name in checked.stdout.splitlines() if "BROKEN" in name]
    assert checked.returncode == 1
    assert len(broken) == 1
    assert contract in broken[0]


def lay_out_empty_layers(folder: Path) -> None:
    """The contracts, and for them a tree of packages in which nothing imports anything."""
    shutil.copy(CHECKOUT / "pyproject.toml", folder)
    for package in ("ledger", "checklists", *(f"ledger/{layer}" for layer in LAYERS)):
        (folder / package).mkdir()
        (folder / package / "__init__.py").touch()
    for module in ("errors", "money"):
        (folder / "ledger" / f"{module}.py").touch()


def check_contracts(folder: Path) -> subprocess.CompletedProcess[str]:
    """Run the contracts of the tree in this folder, which stands first on the path."""
    command = [sys.executable, "-c", f"import sys; sys.path.insert(0, {str(folder)!r}); {LINT}"]
    return subprocess.run(command, cwd=folder, capture_output=True, encoding="utf-8", check=False)

"""What a person installs is whole: every data file is in the wheel, and it works where there is no checkout."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from tests.structure.tree import CHECKOUT, project_files

PROGRAM = ".exe" if os.name == "nt" else ""
NOT_FOR_PEOPLE = {"hypothesis", "mypy", "numpy", "pypdf", "pytest", "ruff"}


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel of this checkout, built by the pinned hatchling without reaching outside."""
    folder = tmp_path_factory.mktemp("wheel")
    run([sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", folder, CHECKOUT], folder)
    (built,) = folder.glob("*.whl")
    return built


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory, outside: dict[str, str]) -> Path:
    """The folder of commands of a fresh environment in which nothing but the wheel and its requirements stands."""
    folder = tmp_path_factory.mktemp("fresh")
    run([sys.executable, "-m", "venv", "--without-pip", folder], folder)
    pip: list[str | Path] = [sys.executable, "-m", "pip", "--python", folder, "install", "--quiet"]
    run([*pip, "--constraint", CHECKOUT / "constraints.txt", wheel], folder, outside)
    return folder / ("Scripts" if os.name == "nt" else "bin")


def test_every_file_of_the_packages_is_in_the_wheel(wheel: Path) -> None:
    belonging = {path.as_posix() for path in project_files() if path.parts[0] in ("ledger", "checklists")}
    with zipfile.ZipFile(wheel) as archive:
        packed = {name for name in archive.namelist() if ".dist-info/" not in name}
    assert packed == belonging


def test_the_wheel_names_the_command_and_carries_the_licence(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        names = [name for name in archive.namelist() if ".dist-info/" in name]
        about = {name.split("/", 1)[1]: archive.read(name).decode() for name in names}
    assert "twopurse = ledger.cli:main" in about["entry_points.txt"]
    assert "MIT License" in about["licenses/LICENSE"]


@pytest.mark.slow
def test_an_installed_copy_begins_books_and_proves_them(installed: Path, tmp_path: Path) -> None:
    books = tmp_path / "books"
    command: list[str | Path] = [installed / f"twopurse{PROGRAM}", "--books", books, "--json"]
    begun = json.loads(run([*command, "new", "--name", "Cedar Street Quilting"], tmp_path))
    proved = json.loads(run([*command, "prove"], tmp_path))
    guide = json.loads(run([*command, "guide", "words"], tmp_path))
    assert Path(begun["books"]).samefile(books)
    assert begun["accounts"]
    assert proved["ok"] is True
    assert guide["text"].startswith("# Words")
    assert (books / "books.sqlite3").is_file()


@pytest.mark.slow
def test_an_installed_copy_is_not_the_checkout_and_brings_only_what_it_needs(installed: Path, tmp_path: Path) -> None:
    code = "import ledger, checklists, importlib.metadata as m, json; print(json.dumps([ledger.__file__, "
    code += "checklists.__file__, m.version('twopurse'), [d.metadata['Name'].lower() for d in m.distributions()]]))"
    ledger, checklists, version, names = json.loads(run([installed / f"python{PROGRAM}", "-c", code], tmp_path))
    packages = installed.parent.resolve()
    assert all("site-packages" in Path(each).resolve().relative_to(packages).parts for each in (ledger, checklists))
    assert version == run([sys.executable, "-c", "import ledger; print(ledger.__version__)"], CHECKOUT).strip()
    assert NOT_FOR_PEOPLE.isdisjoint(names)


def run(command: list[str | Path], folder: Path, variables: dict[str, str] | None = None) -> str:
    """What the command printed, once it has ended well; in this folder, so that no checkout is near."""
    done = subprocess.run(command, cwd=folder, env=variables, capture_output=True, encoding="utf-8", check=False)
    assert done.returncode == 0, f"{command}\n{done.stdout}\n{done.stderr}"
    return done.stdout


@pytest.mark.slow
def test_an_installed_copy_opens_the_example_in_a_terminal_and_leaves_nothing_behind(
    installed: Path, tmp_path: Path
) -> None:
    pexpect = pytest.importorskip("pexpect")
    environment = {**os.environ, "TERM": "xterm-256color", "TMPDIR": str(tmp_path)}
    command = [str(installed / f"twopurse{PROGRAM}"), ["--demo", "--on", "2026-11-25"]]
    child = pexpect.spawn(*command, env=environment, cwd=str(tmp_path), dimensions=(24, 80), timeout=120)
    for words, key in (("Ninth Wren Quilting", "1"), ("pieces in the house", "2"), ("household checking", "\x11")):
        child.expect(words)
        child.send(key)
    child.expect(pexpect.EOF)
    child.close()
    assert child.exitstatus == 0
    assert list(tmp_path.iterdir()) == []
